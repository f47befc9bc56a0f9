"""The small screen of a comparison: how often they lose it with and without, how sure that is, what else changes."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.experiments.compare import CHANGED
from sim.experiments.comparison import Compared, Comparison
from sim.experiments.reduced import is_refused
from sim.game.model import Game
from sim.words.assumptions import own_assumptions
from sim.words.changes import phrase
from sim.words.clocks import ROLLING, WATCH
from sim.words.commands import Given, try_next
from sim.words.compare_details import (
    HOURS,
    bouts_to_know,
    columns,
    more_of,
    other_of,
    own_changes,
    row_of_losses,
    whole_minutes,
)
from sim.words.differences import counts, lost_a_bout, what_else
from sim.words.figures import present, two
from sim.words.screen import WIDTH, Screen, fit_screen
from sim.words.setting_up import question_line, spelt_time, time_of
from sim.words.tables import table

SURE = {
    "clear, matters": "a real difference, and a big one",
    "clear, size open": "a real difference, but how big isn't clear",
    "no difference that matters": "too close to call",
    "cannot tell": "could still be luck",
}
FULLY = SURE | {
    "no difference that matters": "too close to call: if there is a difference you would not notice",
    "cannot tell": "it could still be luck",
}
NOT_TOLD = "can't be told"
MORE_BOUTS = 4  # times as many halve the doubt
MINUTES = 60
MOST_PLACES = 2  # a hundredth of a loss a minute is one in an hour and a half


def compared_on_a_screen(found: Compared, games: Sequence[Game], given: Given | None = None, unit: str = "m") -> str:
    """`games`: the first, then that of every comparison; `given`: how the user asked; `unit`: what the file counts lengths in."""
    whole = whole_of_compared(found, games, given, unit)
    return fit_screen(
        whole.asked, whole.answer, whole.beside, whole.doing, whole.cautions, flowing=len(found.comparisons) == 1
    )


def whole_of_compared(found: Compared, games: Sequence[Game], given: Given | None = None, unit: str = "m") -> Screen:
    """All there is to say in a few sentences, whether or not it fits on a screen."""
    first, every = games[0], found.comparisons
    base = every[0]
    how_many = f"{base.bouts} bouts of {time_of(first.bouts.seconds)} of each"
    own = dict.fromkeys(line for one in every for line in one.cautions[:-1])
    foot = [*own, *own_assumptions(base.provenance.assumptions, base.provenance.own_data), base.cautions[-1]]
    if len(every) == 1:
        answer, beside, doing = of_one(base, games, given, unit)
    else:
        answer, beside, doing = of_several(every, games, given, unit)
    return Screen(question_line(first, how_many, unit), answer, beside, doing, foot)


def of_one(
    found: Comparison, games: Sequence[Game], given: Given | None, unit: str
) -> tuple[list[str], list[str], list[str]]:
    """(answer, beside, doing) of one comparison."""
    changed = what(found, games[1], given, unit)
    refused = is_refused(found.cautions)
    return (
        [how_often(found, games, given, changed), *how_much(found)],
        what_else(found.rows),
        [*how_long_to_count(found), *([] if refused else next_step(found, given))],
    )


def called(found: Comparison, game: Game, given: Given | None, unit: str) -> str:
    """A variant by its name; by its changes where it has none, another game by its title."""
    own = phrase(own_changes(found.second, found.first), game, unit)
    if other_of(found, given) is not None:
        alike = found.first.title == found.second.title
        return found.second.name if alike else found.second.title
    return (own or "nothing changed") if found.second.name == CHANGED else found.second.name


def what(found: Comparison, game: Game, given: Given | None, unit: str) -> str:
    """The same with its changes behind its name; these alone where they say the name too."""
    name, own = called(found, game, given, unit), phrase(own_changes(found.second, found.first), game, unit)
    if own.lower().startswith(name.lower()):
        return own or name
    return f"{name} ({own})" if own else name


def how_often(found: Comparison, games: Sequence[Game], given: Given | None, changed: str) -> str:
    """The count a coach makes, of both."""
    lengths = games[0].bouts.seconds, games[1].bouts.seconds
    lost = lost_a_bout(found.rows, lengths)
    if lost is None:
        return f"{changed[:1].upper()}{changed[1:]}: how often they lose it {NOT_TOLD}."
    before, after = counts(*lost)
    if other_of(found, given) is not None:
        own, its = (f"about {n} times a bout of {spelt_time(s)}" for n, s in zip((before, after), lengths, strict=True))
        return f"In {changed} they lose it {its}, here {own}, {WATCH}."
    if lengths[0] != lengths[1]:
        own, its = (f"{n} times in {spelt_time(s)}" for n, s in zip((before, after), lengths, strict=True))
        return f"With {changed} they lose it about {its}, as it is {own}, {WATCH}."
    if before == after:
        return f"With {changed} they lose it about {after} times a bout, as without, {spelt_time(lengths[0])} {WATCH}."
    return (
        f"With {changed} they lose it about {after} times a bout instead of {before}, {spelt_time(lengths[0])} {WATCH}."
    )


def how_much(found: Comparison) -> list[str]:
    """The rate with the ball rolling, our doubt about the difference, and the word for how sure it is."""
    row = row_of_losses(found)
    if row.first is None or row.second is None:
        return []
    if (row.difference, row.low, row.high) == (0, 0, 0):
        alike = all(one.difference in (0, None) for one in found.rows)
        return ["No difference at all: they play the same." if alike else "They lose it exactly as often."]
    difference, width = present(row.difference), present(row.high) - present(row.low)
    places = digits(difference, width)
    size, doubt = f"{abs(difference):.{places}f}", f"{width / 2:.{places}f}"
    way = "more" if difference > 0 else "fewer"
    rate = f"{ROLLING[:1].upper()}{ROLLING[1:]} {two(row.second)} a minute, not {two(row.first)}"
    gap = f"{size} {way}" if float(size) else "about the same"
    verdict = FULLY[row.verdict]
    return [f"{rate}: {gap}, give or take {doubt}.", verdict[:1].upper() + verdict[1:] + "."]


def digits(*values: float) -> int:
    """Places that show two digits of the largest, and never more than anybody could count."""
    largest = max(abs(value) for value in values)
    return 1 if largest == 0 else min(max(0, 1 - math.floor(math.log10(largest))), MOST_PLACES)


def how_long_to_count(found: Comparison) -> list[str]:
    """How long to count, by the watch; nothing of what may be luck and would take days."""
    count, row, rolling = found.counting, row_of_losses(found), found.row("in_play_share")
    shares = [share for share in (rolling.first, rolling.second) if share]
    if count is None or count.minutes is None or count.poisson is None or not shares:
        return ["There is no difference to count."]
    most, real = max(count.minutes, count.poisson) / min(shares), row.verdict.startswith("clear")
    if most > HOURS:
        hours = f"about {whole_minutes(most / MINUTES)} hours of each {WATCH}"
        return [f"You would not see it on the grass: it takes {hours}."] if real else []
    how_long = f"about {whole_minutes(most)} minutes of each {WATCH}"
    if real:
        return [f"Count losses for {how_long} and you should see it."]
    return [f"If it is real, count losses for {how_long} to see it."]


def next_step(found: Comparison, given: Given | None) -> list[str]:
    """One thing to try: more bouts where it could still be luck, else the second one whole."""
    row, tweak = row_of_losses(found), own_changes(found.second, found.first)
    if row.verdict in ("cannot tell", "clear, size open") and row.worthwhile:
        bouts = bouts_to_know(found)
        if bouts is None:
            return ["Try a larger change: of this one no sensible number of bouts would tell more."]
        return try_next("to be surer", more_of(found, given, bouts), [f"{bouts} bouts"])
    other = other_of(found, given)
    return try_next(
        "to see it whole", given and given.about("estimate", game=other, changes=tweak), found.second.changes
    )


def of_several(
    every: Sequence[Comparison], games: Sequence[Game], given: Given | None, unit: str
) -> tuple[list[str], list[str], list[str]]:
    """(answer, beside, doing) of several: a line each, in the order they were given."""
    names = [called(one, game, given, unit) for one, game in zip(every, games[1:], strict=True)]
    head, *rows = of_several_rows(every, games, names)
    answer = [f"{head[0]}:", *table(("", *head[1:]), rows, WIDTH, (0, 3)).splitlines()]
    big = [i for i, one in enumerate(every) if row_of_losses(one).verdict.startswith("clear")]
    beside = [f"{names[i]}: {each}" for i in big for each in what_else(every[i].rows)[:1]]
    open_to = [i for i in big if not is_refused(every[i].cautions)]
    if open_to:
        one = every[open_to[0]]
        other, tweak = other_of(one, given), own_changes(one.second, one.first)
        whole = given and given.about("estimate", game=other, changes=tweak)
        return answer, beside, try_next(f"to see {names[open_to[0]]} whole", whole, one.second.changes)
    if all(is_refused(one.cautions) for one in every):
        return answer, beside, []
    more = MORE_BOUTS * every[0].bouts
    return answer, beside, try_next("to be surer", given and given.again(("--bouts", more)), [f"{more} bouts"])


def of_several_rows(every: Sequence[Comparison], games: Sequence[Game], names: Sequence[str]) -> list[list[str]]:
    """A head that begins with what it is, then the game as it is and a row a variant."""
    rows = [line(one, name, (games[0], game)) for one, name, game in zip(every, names, games[1:], strict=True)]
    before = lost_a_bout(every[0].rows, (games[0].bouts.seconds,) * 2)
    now = row_of_losses(every[0]).first
    as_it_is = [
        columns(every[0])[0],
        *(NOT_TOLD if one is None else two(one) for one in (before and before[0], now)),
        "",
    ]
    lengths = {game.bouts.seconds for game in games}
    bout = (
        f"a bout, {spelt_time(lengths.pop())} {WATCH}"
        if len(lengths) == 1
        else f"a bout {WATCH}, as long as each has it"
    )
    return [[f"Losses {bout}, and a minute {ROLLING}", "a bout", "a minute", ""], as_it_is, *rows]


def line(found: Comparison, name: str, games: tuple[Game, Game]) -> list[str]:
    """One of several: its name, losses a bout and a minute, and how sure it is."""
    row, lost = row_of_losses(found), lost_a_bout(found.rows, (games[0].bouts.seconds, games[1].bouts.seconds))
    if row.second is None or lost is None:
        return [name, NOT_TOLD, NOT_TOLD, ""]
    same = (row.difference, row.low, row.high) == (0, 0, 0)
    return [name, two(lost[1]), two(row.second), "plays the same" if same else SURE[row.verdict]]
