"""Comparisons of sessions made by hand: pairing, verdicts, JSON and words."""

from __future__ import annotations

import json
import re
from dataclasses import FrozenInstanceError, replace

import pytest

from sim.errors import InputError
from sim.experiments.cautions import footing, studies_of
from sim.experiments.compare import BESIDE_SEVERAL, Variant, compare_all, told_of, verdict_of
from sim.experiments.comparison import Compared, Comparison, Counting, Evening
from sim.experiments.key_measures import ALL_WORTHWHILE, LOST, NOT_BY_BOUT, WORTHWHILE, keys_of
from sim.game.loader import load_game
from sim.results import Replaced
from sim.words.commands import Given
from sim.words.compare_details import details_of_compared, gap
from sim.words.compare_screen import compared_on_a_screen
from sim.words.differences import counts, what_else
from sim.words.measure_names import MEASURES
from sim.words.measure_phrases import name_in_table
from sim.words.screen import whole_commands
from tests.support.comparison import compare
from tests.support.screens import holds
from tests.unit.experiments.staged_pairs import (
    GAME,
    LONG,
    interrupted_at_once_in_the_second_arm,
    interrupted_in_the_first_arm,
    interrupted_in_the_second_arm,
    staged_pairs,
)
from tests.unit.measures.handmade import goals_game


def found_of(first=GAME, second=LONG, bouts=36, session=staged_pairs, **more) -> Comparison:
    more = {"seed": 1, "workers": 1} | more
    return compare(first, second, bouts=bouts, session=session, **more)


FOUND = found_of(changes=((), ("areas.square.length=12",)))
GIVEN = Given("compare", "square")


def screen(found: Comparison, given: Given | None = GIVEN, second=LONG) -> str:
    """The small screen, lines that belong together in one."""
    return compared_on_a_screen(Compared((found,), ()), [GAME, second], given)


def running(text: str) -> str:
    return " ".join(text.split())


def details(found: Comparison) -> str:
    return details_of_compared(Compared((found,), ()))


def test_a_game_against_itself_differs_by_exactly_nothing():
    for row in found_of(GAME, GAME).rows:
        assert (row.difference, row.low, row.high, row.one_session, row.p_holm) == (0, 0, 0, 0.5, 1), row
        assert row.long_run == (None if row.measure in NOT_BY_BOUT else 0.5)
        assert row.first == row.second
        assert row.verdict == "no difference that matters"
    assert found_of(GAME, GAME).counting.minutes is None


def test_the_other_order_turns_every_sign():
    back = found_of(LONG, GAME)
    assert any(row.difference != 0 for row in FOUND.rows)
    for row in FOUND.rows:
        other = back.row(row.measure, row.scope)
        assert (other.first, other.second, other.difference) == (row.second, row.first, -row.difference)
        assert (other.low, other.high, other.p_holm) == (-row.high, -row.low, row.p_holm)
        if row.measure not in NOT_BY_BOUT:
            assert other.long_run == pytest.approx(1 - row.long_run, abs=1e-15)
        assert other.one_session == pytest.approx(1 - row.one_session, abs=1e-15)
        assert other.variance_ratio == row.variance_ratio


def test_any_number_of_workers_gives_the_same_bits():
    assert found_of(workers=1) == found_of(workers=2)
    assert found_of(workers=1) != found_of(workers=1, seed=2)


def test_known_rates_come_out():
    """Two losses a bout of 60 s; in play 8 s and the delay, then 10 s, then 25 s."""
    row, clock = FOUND.row("turnovers_per_min"), FOUND.row("turnovers_per_clock_min")
    assert (clock.first, clock.second, clock.difference) == (2.0, 2.0, 0.0)
    assert row.first > row.second > 0 and row.difference == row.second - row.first
    share = FOUND.row("in_play_share")
    assert row.first == pytest.approx(2.0 / share.first) and row.second == pytest.approx(2.0 / share.second)
    # the delays of a condition add 1, 1.2 and 1.4 s in turn: 1.2 s in 60 on average, more in every session
    assert share.difference == pytest.approx(1.2 / 60)
    assert share.one_session > 0.5 > row.one_session
    assert share.long_run > 0.999 and row.long_run < 0.001


