"""Player by player: who played what, what was measured beside what was forecast, and nothing filled in."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sim.own_counts.by_player import apart, by_player, who_played
from sim.own_counts.delivered import Delivered
from sim.own_counts.load_forecast import COLUMNS, LoadForecast
from sim.own_counts.logbook import Evening, Kept
from sim.own_counts.review import reviewed
from sim.words.by_player_screen import NOTHING, by_player_in_words
from sim.words.review_screen import review_in_words
from tests.unit.own_counts.byhand import TODAY, chance, forecast, row

DICE = np.random.default_rng(3)
MANY = 4000
METRES = np.rint(DICE.normal((100, 200, 300, 20), 10, (MANY, 3, 4))).astype(int)
LOADS = LoadForecast(
    {name: METRES if name == "metres" else METRES // 10 for name in COLUMNS},
    (("outside",), ("outside", "inside"), ("inside",), ("keeper",)),
    ("keeper",),
    "19.8 km/h",
    "25.2 km/h",
    False,
)
ALI = Delivered(
    2, TODAY, "4v2", "Ali", 8.0, "Game", metres=310.0, fast_metres=25.0, fast_from="19.8 km/h", accelerations=30
)
PLACE = (TODAY, "Game")


def evening(*players: str, game: str = "Game") -> Evening:
    kept = tuple(Kept(n, row(5, 2.0, bout=n, players=text)) for n, text in enumerate(players, 1))
    return Evening(1, TODAY, game, "game", "s", kept, "f")


def test_who_played_is_read_off_the_sheet():
    assert who_played("inside: Ali,  Bo Lee ; outside: Cy") == {"Ali": "inside", "Bo Lee": "inside", "Cy": "outside"}
    assert who_played("Ali, Bo") == {"Ali": "", "Bo": ""} and who_played("") == {}


@pytest.mark.parametrize(
    ("role", "players"), [("outside", [0]), ("inside", [2]), ("", [0, 1, 2]), ("wing", [0, 1, 2]), ("keeper", [3])]
)
def test_a_player_is_held_against_those_of_his_role(role: str, players: list[int]):
    assert LOADS.who(role) == players


@pytest.mark.parametrize("bouts", [1, 2, 3])
def test_what_so_many_bouts_bring_is_what_was_put_in(bouts: int):
    found = LOADS.expected("metres", "outside", bouts)
    spread = 10 * bouts**0.5
    assert found.mean == pytest.approx(100 * bouts, abs=4 * spread / MANY**0.5 + 0.1)
    assert (found.low, found.high) == pytest.approx(
        (100 * bouts - 1.2816 * spread, 100 * bouts + 1.2816 * spread), abs=1.5
    )


def test_bouts_that_somebody_sat_out_are_no_bouts_of_his():
    waiting = METRES[:, :, :1].copy()
    waiting[:, 0] = 0  # he waits in the first bout
    loads = replace(LOADS, each=dict.fromkeys(COLUMNS, waiting), roles=(("outside",),))
    assert loads.expected("metres", "outside", 1).mean == pytest.approx(100, abs=1)
    assert loads.expected("metres", "outside", 3) is None and loads.expected("metres", "outside", 4) is None


def test_bouts_and_roles_come_from_the_sheet_and_loads_from_the_file():
    written = evening("outside: Ali, Bo; inside: Cy", "inside: ali; outside: Cy", "outside: Ali")
    ali, bo, cy = by_player([written], [ALI], {PLACE: LOADS})
    assert (ali.bouts, dict(ali.roles), ali.minutes) == (3, {"outside": 2, "inside": 1}, 8.0)
    assert (bo.player, bo.bouts, dict(bo.roles), bo.minutes, bo.loads) == ("Bo", 1, {"outside": 1}, None, ())
    assert (cy.player, cy.bouts) == ("Cy", 2)
    metres, fast, sprint, *_ = ali.loads
    assert metres.expected == LOADS.expected("metres", "", 3) and metres.inside is not None
    assert fast.expected is not None and (sprint.value, sprint.inside) == (None, None)
    (alone,) = by_player([evening("inside: Ali", "inside: Ali")], [ALI], {PLACE: LOADS})
    assert alone.loads[0].expected == LOADS.expected("metres", "inside", 2)


def test_unlike_thresholds_are_never_put_together():
    slow = replace(ALI, fast_from="18 km/h")
    assert by_player([], [slow], {PLACE: LOADS})[0].loads[1].expected is None
    two = [replace(ALI, block="a"), replace(slow, block="b")]
    (both,) = by_player([], two, {PLACE: LOADS})
    assert (both.minutes, both.loads[0].value, both.loads[1].value) == (16.0, 620.0, None)
    third = [replace(ALI, block="a"), replace(ALI, block="b", accelerations=None)]
    (less,) = by_player([], third, {PLACE: LOADS})
    assert (less.loads[1].value, less.loads[3].value) == (50.0, None)


def test_a_file_of_other_minutes_than_the_sheet_is_held_against_nothing():
    written = evening("inside: Ali", "inside: Ali")  # four minutes
    (much,) = by_player([written], [replace(ALI, minutes=8.5)], {PLACE: LOADS})
    assert much.loads[0].expected is None and "8.5, sheet 4" in by_player_in_words([much], False)
    (alike,) = by_player([written], [replace(ALI, minutes=8.0)], {PLACE: LOADS})
    assert alike.loads[0].expected is not None and "sheet" not in by_player_in_words([alike], False)


def test_whoever_has_no_minutes_is_held_against_nothing():
    (none,) = by_player([], [replace(ALI, minutes=0.0, metres=0.0)], {PLACE: LOADS})
    assert none.loads[0].value == 0.0 and none.loads[0].expected is None


@pytest.mark.parametrize(
    ("file", "sheet", "other"),
    [(6.6, 1.1 * 3, False), (1.65, 1.1 * 3, False), (6.61, 3.3, True), (1.64, 3.3, True), (0.7, 0.35, False)],
)
def test_twice_and_half_the_minutes_to_the_last_digit_are_still_alike(file: float, sheet: float, other: bool):
    assert apart(file, sheet) is other


def test_who_stands_on_no_sheet_of_his_bout_is_told_from_one_who_sat_it_out():
    """Bout 1 was written down without him, bout 3 by nobody."""
    first, third = by_player(
        [evening("inside: Bo")], [replace(ALI, bout=1, minutes=2.0), replace(ALI, bout=3, minutes=2.0)], {PLACE: LOADS}
    )[:2]
    assert (first.bouts, first.loads[0].expected) == (0, None)
    assert third.bouts is None and third.loads[0].expected == LOADS.expected("metres", "", 1)
    text = by_player_in_words([first, third], False)
    assert "0: not on the sheet" in text and text.count("not on the sheet") == 1


def test_a_bout_of_its_own_is_held_against_one_bout():
    first, second = by_player([], [replace(ALI, bout=1), replace(ALI, bout=2, metres=90.0)], {PLACE: LOADS})
    assert (first.bout, second.bout) == (1, 2) and second.loads[0].expected == LOADS.expected("metres", "", 1)


def test_players_stand_as_in_the_file_and_what_is_missing_says_so():
    rows = [
        replace(ALI, player=name, metres=metres) for name, metres in (("Zed", 100.0), ("Ali", 900.0), ("Moe", 500.0))
    ]
    found = by_player([evening("outside: Zed, Late; inside: Moe")], rows, {PLACE: LOADS})
    text = by_player_in_words(found, minors=True)
    lines = [
        line.split()[0]
        for line in text.splitlines()
        if line.split() and line.split()[0] in ("Zed", "Ali", "Moe", "Late")
    ]
    assert lines == ["Zed", "Ali", "Moe", "Late"]
    ali = found[1]  # nobody wrote him down: nothing is filled in for him
    assert ali.bouts == 0 and ali.loads[0].expected is None
    late = next(line for line in text.splitlines() if line.startswith("Late"))
    assert late.count("missing") == 4 and "1: 1 outside" in late
    assert (
        "3 of 4 players measured" in text
        and "no ranking" in text
        and "Minors play" in text
        and text.endswith("youth rules first.")
    )
    assert by_player_in_words((), False) == NOTHING or "Nobody to look back on yet" in by_player_in_words((), False)


def test_a_drill_that_is_no_game_has_no_forecast():
    (one,) = by_player([], [replace(ALI, game="", block="warm-up")], {PLACE: LOADS})
    assert one.game == "warm-up" and all(seen.expected is None for seen in one.loads)
    assert "nothing was both measured and forecast" in by_player_in_words([one], False)


def test_what_is_kept_of_loads_comes_back_and_names_nobody():
    few = replace(LOADS, each={name: one[:8] for name, one in LOADS.each.items()})
    again = LoadForecast.from_plain(few.to_plain())
    assert again.to_plain() == few.to_plain() and again.expected("metres", "", 2) == few.expected("metres", "", 2)
    whole = replace(forecast(chance(5.0, 8)), loads=few)
    back = type(whole).from_json(whole.to_json())
    assert back.to_json() == whole.to_json() and back.loads.who("inside") == [2]
    assert type(whole).from_json(forecast(chance(5.0, 8)).to_json()).loads is None


def test_forecasts_that_were_kept_before_are_counted_apart():
    nights = [
        Evening(
            n, f"2026-11-{n:02d}", "Game", "game", "s", (Kept(n, row(count, day=f"2026-11-{n:02d}")),), "f", planned
        )
        for n, (count, planned) in enumerate(
            [(22, ""), (5, "2026-11-01T10:00:00+00:00"), (21, "2026-11-02T10:00:00+00:00")], 1
        )
    ]
    found = reviewed(nights, {"f": forecast(chance(5.5, 200, seed=4), key="f")})
    assert [(one.inside, one.forecasts) for one in (*found.coverage, *found.planned)] == [(2, 3), (1, 2)]
    text = review_in_words(found, details=True)
    assert "Planned beforehand, of losses: 1 of 2 held." in text and "kept before the session" in text
