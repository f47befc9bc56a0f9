"""The small screen of what to count tonight: one or two counts, what each means, and for how many minutes."""

from __future__ import annotations

from sim.game.model import Game
from sim.own_counts.worth_counting import MOST_MINUTES, ToCount, Worth
from sim.words.by_hand import definitions
from sim.words.clocks import WATCH
from sim.words.commands import Given, try_next
from sim.words.figures import count, span, whole
from sim.words.listing import listed
from sim.words.losses import USUALLY
from sim.words.own_counts import MANY, minutes, whole_minutes
from sim.words.screen import fit_screen
from sim.words.setting_up import question_line

TOLD = {**MANY, "reached": "the times they get there"}
NAMED = 2
"""So many counts are put forward: one person with a pencil, who also watches."""
TOO_SHORT = "Tonight's bouts are too short for that: with them alone only what is further out shows."


def to_count_in_words(found: ToCount, game: Game, given: Given | None = None, unit: str = "m") -> str:
    """What `overload tally` prints where nothing has been counted yet."""
    named, others = found.counts[:NAMED], found.counts[NAMED:]
    beside = [f"Less telling here: {listed(with_minutes(one) for one in others)}."] if others else []
    told = dict(definitions(game))
    means = [told[one.measure] for one in named]
    short = [TOO_SHORT] if named and found.tonight < (named[0].minutes or 0) else []
    doing = short + try_next("the sheet to count on", given and given.about("sheet", ("--out", "sheet.pdf")))
    cautions = [*means, *found.cautions[:-1], USUALLY, found.cautions[-1]]
    return fit_screen(
        question_line(game, "what to count", unit), answer(found, named), beside, doing, cautions, flowing=True
    )


def answer(found: ToCount, named: tuple[Worth, ...]) -> list[str]:
    """The headline: what to count, for how long, what that shows; and the range of tonight."""
    telling = [one for one in named if one.minutes is not None]
    if not named:
        return ["Nothing to count: none of what is on the sheet happened in the bouts played."]
    if not telling:
        most = f"{MOST_MINUTES // 60} hours"
        return [
            f"Count {TOLD[named[0].measure]}, but one evening won't tell: even in {most} a game a third above or below the"
            " forecast could be just your players.",
            tonight(found, named),
        ]
    first, *second = telling
    head = f"Count {with_minutes(first)} {WATCH}, all in one evening"
    head += f"; for {TOLD[second[0].measure]} it takes {whole_minutes(second[0].minutes or 0)}." if second else "."
    return [head, "A game a third above or below the forecast then shows four times in five.", tonight(found, named)]


def with_minutes(one: Worth) -> str:
    """``losses for about 20 minutes``."""
    if one.minutes is None:
        return f"{TOLD[one.measure]} (no evening is long enough)"
    return f"{TOLD[one.measure]} for {whole_minutes(one.minutes)}"


def tonight(found: ToCount, named: tuple[Worth, ...]) -> str:
    """``In tonight's eight minutes: losses about 22 (usually 15 to 27)``."""
    told = [f"{TOLD[one.measure]} about {count(one.mean)} (usually {span(one.low, one.high, whole)})" for one in named]
    return f"In tonight's {minutes(found.tonight)}: {listed(told)}."
