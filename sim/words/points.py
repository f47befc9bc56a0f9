"""Who can get points and who cannot, and what holds when they are level: told wherever points are counted."""

from __future__ import annotations

from sim.game.family import sides_at_start
from sim.game.having import sides_scoring
from sim.game.model import Game
from sim.game.verbs import OpenWindow, Score, Swap
from sim.words.edge_cases import DRAW
from sim.words.listing import capital, listed, number, some, time
from sim.words.who import side_called

STROKES = 10 * "."


def points_counted(game: Game) -> bool:
    """Whether any rule gives points."""
    return any(isinstance(action, Score) for phase in game.phases for rule in phase.rules for action in rule.do)


def cannot_score(game: Game) -> list[str]:
    """Sides that no rule ever gives a point, and what they play for where a rule says so; nothing where nobody scores."""
    if not points_counted(game):
        return []
    scoring = sides_scoring(game)
    left = [side for side, many in sides_at_start(game).items() if many and side not in scoring]
    if not left:
        return []
    out = all(_come_out(game, side) for side in left)
    opened = [
        action for phase in game.phases for rule in phase.rules for action in rule.do if isinstance(action, OpenWindow)
    ]
    keep = f" and keep it {_until(opened[0])}" if len(set(opened)) == 1 else ""
    return [
        f"{listed([side_called(game, side) for side in left])} cannot score{f': they win it{keep} to come out' if out else ''}"
    ]


def _until(window: OpenWindow) -> str:
    """Until when the others may win it back."""
    return f"for {time(window.length)}" if window.unit == "seconds" else f"for {some(window.length, 'pass')}"


def _come_out(game: Game, side: str) -> bool:
    """Whether players of a side come out for those who have lost it to them."""
    return any(
        isinstance(action, Swap)
        and action.who.startswith("loser")
        and action.other != "waiting"
        and not action.come_from
        for phase in game.phases
        for rule in phase.rules
        if rule.on in ("loss", "not won back") and rule.by != side
        for action in rule.do
    )


def level(game: Game) -> str:
    """What holds when they are level at the end of a bout; nothing where one side alone can score."""
    if game.bouts.level_seconds:
        return f"Level when time is up: the next point wins, within {time(game.bouts.level_seconds)}; then it's a draw."
    return DRAW if len(sides_scoring(game)) > 1 else ""


def in_strokes(game: Game) -> list[str]:
    """Room for the points of each side that can get some, who cannot, and what a level score is."""
    if not points_counted(game):
        return []
    scoring = sides_scoring(game)
    begun = dict(game.start_points)
    room = [
        f"{side_called(game, side).removeprefix('the ')}{f' (from {number(begun[side])})' if begun.get(side) else ''} {STROKES}"
        for side in scoring
    ]
    cannot = [f"{capital(one)}." for one in cannot_score(game)]
    ended = " ".join(one for one in [*cannot, level(game)] if one)
    return [f"Points, in strokes: {', '.join(room)}", *([ended] if ended else [])]
