"""What would change an answer, in one sentence: what the club has counted or measured, and what is known of better players."""

from __future__ import annotations

from sim.evidence.keepball.levels import BETTER, lost_beside
from sim.game.model import Game
from sim.results import Result
from sim.words.estimate_leads import LOSSES, METRES, Key

KEEP_BALL = ("overload keep-ball", "role swap")
"""Kinds of games that the kept squares speak of."""


def what_would_change(result: Result, game: Game, asked: Key | None = None) -> str:
    """The sentence; nothing where the answer's own cautions say it, or the club's own counts are in it already."""
    if result.provenance.own_data is not None:
        return ""
    if asked is not None and asked[0] in METRES:
        return f"What would change it: your own devices' metres, or players unlike the {result.population} drawn here."
    better = better_players(game) if asked is None or asked[0] in LOSSES else ""
    return f"Own counts would change it, or better players: {better}." if better else ""


def better_players(game: Game) -> str:
    """``elite men lose 35 % fewer passes``, by the kept squares; nothing where they say nothing of such a game."""
    levels = {team.population for team in game.teams}
    if game.family not in KEEP_BALL or len(levels) != 1:
        return ""
    level = levels.pop()
    ratio = lost_beside(level, BETTER[level]) if level in BETTER else None
    fewer = 0 if ratio is None else round(100 * (1 - ratio))
    return f"{BETTER[level]} lose {fewer} % fewer passes" if fewer > 0 else ""
