"""How many passes they string together, in a sentence: the middle run, what is seldom passed, the share that gets there."""

from __future__ import annotations

import math

from sim.game.model import Game
from sim.measures.asked import asked_of
from sim.measures.sessions import sides_of
from sim.results import Result
from sim.words.figures import percent, ranged, two


def whole(value: float) -> str:
    return f"{value:.0f}"


def passing(result: Result, game: Game) -> list[str]:
    """Of the side that is asked for passes, if it is one alone, else of all."""
    asked = {side: asked_of(game, side) for side in sorted(sides_of(game))}
    asked = {side: passes for side, passes in asked.items() if not math.isnan(passes)}
    side, scope = whose(result, game, list(asked))
    middle, long = result.row("pass_run_median", scope), result.row("pass_run_p80", scope)
    if middle.mean is None:
        return []
    text = f"{side} usually {together(ranged(middle.mean, middle.session_low, middle.session_high, whole))}"
    if long.mean:
        text += f"; one time in five it is more than {whole(long.mean)}"
    lines = [f"{text}."]
    share = result.row("pass_run_share_reaching", scope)
    if share.mean is not None:
        wanted = " or ".join(f"{passes:g}" for passes in dict.fromkeys(asked.values()))
        often = ranged(share.mean, share.session_low, share.session_high, percent)
        lines.append(f"They get to the {wanted} that the game asks for in {often} of their possessions.")
    return lines


def together(passes: str) -> str:
    """``string about 9 (6-13) passes together``, ``complete no pass at all``."""
    if passes.split()[0] == "0":
        return "complete no pass at all"
    return f"string about {passes} {'pass' if passes == '1' else 'passes'} together"


def whose(result: Result, game: Game, asked: list[str]) -> tuple[str, str]:
    """(who, scope of the rows)."""
    if len(asked) == 1:
        scopes = [f"team:{team.name}" for team in game.teams if team.name == asked[0]]
        scopes += [f"role:{role.name}" for role in game.roles if role.side == asked[0]]
        known = {row.scope for row in result.rows("pass_run_median")}
        for scope in scopes:
            if scope in known:
                return asked[0].capitalize(), scope
    return "They", "game"


def corrected(result: Result) -> list[str]:
    """For the details: what runs would come to if nothing but a loss ended them."""
    row = result.row("pass_run_mean")
    if row.mean is None:
        return []
    text = ranged(row.mean, row.session_low, row.session_high, two)
    return [f"Corrected for runs that the whistle or a rule cuts short, the mean is {text} passes a possession lost."]
