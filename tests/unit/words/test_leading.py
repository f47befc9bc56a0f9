"""A comparison told by what it leads with: the coach's count, one evening's range, and our doubt, never two in one sentence."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from sim.experiments.compare import Variant, compare_all
from sim.experiments.comparison import Compared, Evening
from sim.words.commands import Given
from sim.words.compare_screen import compared_on_a_screen, leads_with, side_by_side
from sim.words.leading import figures, headline, how_much, more_often, one_evening
from tests.support.screens import holds
from tests.unit.experiments.test_compare import FOUND, GAME, LONG, staged_pairs

MINUTES = (120.0, 120.0)


def row(measure, first, second, unit="1/min", watch=True, **more):
    """A row whose second game has more; one evening lies a fifth either way, and the ball rolls for half of a bout."""

    def evening(mean):
        ends = (0.8 * mean, 1.2 * mean)
        return Evening(*ends, *((mean / 2, *(one / 2 for one in ends)) if watch else (None, None, None)))

    about = {
        "low": second - first - 0.5,
        "high": second - first + 0.5,
        "verdict": "clear, matters",
        "one_session": 0.3 if watch else 0.97,
        "watch_session": 0.97 if watch else None,
    }
    new = about | {"first_evening": evening(first), "second_evening": evening(second)} | more
    return replace(
        FOUND.row("turnovers_per_min"), measure=measure, unit=unit, first=first, second=second, difference=second - first, **new
    )  # fmt: skip


def told(one, lengths=MINUTES, changed="one touch", another=False) -> list[str]:
    both = figures(one, lengths)
    head = headline(one, both, changed, lengths, False, another)
    return [head, *one_evening(one, both, another), *how_much(one, False)]


def test_losses_lead_with_the_bout_and_one_evening():
    assert told(row("turnovers_per_min", 3.0, 6.0)) == [
        "With one touch they lose it about 6 times a bout on the watch instead of 3.",
        "Usually 5 to 7, as it is 2 to 4 (8 evenings in 10): more nearly every time.",
        "With the ball rolling 6.0 a minute, not 3.0: 3.0 more, give or take 0.5.",
        "A real difference, and a big one.",
    ]


def test_dead_time_is_what_is_left_of_the_rolling_and_its_ends_change_places():
    rolling = row("in_play_share", 0.8, 0.7, "share", False, low=-0.15, high=-0.05, one_session=0.1)
    ends = replace(
        rolling, first_evening=Evening(0.75, 0.86, None, None, None), second_evening=Evening(0.6, 0.8, None, None, None)
    )
    assert told(ends, changed="one ball at hand") == [
        "With one ball at hand the ball is dead for 30 % of the bout, not 20 %.",
        "Usually 20 to 40, as it is 14 to 25 (8 evenings in 10): more 9 times in 10.",
        "On average 30 %, not 20 %: 10 more, give or take 5.",
        "A real difference, and a big one.",
    ]


@pytest.mark.parametrize(
    ("one", "head", "usual"),
    [
        (
            row("points_per_min", 2.0, 4.0),
            "With six passes they score about 4 points a bout on the watch instead of 2.",
            "Usually 3 to 5, as it is 1.6 to 2.4 ",
        ),
        (
            row("distance_per_min", 95.0, 104.0, "m/min", False, scope="role:inside"),
            "With six passes the players inside run 100 metres a minute on the watch, not 95.",
            "Usually 83 to 120, as it is 76 to 110 ",
        ),
        (
            row("pass_run_median", 7.0, 5.0, "passes", False),
            "With six passes they string 5 passes together, not 7.",
            "Usually 4 to 6, as it is 6 to 8 ",
        ),
    ],
)
def test_other_measures_have_sentences_of_their_own(one, head, usual):
    first, second, *_ = told(one, changed="six passes")
    assert first == head and second.startswith(usual)


def test_another_game_is_there_and_this_one_here():
    head, usual, *_ = told(row("turnovers_per_min", 3.0, 6.0), (120.0, 180.0), "Over there", True)
    assert head == (
        "In Over there they lose it about 9 times a bout of three minutes, here about 3 times a bout of two minutes, on the watch."
    )
    assert usual.startswith("Usually 7 to 11, here 2 to 4 ")


@pytest.mark.parametrize(
    ("chance", "words"),
    [(0.97, ": more nearly every time"), (0.72, ": more 7 times in 10"), (0.2, ": fewer 8 times in 10"),
     (0.5, ": which has more is a toss-up"), (None, "")],
)  # fmt: skip
def test_how_likely_one_evening_has_more(chance, words):
    assert more_often(row("turnovers_per_min", 3.0, 6.0, watch_session=chance)) == words
    assert more_often(row("in_play_share", 0.2, 0.4, "share", False, one_session=0.9)) == ": less 9 times in 10"


@pytest.mark.parametrize("measure", ["points_per_min", "transfers_per_min", "balls_lost_per_min", "turnovers_per_min"])
def test_whatever_has_its_range_on_the_watch_has_its_chance_there_too(measure):
    one = row(measure, 2.0, 4.0, one_session=0.3, watch_session=0.72)
    assert told(one)[1].endswith("(8 evenings in 10): more 7 times in 10.")


def test_the_chance_by_the_watch_is_that_of_the_sessions_on_the_watch():
    by_watch, rolling = FOUND.row("turnovers_per_clock_min"), FOUND.row("turnovers_per_min")
    assert rolling.watch_session == pytest.approx(by_watch.one_session, abs=1e-12)
    assert abs(rolling.watch_session - rolling.one_session) > 0.01, "the clocks tell different chances"
    assert by_watch.watch_session is None and FOUND.row("in_play_share").watch_session is None


def test_the_chance_of_losses_is_of_the_clock_that_the_ranges_are_of():
    rows = tuple(replace(one, watch_session=0.72) if one.measure == "turnovers_per_min" else one for one in FOUND.rows)
    found = Compared((replace(FOUND, rows=rows),), ())
    said = " ".join(compared_on_a_screen(found, [GAME, LONG]).split())
    assert "(8 evenings in 10): more 7 times in 10." in said
    longer = LONG.model_copy(update={"bouts": LONG.bouts.model_copy(update={"seconds": 120.0})})
    said = " ".join(compared_on_a_screen(found, [GAME, longer]).split())
    assert "(8 evenings in 10): by the minute more 7 times in 10." in said


def test_no_sentence_of_the_screen_has_both_kinds_of_range():
    text = compared_on_a_screen(Compared((FOUND,), ()), [GAME, LONG], Given("compare", "square"))
    sentences = re.split(r"\.\s", " ".join(text.split()))
    assert sum("sually" in one for one in sentences) == sum("give or take" in one for one in sentences) == 1
    assert not [one for one in sentences if "sually" in one and "give or take" in one]


def test_what_was_asked_for_leads_and_losses_stand_beside():
    found = compare_all(
        GAME, [Variant(LONG)], bouts=36, workers=1, session=staged_pairs, asked=("in_play_share", "game")
    )
    assert leads_with(found, GAME) == ("in_play_share", "game")
    text = compared_on_a_screen(found, [GAME, LONG], Given("compare", "square", question=(("--measure", "rolling"),)))
    holds(text)
    said = " ".join(text.split())
    assert (
        "the ball is dead for " in said.partition("Usually")[0]
        and "times a bout on the watch" in said.partition("Usually")[2]
    )
    assert "--measure rolling" in text, "the next command asks for the same"


def test_what_only_some_commands_look_at_can_be_asked_for():
    found = compare_all(
        GAME, [Variant(LONG)], bouts=36, workers=1, session=staged_pairs, asked=("wins_per_min", "game")
    )
    assert found.comparisons[0].row("wins_per_min").second is not None
    assert len(found.comparisons[0].rows) == len(FOUND.rows) + 1


def test_beside_several_what_the_first_cannot_tell_is_told_of_the_others():
    unknown = dict.fromkeys(("first", "second", "difference", "low", "high"), None)

    def with_rolling(**new):
        rows = (replace(one, **new) if one.measure == "in_play_share" else one for one in FOUND.rows)
        return replace(FOUND, rows=tuple(rows))

    clearly = {"first": 0.5, "second": 0.75, "difference": 0.25, "verdict": "clear, matters"}
    every = [with_rolling(**unknown, verdict="cannot tell"), with_rolling(**clearly)]
    lines = side_by_side(every, ["a", "b"], ("turnovers_per_min", "game"))
    assert "Ball rolling, % of the bout: as it is 50, b 75." in lines


def test_beside_several_all_roles_stand_in_one_line_and_touches_are_looked_at():
    variants = [Variant(LONG, (), "longer"), Variant(GAME, (), "same")]
    found = compare_all(GAME, variants, bouts=36, workers=1, session=staged_pairs)
    assert found.comparisons[0].row("touches_per_min").worthwhile is not None
    assert [one for one in FOUND.rows if one.measure == "touches_per_min"] == []
    told = {
        "distance_per_min": {"first": 40.0, "second": 50.0},
        "touches_per_min": {"first": 12.0, "second": 10.0},
    }
    clearly = {"difference": 1.0, "verdict": "clear, matters"}

    def rows(one):
        return replace(one, **clearly, **told[one.measure]) if one.measure in told else one

    every = [replace(one, rows=tuple(map(rows, one.rows))) for one in found.comparisons]
    lines = side_by_side(every, ["a", "b"], ("turnovers_per_min", "game"))
    roles = [row.scope.partition(":")[2] for row in FOUND.rows if row.measure == "distance_per_min"]
    both = ["/".join([str(n)] * len(roles)) for n in (40, 50)]
    assert f"Metres/min {'/'.join(roles)}: as it is {both[0]}, a {both[1]}, b {both[1]}." in lines
    assert "Touches each, a minute rolling: as it is 12, a 10, b 10." in lines


def test_the_table_of_several_has_a_column_for_either_range():
    variants = [Variant(LONG, (), "longer"), Variant(GAME, (), "same")]
    found = compare_all(GAME, variants, bouts=36, workers=1, session=staged_pairs)
    text = compared_on_a_screen(
        found, [GAME, LONG, GAME], Given("compare", "square", question=(("--bundle", "x: y=1"),))
    )
    holds(text)
    head = next(line for line in text.splitlines() if "usually  " in line)
    assert head.split() == ["a", "bout", "usually", "a", "minute", "rolling"]
    longer = next(line for line in text.splitlines() if line.startswith("longer"))
    assert re.search(r"fewer, \+- \d", longer) and longer.index("+-") > head.index("usually")
    assert "usually: 8 evenings in 10" in text
