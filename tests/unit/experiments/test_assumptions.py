"""The one table of assumptions, a user's file read against it, and what an edit does to an answer."""

from __future__ import annotations

import csv
import io
import tomllib
from dataclasses import replace
from pathlib import Path

import pytest

from sim import estimate, load_game, play
from sim.assumptions import NONE, Assumptions, preset
from sim.errors import InputError
from sim.experiments.assumption_file import COMPILED, assumptions_of, read_assumptions, template_of
from sim.experiments.assumption_table import FIXED, as_csv, chosen, rows
from sim.experiments.checkpoints import require_same
from sim.experiments.made_of import made_of
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import play_batches, replicate
from sim.experiments.sessions import Batch, bout_counts, session_bouts
from sim.measures.session_counts import counts_of_bout
from sim.measures.summary import summarise
from sim.measures.thresholds import limits_of
from sim.parameters import HEART, PROVENANCES, TABLE
from sim.pitch.assumptions import ENGINE, USUAL
from sim.players import draw_roster, typical_roster
from sim.populations import KINDS, POPULATIONS
from sim.words.assumptions import NOTHING, assumptions_in_words
from sim.words.screen import WIDTH

SMALL = ["bouts.minutes=0.3", "bouts.count=1"]
AMATEURS = "amateur men"


def refused(text: str) -> list[str]:
    with pytest.raises(InputError) as caught:
        assumptions_of(tomllib.loads(text), "mine.toml")
    assert caught.value.source == "mine.toml"
    return list(caught.value.problems)


# The table


def test_the_table_holds_every_constant_and_every_number_of_every_population_once():
    table = rows()
    places = [row.place if row.replaceable else (FIXED, row.name) for row in table]
    assert len(set(places)) == len(places)
    assert [row.name for row in table if row.group in (FIXED, "heart", "club")] == list(TABLE)
    assert tuple(row.name for row in table if row.group == "heart") == HEART
    assert [row.name for row in table if row.group == "engine"] == [one.name for one in ENGINE]
    for name, whose in POPULATIONS.items():
        mine = [row for row in table if row.group == name]
        assert len(mine) == 3 * len(KINDS) + len(whose.days)


def test_every_number_has_what_it_rests_on_and_lies_in_its_range():
    for row in rows():
        assert row.provenance in PROVENANCES and row.unit and row.note
        assert row.low <= row.value <= row.high, row
        assert row.spread is None or row.spread >= 0


def test_every_number_of_a_population_carries_spread_and_ignorance():
    for name in POPULATIONS:
        mine = [row for row in rows() if row.group == name]
        for number in ("mean", "spread", "ignorance"):
            assert [row.name for row in mine if row.number == number] == [kind.name for kind in KINDS]
        for row in mine:
            # A duel is measured against one's own population: its mean is 0 by definition, and nobody can be unsure of that.
            assert row.value > 0 or row.name == "duel", row


def test_a_choice_by_word_provenance_and_population():
    assert [row.name for row in chosen(["clean", "win"])] == ["tackle_win"]
    assert {row.provenance for row in chosen(provenance="open data")} == {"open data"}
    assert {row.group for row in chosen(whose="women")} == {"women"}
    assert len(chosen()) == len(rows())
    with pytest.raises(InputError) as caught:
        chosen([], "hearsay", "giants")
    assert [problem.split(" must")[0] for problem in caught.value.problems] == ["--provenance", "--population"]


def test_the_csv_gives_every_digit_back():
    lines = list(csv.DictReader(io.StringIO(as_csv(rows()))))
    assert len(lines) == len(rows())
    for line, row in zip(lines, rows(), strict=True):
        assert float(line["value"]) == row.value
        assert (line["name"], line["number"], line["unit"], line["note"]) == (row.name, row.number, row.unit, row.note)
        assert line["spread"] == ("" if row.spread is None else repr(row.spread))


