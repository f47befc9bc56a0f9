"""The same game later: what was not the same, how much longer to count, and a next step in every case."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.own_counts.conditions import conditions
from sim.own_counts.logbook import Evening, Kept
from sim.own_counts.review import MOST_TO_TELL, STEP_TO_TELL, Change, Later, Looked, interval_of, minutes_to_tell
from sim.own_counts.tally import Counted
from sim.words.same_game_later import later_in_words, next_step, not_the_same, times_as_many
from tests.unit.own_counts.byhand import chance, forecast, row

FOUND = forecast(chance(5.5, 400, seed=4))
UNEVEN = forecast(chance(5.5, 400, spread=0.3, seed=4))


def evening(day: str, *rows, typed: str = "tight-square") -> Evening:
    kept = tuple(Kept(i, replace(one, day=day)) for i, one in enumerate(rows))
    return Evening(1, day, "Lose it and go in", typed, "s", kept, "f")


def losses(count: int, minutes: float = 8.0) -> Counted:
    return Counted("losses", count, minutes, "watch")


def looked(*nights: Evening) -> tuple[Looked, ...]:
    return tuple(Looked(one, (), (), ()) for one in nights)


def later(first: int, last: int, measure: str = "losses") -> Later:
    then, now = (replace(losses(one), measure=measure) for one in (first, last))
    ends, more = interval_of(FOUND, then, now), minutes_to_tell(FOUND, then, now)
    return Later(measure, "2026-11-07", "2026-11-28", then, now, *ends, *more)


def told(first: Counted, last: Counted, found=FOUND) -> bool:
    low, high = interval_of(found, first, last)
    return not low <= 1 <= high


@pytest.mark.parametrize(("first", "last"), [(14, 26), (14, 25), (18, 30)])
def test_so_many_minutes_more_would_tell_and_a_step_fewer_would_not(first: int, last: int):
    longer, both = minutes_to_tell(FOUND, losses(first), losses(last))
    assert longer is not None and both is not None
    assert told(losses(first), losses(round(last * longer / 8), longer))
    shorter = longer - STEP_TO_TELL
    assert shorter <= 8 or not told(losses(first), losses(round(last * shorter / 8), shorter))
    each = [losses(round(count * both / 8), both) for count in (first, last)]
    assert told(*each) and not told(*(replace(one, count=round(one.count * 0.5), minutes=both / 2) for one in each))


def test_where_evenings_differ_too_much_no_minutes_tell():
    assert minutes_to_tell(UNEVEN, losses(20), losses(24)) == (None, None)
    assert minutes_to_tell(FOUND, losses(20), losses(20)) == (None, None)
    longer, both = minutes_to_tell(FOUND, losses(7, 4), losses(18, 16))
    assert longer is None and both is not None and both <= MOST_TO_TELL


def test_what_was_not_the_same_is_read_off_the_logbook():
    first = evening("2026-11-07", row(14, players="Ann, Bea, Cy"), row(7, changed="one touch", players="Zoe"))
    last = evening("2026-11-28", row(14, players="inside: Ann; outside: Di, Eve"))
    met = conditions(first, last)
    assert (met.days, met.others, met.changed) == (21, 2, (1, 0)) and "Zoe" not in met.then
    one = replace(later(14, 26), last=losses(26, 12.0))
    said = not_the_same(one, looked(first, last))
    assert said == (
        "Beside that: 21 days between, two of three were not there then, two who played then are missing now, eight minutes "
        "counted then, 12 minutes now, one bout changed on the grass left out then."
    )
    fewer = evening("2026-11-08", row(14, players="Bea, Ann"))
    same = evening("2026-11-08", row(14, players="Bea, Cy, Ann"))
    first = replace(first, rows=first.rows[:1])
    assert not_the_same(later(14, 26), looked(first, fewer)) == (
        "Beside that: one day between, one who played then is missing now."
    )
    assert conditions(first, same).missing == 0
    assert not_the_same(later(14, 26), looked(first, same)) == "Beside that: one day between, the same players."
    unknown = evening("2026-11-09", row(14))
    assert not_the_same(later(14, 26), looked(first, unknown)) == "Beside that: two days between, who played not noted."


def test_how_much_more_or_less_stands_beside_the_rates():
    one = replace(later(14, 26), low=0.966, high=3.52)
    said = later_in_words(one, looked(evening("2026-11-07", row(14))))
    assert said.endswith("(1.8 losses a minute on the watch then, 3.2 now: 0.97 to 3.5 times as many).")
    assert times_as_many(replace(one, high=float("inf"))) == "0.97 times as many or more"


@pytest.mark.parametrize(
    ("one", "change", "first", "command"),
    [
        (later(14, 26), Change.CANNOT_TELL, "Next time count ", "tally"),
        (
            later(14, 24),
            Change.CANNOT_TELL,
            "So large a change shows in two evenings of ",
            "tally",
        ),
        (later(20, 20), Change.CANNOT_TELL, "So small a change does not show", "tally"),
        (later(40, 8), Change.BETTER, "Try next, to make it harder again:", "adjust"),
        (later(8, 40), Change.WORSE, "Try next, to see what makes it easier:", "adjust"),
        (later(8, 40, "wins"), Change.MORE, "Count it again the next time", "tally"),
    ],
)
def test_every_case_has_a_next_step(one: Later, change: Change, first: str, command: str):
    assert one.change is change
    said, line = next_step(looked(evening("2026-11-28", row(9), typed="my game.toml")), [one])
    aim = {Change.BETTER: " --aim losses=more", Change.WORSE: " --aim losses=less"}.get(change, "")
    assert said.startswith(first) and line == f"  overload {command} 'my game.toml'{aim}"


def test_after_one_evening_the_next_step_is_another():
    said, line = next_step(looked(evening("2026-11-28", row(9))), [])
    assert "Count it again" in said and line == "  overload tally tight-square"