def test_pairing_takes_out_what_the_arms_share():
    assert FOUND.row("in_play_share").variance_ratio > 5
    row = FOUND.row("in_play_share")
    assert row.half_independent > (row.high - row.low) / 2


def test_the_measures_are_those_both_games_have():
    assert [row.measure for row in FOUND.rows].count("distance_per_min") == 2
    assert {"points_per_min", "threshold_reached_per_min"} <= {row.measure for row in FOUND.rows}
    assert "goals_per_bout" not in {row.measure for row in FOUND.rows}
    assert set(ALL_WORTHWHILE) <= set(MEASURES)
    assert "goals_per_bout" in WORTHWHILE and goals_game().goals


@pytest.mark.parametrize(
    ("low", "high", "p_holm", "matters", "said"),
    [
        (0.5, 0.9, 0.001, 0.3, "clear, matters"),
        (-0.9, -0.5, 0.001, 0.3, "clear, matters"),
        (0.1, 0.9, 0.01, 0.3, "clear, size open"),
        (0.1, 0.9, 0.01, None, "clear, size open"),
        (0.1, 0.9, 0.20, 0.3, "cannot tell"),  # clear alone, not among so many
        (0.5, 0.9, 0.06, 0.3, "cannot tell"),
        (-0.2, 0.9, 0.5, 0.3, "cannot tell"),
        (-0.1, 0.2, 0.9, 0.3, "no difference that matters"),
        (0.1, 0.2, 0.001, 0.3, "no difference that matters"),  # there, but too small
    ],
)
def test_verdicts(low, high, p_holm, matters, said):
    assert verdict_of(low, high, p_holm, matters) == said


def test_what_matters_can_be_changed():
    usual, picky = FOUND.row("in_play_share"), found_of(worthwhile={"in_play_share": 0.001}).row("in_play_share")
    assert usual.worthwhile == pytest.approx(0.05 * usual.first)
    assert picky.worthwhile == pytest.approx(0.001 * usual.first)
    assert (usual.verdict, picky.verdict) == ("no difference that matters", "clear, matters")


@pytest.mark.parametrize(
    ("more", "message"),
    [
        ({"bouts": 0}, "bouts must be at least 1 (got 0)"),
        ({"bouts": 3}, "bouts must be at least 4, for two sessions of 3 (got 3)"),
        ({"seed": -1}, "seed must be at least 0 (got -1)"),
        ({"workers": 0}, "workers must be at least 1 (got 0)"),
        (
            {"worthwhile": {"pass_completion": 3.0}},
            "worthwhile.pass_completion must be a share between 0 and 1 (got 3.0)",
        ),
    ],
)
def test_what_cannot_be_compared_is_refused(more, message):
    with pytest.raises(InputError) as refusal:
        found_of(**more)
    assert refusal.value.problems == (message,)


def test_an_unknown_measure_names_those_there_are():
    with pytest.raises(InputError, match=r"worthwhile must name one of: turnovers_per_min, .* \(got luck\)"):
        found_of(worthwhile={"luck": 0.1})


def test_progress_counts_both_arms():
    told = []
    found_of(progress=lambda done, wanted: told.append((done, wanted)))
    assert told == sorted(told) and told[0] == (3, 72) and told[-1] == (72, 72)


def test_an_interruption_keeps_whole_pairs():
    found = found_of(session=interrupted_in_the_second_arm)
    assert (found.sessions, found.bouts) == (4, 12)
    assert "Stopped early: 4 of 12 sessions were finished." in found.cautions
    assert found.rows == found_of(bouts=12).rows


def test_an_interruption_of_the_first_arm_keeps_them_too():
    assert found_of(session=interrupted_in_the_first_arm).rows == found_of(bouts=12).rows


def test_an_interruption_before_two_pairs_leaves_nothing_to_compare():
    with pytest.raises(KeyboardInterrupt):
        found_of(session=interrupted_at_once_in_the_second_arm)


