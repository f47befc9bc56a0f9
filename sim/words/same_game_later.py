"""The same game on a later evening, in words: better or worse and by how much, what was not the same, and what to do next."""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from math import isinf

from sim.own_counts.conditions import Conditions, conditions
from sim.own_counts.review import Change, Later, Looked
from sim.words.figures import two
from sim.words.listing import number_word, some
from sim.words.own_counts import MANY, ON, day, minutes

CANNOT = "cannot tell whether it goes better; it could still be luck, or who came"
HAND_IN = "Count it again the next time it is played. What to count:"


def later_in_words(one: Later, looked: Sequence[Looked]) -> str:
    """``Lose it and go in since 7 Nov: it goes better (2.5 losses a minute then, 1.6 now: 0.5 to 0.8 times as many).``"""
    then, now = (two(rate) for rate in one.rates)
    many = MANY[one.measure]
    figures = f"{then} {many} a minute {ON[one.first.clock]} then, {now} now{by_all(one)}: {times_as_many(one)}"
    said = {
        Change.CANNOT_TELL: CANNOT,
        Change.BETTER: "it goes better",
        Change.WORSE: "it goes worse",
        Change.MORE: f"more {many}",
        Change.FEWER: f"fewer {many}",
    }[one.change]
    return f"{looked[0].evening.game} since {day(one.first_day)}: {said} ({figures})."


def by_all(one: Later) -> str:
    """``, going by all five evenings``; nothing where there are two."""
    return f", going by all {number_word(one.evenings)} evenings" if one.evenings > 2 else ""


def times_as_many(one: Later) -> str:
    """``0.97 to 3.5 times as many``, as far as luck and other players leave it open."""
    if isinf(one.high):
        return f"{two(one.low)} times as many or more"
    return f"{two(one.low)} to {two(one.high)} times as many"


def not_the_same(one: Later, looked: Sequence[Looked]) -> str:
    """What differed between the first evening and the last, as far as it was written down."""
    first = next(own for own in looked if own.evening.day == one.first_day)
    met = conditions(first.evening, looked[-1].evening)
    more = f" and {some(one.evenings - 2, 'evening')}" if one.evenings > 2 else ""
    apart = [f"{some(met.days, 'day')}{more} between", *who_changed(met)]
    if one.first.minutes != one.last.minutes:
        apart.append(f"{minutes(one.first.minutes)} counted then, {minutes(one.last.minutes)} now")
    for count, when in zip(met.changed, ("then", "now"), strict=True):
        if count:
            apart.append(f"{some(count, 'bout')} changed on the grass left out {when}")
    return f"Beside that: {', '.join(apart)}."


def who_changed(met: Conditions) -> list[str]:
    """Who came in and who is missing, or that neither is so."""
    if met.others is None or met.missing is None:
        return ["who played not noted"]
    said = []
    if met.others:
        were = "was" if met.others == 1 else "were"
        said.append(f"{number_word(met.others)} of {number_word(len(met.now))} {were} not there then")
    if met.missing:
        are = "is" if met.missing == 1 else "are"
        said.append(f"{number_word(met.missing)} who played then {are} missing now")
    return said or ["the same players"]


def next_step(looked: Sequence[Looked], laters: Sequence[Later]) -> list[str]:
    """What to do next with a game: count on, or make it harder or easier."""
    typed = shlex.quote(looked[-1].evening.typed)
    if not laters:
        return [HAND_IN, f"  overload tally {typed}"]
    one = laters[0]
    if one.change is Change.CANNOT_TELL:
        return [longer(one), f"  overload tally {typed}"]
    if one.measure != "losses":
        return [HAND_IN, f"  overload tally {typed}"]
    if one.change is Change.BETTER:
        return ["Try next, to make it harder again:", f"  overload adjust {typed} --aim losses=more"]
    return ["Try next, to see what makes it easier:", f"  overload adjust {typed} --aim losses=less"]


def longer(one: Later) -> str:
    """How much to count so that a change as large as this one looks would show."""
    if one.next_min is not None:
        return (
            f"Next time count {one.next_min} min of it ({minutes(one.last.minutes)} now): so large a change would show."
        )
    if one.both_min is not None:
        return f"So large a change shows in two evenings of {one.both_min} min each. Next time count as much:"
    between = "yet" if one.evenings > 2 else "between two evenings"
    return f"So small a change does not show {between}: go on counting."