def test_the_words_name_every_row_and_its_marks():
    words = assumptions_in_words(rows(), explained=False)
    for row in rows():
        assert row.name in words
    for mark in PROVENANCES:
        assert mark in words
    assert assumptions_in_words((), explained=False) == NOTHING
    assert "chance of a clean win" in assumptions_in_words(chosen(["clean"]), explained=True)


@pytest.mark.parametrize("explained", [False, True])
def test_the_words_fit_a_screen_and_details_fold_to_the_terminal(explained: bool):
    short = assumptions_in_words(rows(), explained)
    assert [line for line in short.splitlines() if len(line) > WIDTH] == []
    for word in ("standard deviation", "legal", "defended", "logit"):
        assert word not in short.partition("\nUnsure by:")[0] + short.partition("\nUnsure by:")[2] or explained
    whole = assumptions_in_words(rows(), explained, details=True, width=100)
    assert [line for line in whole.splitlines() if len(line) > 100] == []
    in_a_pipe = assumptions_in_words(rows(), explained, details=True)
    assert "that rests on" in in_a_pipe and "logit" in in_a_pipe
    assert "that rests on" not in short and "players differ by" in short


# The file


def test_a_file_is_read_in_its_own_words(tmp_path: Path):
    file = tmp_path / "mine.toml"
    file.write_text(
        '[engine]\ntackle_win = 0.5\n[population."amateur men"]\nday_effort = 0\n'
        '[population."amateur men".pass_success]\nmean = 0.96\nspread = 0.02\n',
        encoding="utf-8",
    )
    found = read_assumptions(file)
    assert found.engine == (("tackle_win", 0.5),)
    assert found.populations == (
        (AMATEURS, "day_effort", "value", 0.0),
        (AMATEURS, "pass_success", "mean", 0.96),
        (AMATEURS, "pass_success", "spread", 0.02),
    )
    mine = preset(AMATEURS, found)
    assert (mine.traits["pass_success"].mean, mine.traits["pass_success"].spread) == (0.96, 0.02)
    assert mine.traits["pass_success"].ignorance == POPULATIONS[AMATEURS].traits["pass_success"].ignorance
    assert mine.days["day_effort"].value == 0.0
    assert preset("women", found) == POPULATIONS["women"]


def test_everything_wrong_is_told_at_once():
    problems = refused(
        "[engine]\ntackle_wim = 0.5\ntackle_win = 0.9\neffort = true\nwalk = inf\npass_speed_base_mps = 7\n"
        '[population."amateur man".vmax_mps]\nmean = 9\n'
        "[population.women.vmax]\nmean = 9\n[population.women.tau_s]\nmedian = 1\nspread = 3\n"
        "[population]\nU12 = 3\n[motor]\nx = 1\n"
    )
    said = {problem.split(" ")[0] if '"' not in problem.split(" ")[0] else "quoted": problem for problem in problems}
    assert said["engine.tackle_wim"].startswith("engine.tackle_wim is not an assumption (did you mean tackle_win")
    assert said["engine.tackle_win"] == "engine.tackle_win must be between 0.1 and 0.6 (got 0.9)"
    assert said["engine.effort"] == "engine.effort must be a number (got true)"
    assert said["engine.walk"] == "engine.walk must be a number (got inf)"
    assert said["engine.pass_speed_base_mps"] == f"engine.pass_speed_base_mps {COMPILED} (got 7)"
    assert said["quoted"] == 'population."amateur man" is not an assumption (did you mean amateur men or elite men?)'
    assert said["population.women.vmax"] == "population.women.vmax is not an assumption (did you mean vmax_mps?)"
    assert (
        said["population.women.tau_s.median"]
        == "population.women.tau_s.median is not an assumption (did you mean mean?)"
    )
    assert said["population.women.tau_s.spread"] == "population.women.tau_s.spread must be between 0 and 0.22 s (got 3)"
    assert said["population.U12"] == "population.U12 must be a table (got 3)"
    assert said["motor"] == "motor is not an assumption (there can be club, engine, heart or population)"
    assert len(problems) == 11