def test_several_variants_share_the_first_arm_and_the_error():
    longer = LONG.model_copy(update={"name": "longer"})
    variants = [Variant(LONG, ("a=1",), "one"), Variant(longer, (), "two"), Variant(GAME, (), "same")]
    found = compare_all(GAME, variants, bouts=36, workers=1, session=staged_pairs)
    one, two, same = found.comparisons
    assert [condition.second.name for condition in found.comparisons] == ["one", "two", "same"]
    for row in (own for own in one.rows if (own.measure, own.scope) not in BESIDE_SEVERAL):
        alone = FOUND.row(row.measure, row.scope)
        assert replace(row, p_holm=0, verdict="cannot tell") == replace(alone, p_holm=0, verdict="cannot tell")
        assert row.p_holm >= alone.p_holm, "Holm's adjustment is over all variants"
        assert row == two.row(row.measure, row.scope)
    assert {row.difference for row in same.rows} == {0.0}
    text = details_of_compared(found)
    assert text.count("An estimate, not advice") == 1 and "one, against as it is\n---" in text
    small = compared_on_a_screen(
        found, [GAME, LONG, longer, GAME], Given("compare", "square", question=(("--bundle", "x: y=1"),))
    )
    holds(small)
    lines = [line.split() for line in small.splitlines()]
    assert [line[0] for line in lines if line[-1:] == ["call"] or line[-3:] == ["plays", "the", "same"]] == [
        "one",
        "two",
        "same",
    ]
    assert ["as", "it", "is", "2.0"] in [line[:4] for line in lines]
    assert "  overload compare square --bundle 'x: y=1' --bouts 144" in small


def test_tables_for_pictures_say_the_same():
    found = compare_all(GAME, [Variant(LONG, (), "long")], bouts=36, workers=1, session=staged_pairs)
    table, sessions = found.differences(), found.sessions()
    assert len(table) == len(FOUND.rows) and set(table["condition"]) == {"long"}
    row = table[table["measure"] == "in_play_share"].iloc[0]
    own = sessions[sessions["measure"] == "in_play_share"].groupby("condition")["value"].mean()
    assert (own["as it is"], own["long"]) == pytest.approx((row["first"], row["second"]))
    assert len(sessions[(sessions["measure"] == "in_play_share") & (sessions["condition"] == "long")]) == 12


def test_two_variants_of_one_name_are_refused():
    with pytest.raises(InputError, match=r"every variant must have a name of its own \(got x, x\)"):
        compare_all(GAME, [Variant(LONG, (), "x"), Variant(LONG, (), "x")], bouts=36, session=staged_pairs)


def test_json_there_and_back():
    text = FOUND.to_json()
    assert Comparison.from_json(text) == FOUND
    assert "NaN" not in text
    with pytest.raises(FrozenInstanceError):
        FOUND.seed = 2


@pytest.mark.parametrize(
    "spoil", [lambda data: data.pop("rows"), lambda data: data.update(more=1), lambda data: data.update(format=9)]
)
def test_other_json_is_refused(spoil):
    data = json.loads(FOUND.to_json())
    spoil(data)
    with pytest.raises(InputError, match=r"comparison: (rows|more|format) must"):
        Comparison.from_json(json.dumps(data))


def test_the_screen_says_what_was_asked_how_often_they_lose_it_and_how_sure_that_is():
    """Two losses in every bout of 60 s of both; the ball rolls for 46 to 48 s of it."""
    text = screen(FOUND)
    row = FOUND.row("turnovers_per_min")
    holds(text)
    assert text.startswith("A square: 4 v 2, 10 x 10 m, two touches; 36 bouts of 1 min of each\n")
    said = running(text)
    assert "With 12 x 10 m they lose it about 2 times a bout on the watch, as without." in said
    rate = f"With the ball rolling {row.second:.1f} a minute, not {row.first:.1f}: {-row.difference:.2f} fewer, give or take "
    assert f"{rate}{(row.high - row.low) / 2:.2f}." in said
    assert "Too close to call: if there is a difference you would not notice." in said
    assert "\n  overload estimate square --set areas.square.length=12\n" in text


