"""The watch: everything follows on, drinks come half-way, and the shipped games end when a pencil says so."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.game.timetable import timetable

# minutes: 2 to explain, the bouts, the rests, and what drinks take longer than the rest they are in
ENDS = {
    "tight-square": 2 + 4 * 2 + 3 * 1 + 1,
    "two-squares": 2 + 4 * 3 + 3 * 1.5 + 0.5,
    "home-grids": 2 + 4 * 3 + 3 * 2,
    "break-away": 2 + 4 * 4 + 3 * 2,
    "even-goals": 2 + 3 * 5 + 2 * 2.5,
    "even-keep-ball": 2 + 4 * 3 + 3 * 2,
}


@pytest.mark.parametrize("name", ENDS)
def test_the_shipped_games_end_on_time(name: str):
    bouts = load_game(name).bouts
    slots = timetable(bouts)
    assert slots[-1].end_s == pytest.approx(60 * ENDS[name])
    assert [slot.bout for slot in slots if slot.kind == "bout"] == list(range(1, bouts.count + 1))
    assert slots[0].start_s == 0 and all(
        one.end_s == other.start_s for one, other in zip(slots, slots[1:], strict=False)
    )


def test_drinks_come_half_way_and_last_at_least_as_long_as_asked():
    bouts = load_game("tight-square").bouts  # four of 2 min, 1 min rest
    kinds = [slot.kind for slot in timetable(bouts, 0, 3)]
    assert kinds == ["bout", "rest", "bout", "drinks", "bout", "rest", "bout"]
    assert next(slot.end_s - slot.start_s for slot in timetable(bouts, 0, 3) if slot.kind == "drinks") == 180
    assert "drinks" not in [slot.kind for slot in timetable(bouts, 0, 0)]


def test_after_a_single_bout_they_drink_at_the_end():
    bouts = load_game("tight-square", ["bouts.count=1"]).bouts
    assert [slot.kind for slot in timetable(bouts, 1, 2)] == ["explain", "bout", "drinks"]