def test_values_that_could_not_be_played_are_refused():
    assert refused("[population.women.pressing_speed_mps]\nmean = 5.0\n") == [
        "population.women.pressing_speed_mps.mean must be at most 4.16, what the top speed allows, in m/s (got 5)"
    ]
    assert refused("[population.women.first_touch]\nmean = 0\n") == [
        "population.women.first_touch.mean must be greater than 0 (got 0)"
    ]


@pytest.mark.parametrize("name", POPULATIONS)
def test_players_can_be_drawn_at_the_widest_that_is_legal(name: str):
    widest = Assumptions(
        (),
        tuple(
            (row.group, row.name, row.number, row.high) for row in rows() if row.group == name and row.number != "mean"
        ),
    )
    game = load_game("tight-square", population=name)
    for number in range(40):
        for profile in draw_roster(game, 1, number, widest).values():
            assert 0.4 < profile.drive < 2.5


def test_a_file_that_is_none(tmp_path: Path):
    with pytest.raises(InputError, match="must name a readable text file"):
        read_assumptions(tmp_path / "nowhere.toml")
    (tmp_path / "bad.toml").write_text("[engine", encoding="utf-8")
    with pytest.raises(InputError, match="must be valid TOML"):
        read_assumptions(tmp_path / "bad.toml")


@pytest.mark.parametrize("name", POPULATIONS)
def test_the_template_is_a_file_that_changes_nothing_and_with_its_marks_taken_away_says_what_we_say(name: str):
    text = template_of(name)
    assert not assumptions_of(tomllib.loads(text))
    lines = text.splitlines()
    bare = "\n".join(line.removeprefix("# ") if " = " in line else line for line in lines)
    full = assumptions_of(tomllib.loads(bare))
    assert dict(full.heart) == pytest.approx({name: TABLE[name].value for name in HEART}, rel=1e-5)
    assert full.constants == pytest.approx({one.name: one.value for one in ENGINE}, rel=1e-5)
    assert len(full.populations) == 3 * len(KINDS) + len(POPULATIONS[name].days)
    for _, trait, number, value in full.populations:
        if number != "value":
            assert value == pytest.approx(getattr(POPULATIONS[name].traits[trait], number), rel=1e-5)


# What an edit does


def test_an_edit_reaches_the_play_and_is_kept_with_the_answer():
    game = load_game("tight-square", SMALL)
    mine = Assumptions((("replan", 0.5),), ((AMATEURS, "pass_success", "mean", 0.8),))
    plain, changed = (estimate(game, bouts=4, seed=1, workers=1, assumptions=which) for which in (NONE, mine))
    assert plain.provenance.assumptions == ()
    assert changed.row("turnovers_per_min").mean > plain.row("turnovers_per_min").mean
    names = [one.name for one in changed.provenance.assumptions]
    assert names == ["engine.replan", 'population."amateur men".pass_success.mean']
    assert (changed.provenance.assumptions[0].own, changed.provenance.assumptions[0].value) == (USUAL["replan"], 0.5)
    assert (changed.provenance.parameters["replan"], plain.provenance.parameters["replan"]) == (0.5, USUAL["replan"])
    for half in (Assumptions(mine.engine, ()), Assumptions((), mine.populations)):
        assert repr(play(game, seed=1, assumptions=half).events) != repr(play(game, seed=1).events)
    assert repr(play(game, seed=1, assumptions=NONE).events) == repr(play(game, seed=1).events)


def test_the_very_values_of_the_program_change_nothing():
    game = load_game("tight-square", SMALL)
    same = Assumptions((("replan", USUAL["replan"]),), ((AMATEURS, "pass_success", "mean", 0.963),))
    one, other = (replicate(game, 2, 5, 1, assumptions=which).sessions for which in (NONE, same))
    assert summarise(game, one) == summarise(game, other)