@pytest.mark.parametrize(
    ("verdict", "said"),
    [
        ("clear, matters", "A real difference, and a big one."),
        ("clear, size open", "A real difference, but how big isn't clear."),
        ("no difference that matters", "Too close to call: if there is a difference you would not notice."),
        ("cannot tell", "It could still be luck."),
    ],
)
def test_how_sure_in_football_words(verdict, said):
    text = screen(with_row(first=2.0, second=5.0, difference=3.0, low=2.5, high=3.5, verdict=verdict))
    holds(text)
    assert said in running(text) and "5.0 a minute, not 2.0: 3.0 more, give or take 0.5." in running(text)


def test_a_game_against_itself_plays_the_same():
    text = screen(found_of(GAME, GAME), second=GAME)
    holds(text)
    assert "No difference at all: they play the same." in text and "There is no difference to count." in text
    assert "Nothing else changes enough to notice." in text


def test_a_game_that_differs_in_something_else_does_not_play_the_same():
    alike = found_of(GAME, GAME)
    other = next(row for row in alike.rows if row.measure == "passes_per_min")
    moved = replace(other, second=other.first + 9.0, difference=9.0, low=8.0, high=10.0, verdict="clear, matters")
    text = screen(replace(alike, rows=tuple(moved if row is other else row for row in alike.rows)), second=GAME)
    holds(text)
    assert "They lose it exactly as often." in text and "play the same" not in text


def test_what_else_changes_is_said_with_its_clock_and_the_rest_is_left_to_the_details():
    rows = tuple(
        replace(row, first=first, second=second, verdict="clear, matters")
        for row in FOUND.rows
        for first, second in [(0.5, 0.25) if row.unit == "share" else (2.0, 6.0)]
    )
    text = screen(replace(FOUND, rows=rows))
    holds(text)
    assert "\n  They string about 6 passes together, not 2.\n" in text
    assert "\n  The ball is rolling for 25 % of the time on the watch, not 50 %.\n" not in text, "the fifth of all"
    named = what_else(rows)
    assert named[2] == "Metres a minute on the watch: outside 6.0, not 2.0; inside 6.0, not 2.0."
    assert "The ball is rolling for 25 % of the time on the watch, not 50 %." in named
    assert what_else([]) == ["Nothing else changes enough to notice."]
    clocks = ("with the ball rolling", "on the watch", "together", "passes arrive", "% of runs")
    assert all(any(clock in line for clock in clocks) for line in named)


def test_losses_a_bout_are_whole_where_that_says_enough():
    assert counts(5.4, 3.3) == ("5", "3")
    assert counts(5.4, 5.3) == ("5.4", "5.3")
    assert counts(2.2, 1.1) == ("2.2", "1.1")


def test_bouts_of_another_length_are_said_to_be():
    longer = LONG.model_copy(update={"bouts": LONG.bouts.model_copy(update={"seconds": 120.0})})
    text = screen(FOUND, second=longer)
    assert "they lose it about 4 times in two minutes, as it is 2 times in a minute, on the watch." in running(text)


def test_where_nobody_loses_it_nothing_is_made_up():
    nothing = dict.fromkeys(("first", "second", "difference", "low", "high", "one_session", "p_holm"), None)
    text = screen(replace(with_row(**nothing, worthwhile=None, verdict="cannot tell"), counting=None))
    holds(text)
    assert "12 x 10 m: how often they lose it can't be told." in text


def test_with_goals_losses_come_first_and_shots_are_told_apart():
    was, now = Evening(1.1, 1.4, 0.93, 0.8, 1.0), Evening(1.2, 1.8, 1.1, 0.9, 1.4)
    lost = replace(
        FOUND.row("turnovers_per_min"), measure=LOST, first=1.25, second=1.5, difference=0.25, low=0.1, high=0.4,
        first_evening=was, second_evening=now, watch_session=0.81,
    )  # fmt: skip
    found = replace(FOUND, rows=(*FOUND.rows, lost))
    said = running(screen(found))
    assert "With 12 x 10 m they lose it about 1.1 times a bout on the watch instead of 0.93." in said
    assert "Usually 0.9 to 1.4, as it is 0.8 to 1 (8 evenings in 10): more 8 times in 10." in said
    assert "losses and shots/min" in details(found) and "losses/min, shots not counted" in details(found)
    assert "losses and shots/min" not in details(FOUND)


