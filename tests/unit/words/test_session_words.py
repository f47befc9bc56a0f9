"""An evening in words: nobody is ranked, minors have no figures of adults, and what is out of the band is told by measure."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import numpy as np
import pytest

from sim.experiments.cautions import LINE
from sim.planning.band import MEASURES, Band
from sim.planning.block import Block
from sim.planning.block_loads import PLACE
from sim.planning.changed import with_count, with_rest
from sim.planning.closing import Change
from sim.planning.forecast import Forecast, forecast
from sim.planning.session import planned
from sim.planning.usual_evening import UsualEvening
from sim.squads.squad import Person
from sim.words.evening_figures import whole
from sim.words.session_details import figure, players_csv, session_details
from sim.words.session_screen import (
    NO_TABLE,
    NOT_PLAYED,
    after,
    beyond,
    change_in_words,
    clock,
    gap_in_words,
    gaps,
    group,
    headline,
    kit,
    session_on_a_screen,
    set_anew,
    taken_by_heat,
)
from sim.words.within_limits import limits_of, within_limits
from tests.support.evening import SHORT, SIX, evening, fake

BAND = Band({"metres": (310.0, 900.0)}, "MD-4", "the coach")


def found(population: str | None = None, band: Band = BAND) -> Forecast:
    plan = planned(evening(SHORT, population=population, band=band), SIX)
    return forecast(plan, {game: fake(game) for game in plan.games})


def test_minors_have_no_effort_and_no_fast_metres():
    adults, young = (session_details(found(one), None) for one in (None, "U12"))
    assert "effort" in adults.lower() and "fast m" in adults
    assert "effort" not in young.lower() and "fast m" not in young
    heads = next(csv.reader(io.StringIO(players_csv(found("U12")))))
    assert "metres" in heads and not [one for one in heads if one.startswith(("fast_metres", "effort"))]


def test_everybody_stands_in_the_order_of_the_squad():
    text = session_details(found(), None)
    table = text[text.index("\n\n") :]
    at = [table.index(person.called) for person in SIX]
    assert at == sorted(at) and text.endswith(LINE)


def test_what_is_out_of_the_band_is_told_by_measure():
    one = found()
    ((measure, side, who),) = gaps(one)
    assert (measure, side) == ("metres", -1) and len(who) == 4
    assert gap_in_words(one, measure, side, who).startswith("Short of metres (310 to 900): ")
    assert f"{len(who)} of 6 are out of the band (band: the coach)." in headline(one)[0]
    inside = found(band=Band({"metres": (0.0, 900.0)}))
    assert headline(inside)[0].endswith("all are in the band of the day.")
    assert "band" not in headline(found(band=Band({})))[0]


def test_a_change_says_what_else_moves():
    one = found()
    more = one.mean.copy()
    more[:, 1] += 100.0
    said = change_in_words(one, Change("bout", "b1", 1, more, with_count(one.plan, 0, 4), 0))
    assert said == (
        "Cheapest change: one bout more of b1, 3 min more (12 min in all), brings everybody into the band: each 100 m more."
    )
    harder = one.mean.copy()
    harder[:, list(MEASURES).index("effort")] += 30.0
    said = change_in_words(one, Change("bout", "b1", 1, harder, with_count(one.plan, 0, 4), 0))
    assert said.endswith("each 30 points of effort more.")
    less = change_in_words(one, Change("metre", "b1", -1, more, one.plan, 2))
    assert "one metre less each side in b1, no more time (9 min in all), leaves two gaps of" in less
    rest = change_in_words(one, Change("rest", "b1", -3, more, with_rest(one.plan, 0, 15.0), 2))
    assert "a minute and a half less in each rest of b1, 1.5 min less" in rest


def test_the_clock_says_what_is_free_and_the_screen_what_is_set_up_anew():
    plan = planned(evening(SHORT), SIX)
    assert clock(plan).endswith("end after 9 min; 66 min are free.")
    assert set_anew(plan) == []
    same = replace(plan, line_ups=(replace(plan.line_ups[0], anew=True),))
    assert set_anew(same) == []
    five = SIX[:5]
    fewer = planned(evening(SHORT, people=five), five, anew=True)
    assert set_anew(fewer) == ["Set up anew, b1: 4 v 2 is now 3 v 2."]
    assert set_anew(fewer)[0] in " ".join(
        session_on_a_screen(forecast(fewer, {game: fake(game) for game in fewer.games}), None, None, None, []).split()
    )


def test_the_screen_ends_with_the_line_and_says_that_there_is_no_table():
    screen = session_on_a_screen(found(), None, None, 31.0, [])
    assert screen.endswith(LINE) and NO_TABLE in " ".join(screen.split())
    assert "No more or fewer bouts, rests or metres" in screen
    careful = (replace(SIX[0], most_bouts=9, set_by="M. Thorne"), *SIX[1:])
    plan = planned(evening(SHORT, people=careful), careful)
    screen = session_on_a_screen(forecast(plan, {game: fake(game) for game in plan.games}), None, None, None, [])
    assert "1 P1: nine bouts at most (M. Thorne)." in screen and "table" not in screen


def test_what_the_heat_takes_stands_beside_the_usual_evening():
    """Three bouts of two minutes, some 100 m each, against one: two thirds less; of 309 m on average 104 are left."""
    usual = found()
    short = planned(evening(replace(SHORT, bouts=1), band=BAND), SIX)
    hot = forecast(short, {game: fake(game) for game in short.games})
    metres = 10 * round(float(usual.mean[:, 1].mean()) / 10)
    (said,) = taken_by_heat(hot, UsualEvening(usual))
    assert said == (
        f"The usual evening is about 6 min and {metres} m each: the heat takes 67 % of the minutes, 66 % of the metres."
    )
    assert taken_by_heat(hot, None) == [] and taken_by_heat(hot, UsualEvening(None)) == [NOT_PLAYED]


@pytest.mark.parametrize(
    ("value", "end", "side", "said"),
    [
        (7.6, 8, -1, "7.6"),
        (7.98, 8, -1, "7.98"),
        (6.6, 8, -1, "7"),
        (2841, 2840, 1, "2,841"),
        (2700, 2800, -1, "2,700"),
        (7.9999999, 8, -1, "just under 8"),
    ],
)
def test_what_is_out_of_the_band_reads_so(value: float, end: float, side: int, said: str):
    assert beyond(value, end, side) == said


@pytest.mark.parametrize(
    ("seconds", "said"), [(900, "after 15 min "), (135, "after 2 min 15 s "), (0, ""), (59.7, "after 1 min ")]
)
def test_the_clock_is_no_time_of_day(seconds: float, said: str):
    assert after(seconds) == said


def test_one_is_said_as_one():
    careful = (replace(SIX[0], most_bouts=1, set_by="M. Thorne"), *SIX[1:])
    assert limits_of(careful[0]) == "1 P1: one bout at most (M. Thorne)."
    plan = planned(evening(SHORT), SIX)
    assert kit(replace(plan, kit=replace(plan.kit, staff=1))).endswith("one person to run it.")
    one = found(band=Band({"metres": (150.0, 900.0)}))
    mean = one.mean.copy()
    mean[0, 1] = 100.0
    one = replace(one, mean=mean)
    assert "1 of 6 is out of the band" in headline(one)[0]


def bound(load: dict[int, float], *blocks: Block, **limit) -> list[str]:
    """What is told of P6, who has limits: minutes without the ball of a block by place."""
    people = (*SIX[:5], replace(SIX[5], status="reduced", set_by="M. Thorne", **limit))
    plan = planned(evening(*(blocks or (SHORT,)), people=people), people, anew=True)
    loads = {}
    for game in plan.games:
        loads[game] = fake(game)
        for place, minutes in load.items():
            loads[game].loads[:, place, PLACE["session_time_defending_s"]] = 60.0 * minutes
    one = forecast(plan, loads)
    return within_limits(replace(one, low=one.mean - 20.0, high=one.mean + 20.0))


def test_somebody_with_limits_is_told_what_is_left_and_what_it_does_to_the_others():
    limits, left, others = bound(dict.fromkeys(range(6), 2.0), limits=("no defending",), most_bouts=3)
    assert limits == "6 P6: reduced load, no defending, three bouts at most (M. Thorne)."
    assert left.startswith("That leaves three of three bouts, 6 min and about 300 m (usually 280 to 320): ")
    assert left.endswith("in b1 on the lines, never inside.")
    assert others == "For the other five in b1: 2.4 min without the ball each; 2 if all six took turns."
    *_, left, _ = bound(dict.fromkeys(range(6), 2.0), SHORT, SHORT, most_minutes=20.0)[:3]
    assert left.startswith("That leaves six bouts, 12 of 20 min") and "in b1 and b2 on the lines" in left


def test_who_has_only_a_cap_has_no_place_of_his_own():
    careful = (replace(SIX[0], most_bouts=4, set_by="M. Thorne"), *SIX[1:])
    plan = planned(evening(SHORT, people=careful), careful)
    limits, left = within_limits(forecast(plan, {game: fake(game) for game in plan.games}))
    assert limits == "1 P1: four bouts at most (M. Thorne)."
    assert left.startswith("That leaves three of four bouts, 6 min") and left.endswith(").")


def test_two_to_whom_the_same_is_left_are_both_told():
    careful = (*(replace(one, most_bouts=4, set_by="M. Thorne") for one in SIX[:2]), *SIX[2:])
    plan = planned(evening(SHORT, people=careful), careful)
    one = forecast(plan, {game: fake(game) for game in plan.games})
    even = np.broadcast_to(one.mean.mean(axis=0), one.mean.shape)
    lines = within_limits(replace(one, mean=even, low=even, high=even))
    assert [line.split(":")[0] for line in lines[::2]] == ["1 P1", "2 P2"] and lines[1] == lines[3]


def test_whoever_is_with_the_ball_in_any_case_takes_no_turns_from_anybody():
    ten = tuple(Person(i, f"P{i}") for i in range(1, 11))
    people = (replace(ten[0], limits=("no tackles",), set_by="M. Thorne"), *ten[1:])
    plan = planned(evening(Block("even-keep-ball", bouts=2, work_s=60), people=people), people, anew=True)
    limits, left = within_limits(forecast(plan, {game: fake(game) for game in plan.games}))
    assert left.endswith("in b1 on the lines with whoever has the ball.")


def test_parts_of_a_metre_are_nought_in_the_table():
    assert [figure("fast_metres", one) for one in (0.07, 0.6, 33.4)] == ["0", "1", "33"]
    assert figure("minutes", 0.25) == "0.25"


def test_no_name_is_a_formula_of_a_spreadsheet():
    one = found()
    for sign in "=+-@":
        people = (replace(SIX[0], name=f"{sign}A1"), *SIX[1:])
        rows = list(csv.reader(io.StringIO(players_csv(replace(one, plan=replace(one.plan, people=people))))))
        assert [row[1] for row in rows[1:3]] == [f"'{sign}A1", "P2"]


@pytest.mark.parametrize(
    ("cell", "said"),
    [("2", "group 2"), ("amber", "amber"), ("amber 2", "amber in group 2"), ("first out", "first out")],
)
def test_a_cell_is_said_as_a_group(cell: str, said: str):
    assert group(cell) == said


@pytest.mark.parametrize(("value", "said"), [(0.5, "0.5"), (0, "0"), (7.6, "8"), (248, "250"), (2751, "2,800")])
def test_figures_are_rounded(value: float, said: str):
    assert whole(value) == said