def test_the_same_answer_in_processes_and_each_arm_with_its_own():
    game = load_game("tight-square", SMALL)
    mine = Assumptions((("replan", 0.5),), ())
    batches = [Batch(game, range(3), bout_counts, assumptions=one) for one in (NONE, mine)]
    both = [play_batches(batches, 7, workers) for workers in (1, 2)]
    for arm in (0, 1):
        alone = [repr([log.events for log in session_bouts(game, 7, n, (NONE, mine)[arm])]) for n in range(3)]
        assert len(set(alone)) == 3
        for n in range(3):
            assert (both[0][arm][n][0].cells == both[1][arm][n][0].cells).all()
    assert not (both[0][0][0][0].cells == both[0][1][0][0].cells).all()


def test_load_is_counted_for_the_players_who_played():
    # U12: speeds are shares of each player's own top speed, so a tally of other players would be another one.
    game = load_game("tight-square", SMALL, "U12")
    mine = Assumptions((), (("U12", "vmax_mps", "mean", 5.5),))
    (log,) = session_bouts(game, 3, 0, mine)
    (found,) = bout_counts(game, [log], mine)
    assert (found.cells == counts_of_bout(game, log).cells).all()
    assert log.profiles == tuple(draw_roster(game, 3, 0, mine)[name] for name in log.players)
    strangers = replace(log, profiles=tuple(draw_roster(game, 3, 0)[name] for name in log.players))
    assert not (found.cells == counts_of_bout(game, strangers).cells).all()


def test_a_log_without_its_players_is_not_counted_by_others():
    game = load_game("tight-square", SMALL)
    (log,) = session_bouts(game, 3, 0)
    with pytest.raises(ValueError, match=r"must hold the profile of every player \(got 0 of"):
        counts_of_bout(game, replace(log, profiles=()))


def test_sessions_of_other_assumptions_are_not_put_together():
    game = load_game("tight-square")
    kinds = [
        NONE,
        Assumptions((("replan", 0.5),), ()),
        Assumptions(heart=(("heart_rate_start_pct", 50.0),)),
        Assumptions((), ((AMATEURS, "vmax_mps", "mean", 8.5),)),
    ]
    made = [made_of(game, 1, provenance_of(limits_of(game), which)) for which in kinds]
    for i, one in enumerate(made):
        for j, other in enumerate(made):
            if i == j:
                require_same(one, other, "--extend")
            else:
                with pytest.raises(InputError, match="must have the same assumptions"):
                    require_same(one, other, "--extend")


def test_the_constants_of_the_heart_rate_reach_the_estimate_and_nothing_else():
    game = load_game("tight-square", SMALL)
    own = assumptions_of(
        {"heart": {"heart_rate_at_rest_pct": 44, "effort_from_pct": 45, "critical_share_of_aerobic": 0.95}}
    )
    plain, changed = (estimate(game, bouts=3, seed=2, workers=1, assumptions=which) for which in (NONE, own))
    moved = {one.measure for one, other in zip(plain.measures, changed.measures, strict=True) if one.mean != other.mean}
    assert moved == {"mean_heart_rate_estimate", "perceived_effort_estimate", "session_load_estimate"}
    heart, effort = (changed.row(name).mean for name in ("mean_heart_rate_estimate", "perceived_effort_estimate"))
    assert effort == pytest.approx(10 * (heart - 45) / 55)
    assert [one.name for one in changed.provenance.assumptions][0] == "heart.heart_rate_at_rest_pct"
    assert changed.provenance.parameters["effort_from_pct"] == 45


def test_a_fitness_test_is_read_with_the_users_share():
    game = load_game("tight-square", ["players.squad-1.intermittent_run=2000"])
    own = Assumptions(heart=(("critical_share_of_aerobic", 0.80),))
    plain, changed = typical_roster(game), typical_roster(game, own)
    ratio = changed["squad-1"].critical_speed_mps / plain["squad-1"].critical_speed_mps
    assert ratio == pytest.approx(0.80 / 0.88)
    assert changed["squad-2"] == plain["squad-2"]