def test_the_details_hold_every_measure_once_with_its_clock():
    text = details(FOUND)
    for row in FOUND.rows:
        name = name_in_table(row.measure, row.scope, {one.measure for one in FOUND.rows})
        first, chance = [line for line in text.splitlines() if line.startswith(f"{name}  ")]
        assert {"watch": " watch ", "in play": " ball rolling "}[row.clock] in first
        assert gap(row) in first and "%" in chance
    assert len({name_in_table(row.measure, row.scope, ()) for row in FOUND.rows}) == len(FOUND.rows)
    assert text.count("Holm") == 1 and text.splitlines()[-1].startswith("An estimate, not advice")
    narrow = details_of_compared(Compared((FOUND,), ()), 80)
    assert max(len(line) for line in narrow.splitlines()) <= 80
    assert sorted(narrow.split()) == sorted(text.split()), "folded, and nothing lost"


def test_where_nobody_shoots_balls_lost_are_turnovers_and_listed_once():
    names = [name for name, scope in keys_of(GAME) if scope == "game"]
    with_goals = [name for name, scope in keys_of(goals_game()) if scope == "game"]
    assert "turnovers_per_min" in names and not {LOST, "shot_ends_per_min"} & set(names)
    assert {"turnovers_per_min", LOST, "shot_ends_per_min"} <= set(with_goals)
    assert {"pass_run_median", "pass_run_share_reaching"} <= set(names) and "pass_run_mean" not in names
    assert "pass_run_share_reaching" not in with_goals, "it asks for no passes"


def test_what_both_arms_have_is_no_tweak():
    first, second = FOUND.first, FOUND.second
    both = replace(
        FOUND,
        first=replace(first, changes=("bouts.count=5",)),
        second=replace(second, changes=("bouts.count=5", *second.changes)),
    )
    text = screen(both, replace(GIVEN, changes=("bouts.count=5",)))
    assert "With 12 x 10 m they lose it" in text
    assert "overload estimate square --set bouts.count=5 --set areas.square.length=12" in text


def with_row(**changes) -> Comparison:
    rows = tuple(replace(row, **changes) if row.measure == "turnovers_per_min" else row for row in FOUND.rows)
    return replace(FOUND, rows=rows)


def lines_of(found) -> list[str]:
    return [line for line in found.cautions if "longest line" in line]


def test_a_caution_that_is_one_game_s_own_says_whose():
    """The diagonal of 10 x 10 m is 14 m, of 12 x 10 m 16 m; 30 m is long enough."""
    short = "Fast running: do not rely on it here, the longest line is 14 m"
    wide = GAME.model_copy(update={"areas": tuple(area.model_copy(update={"length": 30.0}) for area in GAME.areas)})
    changes = ((), ("areas.square.length=30",))
    assert lines_of(found_of(GAME, GAME)) == [f"{short}."]
    assert lines_of(found_of(GAME, wide, changes=changes)) == [f"{short} (only as it is)."]
    assert lines_of(found_of(wide, GAME)) == [f"{short} (only changed)."]
    assert lines_of(found_of(wide, GAME, changes=((), ("side=10",)))) == [f"{short} (only with side=10)."]
    variants = [Variant(LONG, (), "one"), Variant(wide, (), "two"), Variant(GAME, (), "same")]
    found = compare_all(GAME, variants, bouts=36, workers=1, session=staged_pairs)
    text = running(compared_on_a_screen(found, [GAME, LONG, wide, GAME]))
    told = re.findall(r"Fast running: .*?\)\.", text)
    assert told == [f"{short} (only as it is, same).", f"{short.replace('14', '16')} (only one)."]


def test_a_caution_that_differs_in_one_number_is_said_once_for_all():
    """The diagonal of 10 x 10 m is 14 m, of 12 x 10 m 16 m."""
    assert lines_of(FOUND) == ["Fast running: do not rely on it here, the longest line is 14 to 16 m."]
    end = "the end"
    lines = [("2 m wide, 1 m", "a 9", end), ("2 m wide, 10 m", "a 9", end), ("2 m wide, 2.5 m", "b 1", end)]
    assert told_of(lines, ["x", "y", "z"], (0, 1)) == ["2 m wide, 1 to 10 m", "a 9 (only x, y)."]
    assert told_of([("2 of 3", end), ("3 of 4", end)], ["x", "y"], (0, 1)) == ["2 of 3 (only x).", "3 of 4 (only y)."]


