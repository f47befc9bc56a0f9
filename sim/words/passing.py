"""How many passes they string together, in a sentence: the middle run, what is seldom passed, the share that gets there."""

from __future__ import annotations

import math

from sim.game.model import Game
from sim.measures.asked import asked_of
from sim.measures.sessions import sides_of
from sim.results import Measure, Result
from sim.words.figures import of_ten, percent, present, rounded, two, usual


def short(result: Result, game: Game) -> str:
    """One line for the small screen: how many together, and how often what the game asks for, else what is seldom passed.

    Of the side that is asked for passes, if it is one alone, else of all.
    """
    asked = passes_asked(game)
    side, scope = whose(result, game, list(asked))
    middle, long, share = (result.row(f"pass_run_{name}", scope) for name in ("median", "p80", "share_reaching"))
    if middle.mean is None:
        return ""
    text = f"{side} {strung_together(middle)}"
    if share.mean is not None:
        return f"{text.replace(' together', '')} and get to {passes_wanted(asked)} {of_ten(share.mean)}."
    if long.mean is not None and rounded(long.mean) != rounded(middle.mean):
        return f"{text}, one in five over {rounded(long.mean)}."
    return f"{text}."


def passing(result: Result, game: Game) -> list[str]:
    """For the details: the same, with the figures behind it."""
    asked = passes_asked(game)
    side, scope = whose(result, game, list(asked))
    middle, long = result.row("pass_run_median", scope), result.row("pass_run_p80", scope)
    if middle.mean is None:
        return []
    text = f"{side} {strung_together(middle)}"
    if long.mean:
        text += f"; one time in five more than {rounded(long.mean)}"
    lines = [f"{text}."]
    share = result.row("pass_run_share_reaching", scope)
    if share.mean is not None:
        often = f"{percent(share.mean)}{usual(share.session_low, share.session_high, percent, share.mean)}"
        lines.append(
            f"They get to the {passes_wanted(asked)} that the game asks for with {often} of the balls they have."
        )
    return lines


def passes_asked(game: Game) -> dict[str, float]:
    """The passes that are asked of each side, where any are."""
    asked = {side: asked_of(game, side) for side in sorted(sides_of(game))}
    return {side: passes for side, passes in asked.items() if not math.isnan(passes)}


def passes_wanted(asked: dict[str, float]) -> str:
    """``8``, ``6 or 8`` where sides are asked for different numbers."""
    return " or ".join(f"{passes:g}" for passes in dict.fromkeys(asked.values()))


def strung_together(middle: Measure) -> str:
    """``string about 9 passes together (usually 6 to 13)``, ``complete no pass at all``."""
    passes = rounded(present(middle.mean))
    usually = usual(middle.session_low, middle.session_high, rounded, middle.mean)
    if passes == "0":
        return "mostly complete no pass at all"
    return f"string about {passes} {'pass' if passes == '1' else 'passes'} together{usually}"


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
    text = f"{two(row.mean)}{usual(row.session_low, row.session_high, mean=row.mean)}"
    return [
        f"If neither the whistle nor a rule cut a run short, they would make {text} passes for each loss, on average."
    ]