def test_a_variant_in_a_caution_is_said_as_a_coach_says_it():
    """30 m is long enough: the caution is the variant's own."""
    wide = GAME.model_copy(update={"areas": tuple(area.model_copy(update={"length": 30.0}) for area in GAME.areas)})
    variants = [Variant(GAME, ("areas.square.length=10",), said="10 x 10 m")]
    found = compare_all(wide, variants, bouts=36, workers=1, session=staged_pairs)
    (line,) = lines_of(found.comparisons[0])
    assert line.endswith(" (only with 10 x 10 m).")


def test_the_nearest_studies_of_several_sizes_are_said_once():
    """Three studies for four sizes; where one caution holds for all it stays whole."""
    names = ["as it is", "small", "mid", "big"]
    games = [load_game("even-goals", changes) for changes in ([], ["side=30"], ["side=36"], ["side=44"])]
    lines = [(*footing(game, ()), "the end") for game in games]
    studies = studies_of(games, names)
    for i in (1, 2, 3):
        assert told_of(lines, names, (0, i), studies) == [studies]
    assert studies.startswith("Nearest studies. As it is, big: 5v5 + keepers, 50 x 35 m, U17 boys, 114 metres a minute")
    assert re.findall(r"(?<=; )\w+(?=: )", studies) == ["small", "mid"] and studies.endswith(". Count your own.")
    assert studies.count("(our players: ") == 3
    assert told_of([lines[0]] * 2, names[:2], (0, 1), studies_of(games[:1] * 2, names[:2])) == list(lines[0][:1])
    assert studies_of([load_game("tight-square")] * 2, names[:2]) == ""


def test_which_of_our_numbers_rest_on_studies_is_said_of_those_alone():
    """Boys on 50 m were studied and come out right, on 30 m they do not."""
    small, large = (load_game("even-goals", [side], "U17 boys") for side in ("side=30", "side=50"))
    assert studies_of([small, large], ["small", "large"]).endswith(
        ". Our metres a minute rest on such games (only large)."
    )
    assert studies_of([large, large], ["one", "other"]).endswith(". Our metres a minute rest on such games.")


def test_what_is_refused_to_a_player_is_not_tried_next():
    line = "No proposal for Bo, on reduced load: it could mean more to do."
    for one in (FOUND, with_row(difference=0.1, low=-0.3, high=0.5, worthwhile=0.25, verdict="cannot tell")):
        refused = replace(one, cautions=(line, *one.cautions))
        assert "Try next" in screen(one)
        assert "Try next" not in screen(refused) and line in screen(refused)


def test_words_when_it_cannot_be_told():
    text = screen(
        with_row(first=2.5, difference=0.1, low=-0.3, high=0.5, worthwhile=0.25, verdict="cannot tell"),
        replace(GIVEN, seed=9, question=(("--worthwhile", ["turnovers_per_min=12%"]),)),
    )
    assert "It could still be luck." in text
    tweak = "--change areas.square.length=12 --worthwhile turnovers_per_min=12% --bouts 100 --seed 9\n"
    assert f"\n  overload compare square {tweak}" in whole_commands(text)
    # (0.4 / 0.02) squared, times 36 bouts, is 14,400: no use in asking for more
    text = screen(with_row(difference=0.1, low=-0.3, high=0.5, worthwhile=0.02, verdict="cannot tell"))
    assert "Try a larger change: of this one no sensible number of bouts would tell more." in running(text)


def test_the_next_command_keeps_the_players():
    assert "areas.square.length=12 --population 'U17 boys' --assumptions 'my own.toml'" in whole_commands(
        screen(FOUND, replace(GIVEN, population="U17 boys", assumptions="my own.toml"))
    )


def test_without_knowing_how_it_was_asked_no_command_is_made_up():
    text = screen(FOUND, None)
    assert "overload " not in text and "Try next, to see it whole: areas.square.length=12." in text


def test_a_file_of_the_same_name_is_another_game():
    mine = replace(FOUND, second=replace(FOUND.second, name="./square.toml", changes=()))
    text = screen(mine, replace(GIVEN, others=("./square.toml",)))
    assert "In ./square.toml they lose it about 2 times a bout of a minute, here about 2 times" in running(text)
    assert "\n  overload estimate ./square.toml\n" in text
    other = replace(mine, second=replace(mine.second, title="Another square"))
    assert "In Another square they lose it" in screen(other, replace(GIVEN, others=("./square.toml",)))


def test_a_named_tweak_says_its_changes_too():
    named = replace(FOUND, second=replace(FOUND.second, name="longer"))
    assert "With longer (12 x 10 m) they lose it" in screen(named)
    same = replace(FOUND, second=replace(FOUND.second, name="12 x 10 M"))
    assert "With 12 x 10 m they lose it" in screen(same)


def test_own_assumptions_are_told():
    def with_own(*names: str) -> str:
        own = tuple(Replaced(name, "1", 0.5, 0.25) for name in names)
        return screen(replace(FOUND, provenance=replace(FOUND.provenance, assumptions=own)))

    assert "Played with assumptions of your own: tackle_win = 0.25 (ours: 0.5)." in with_own("tackle_win")
    assert "Played with 2 assumptions of your own (--details names them)." in with_own("tackle_win", "stay_worth")


def test_words_of_counting():
    """The ball rolls for 0.77 of the minute at the least: minutes of play are so much longer on the watch."""
    share = min(FOUND.row("in_play_share").first, FOUND.row("in_play_share").second)

    def lines(*numbers, verdict="clear, matters") -> tuple[str, str]:
        found = replace(with_row(verdict=verdict), counting=Counting(*numbers))
        whole = next(one for one in details(found).splitlines() if one.startswith("On the grass"))
        return running(screen(found)), whole

    small, whole = lines(345.2, 172.7, 2.0, 2.0)
    assert "350 minutes of each with the ball rolling to see it four times in five; 170 at the very least" in whole
    told = f"{float(f'{345.2 / share:.2g}'):.0f} minutes of each on the watch"
    assert f"Count losses for about {told} and you should see it." in small
    small, _ = lines(345.2, 172.7, 2.0, 2.0, verdict="cannot tell")
    assert f"If it is real, count losses for about {told} to see it." in small
    small, whole = lines(100.0, 172.7, 0.6, 0.6)
    assert whole.endswith("about 170 minutes of each with the ball rolling to see it four times in five.")
    small, whole = lines(9000.0, 5000.0, 2.0, 2.0)
    assert (
        "about 9000 minutes" in whole and "5000 at the very least" in whole and whole.endswith("Do not count for it.")
    )
    hours = f"{float(f'{9000 / share / 60:.2g}'):.0f} hours"
    assert f"You would not see it on the grass: it takes about {hours} of each on the watch." in small
    assert "on the grass" not in lines(9000.0, 5000.0, 2.0, 2.0, verdict="cannot tell")[0]
    small, whole = lines(None, None, 1.0, 1.0)
    assert "no difference in losses to be counted" in whole and "There is no difference to count." in small


@pytest.mark.parametrize(
    ("numbers", "said"),
    [
        ((0.15, -0.36, 0.66), "+0.15 (-0.36 to +0.66)"),
        ((-1.3, -2.6, 0.0095), "-1.3 (-2.6 to +0.0)"),
        ((18.2, 17.6, 18.9), "+18 (+18 to +19)"),
        ((117.0, 104.0, 123.0), "+120 (+100 to +120)"),
        ((0.0, 0.0, 0.0), "0 (0 to 0)"),
        ((-0.04, -0.6, 0.5), "-0.04 (-0.60 to +0.50)"),
    ],
)
def test_a_difference_is_said_with_two_digits_of_its_largest_part(numbers, said):
    row = replace(FOUND.row("turnovers_per_min"), difference=numbers[0], low=numbers[1], high=numbers[2])
    assert gap(row) == said
