"""What is learned as it stands in the user's file: added, in force, taken back; and what it does to play."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim import load_game
from sim.assumptions import Assumptions, OwnData, preset
from sim.errors import InputError
from sim.experiments.assumption_file import read_assumptions
from sim.experiments.learned_entries import Entry, Value, last_entry, with_entry, without_last
from sim.experiments.replicate import Replication
from sim.experiments.sessions import bout_counts, restart_delay_s, session_bouts
from sim.game.delays import restarts_later
from sim.learning.design import Design, packed, planned, play, unpacked
from sim.players import draw_roster, typical_roster
from sim.provenance import engine

AMATEURS = "amateur men"
MINE = '# mine\n[engine]\ntackle_win = 0.5  # we saw that\n\n[population."amateur men".pass_success]\nmean = 0.97\n'


def entry(mean: float, date: str = "2026-11-29") -> Entry:
    place = ("population", AMATEURS, "pass_success", "mean")
    return Entry(
        date,
        'own "counts"',
        OwnData(6, 24, 48.0),
        (Value(place, 0.97, mean), Value(("club", "restarts_later_s"), 0.0, -1.5)),
    )


def test_an_entry_stands_over_what_is_written_and_the_last_one_counts(tmp_path: Path):
    file = tmp_path / "own.toml"
    once = with_entry(MINE, entry(0.93))
    file.write_text(with_entry(once, entry(0.92, "2026-12-01")), encoding="utf-8")
    found = read_assumptions(file)
    assert preset(AMATEURS, found).traits["pass_success"].mean == 0.92 and dict(found.club) == {
        "restarts_later_s": -1.5
    }
    assert found.own_data == OwnData(6, 24, 48.0) and found.constants == {"tackle_win": 0.5}
    bare = read_assumptions(file, learned=False)
    assert preset(AMATEURS, bare).traits["pass_success"].mean == 0.97 and bare.own_data is None and bare.club == ()
    assert last_entry(file.read_text(encoding="utf-8")) == entry(0.92, "2026-12-01")


def test_undo_gives_back_the_file_to_the_letter():
    once = with_entry(MINE, entry(0.93))
    assert without_last(with_entry(once, entry(0.92))) == once
    assert without_last(once) == MINE
    assert without_last(with_entry("", entry(0.92))) == "" and last_entry(MINE) is None
    more = once + "\n[heart]\nheart_rate_at_rest_pct = 38\n"  # written behind it by hand
    assert without_last(more).endswith("heart_rate_at_rest_pct = 38\n") and "learned" not in without_last(more)


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("[[learned]]\ndate = 1\n", "learned 1 must be as `overload learn` wrote it"),
        (
            with_entry("", entry(2.0)),
            'population."amateur men".pass_success.mean must be between 0.5 and 0.999 (got 2.0)',
        ),
        (with_entry("", entry(0.9)).replace("pass_success", "pass_luck"), "pass_luck.mean is not an assumption"),
    ],
)
def test_a_broken_entry_is_refused(text, complaint, tmp_path: Path):
    (tmp_path / "own.toml").write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_assumptions(tmp_path / "own.toml")
    assert complaint in str(caught.value)


# What the values do


def test_restarts_come_later_and_sooner_but_never_at_once():
    game = load_game("tight-square")
    assert restarts_later(game, 0.0) is game
    assert {one.seconds for one in restarts_later(game, 2.0).restarts} == {6.0}
    assert {one.seconds for one in restarts_later(game, -9.0).restarts} == {0.5}


def test_our_doubt_of_the_restarts_is_one_draw_a_session():
    sure, unsure = (
        Assumptions(club=(("restarts_later_s", 2.0),)),
        Assumptions(club=(("restarts_later_s", 2.0), ("restarts_unsure_s", 1.0))),
    )
    assert restart_delay_s(1, 4, Assumptions()) == 0.0 and restart_delay_s(1, 4, sure) == 2.0
    drawn = [restart_delay_s(1, n, unsure) for n in range(200)]
    assert len(set(drawn)) == 200 and restart_delay_s(1, 4, unsure) == drawn[4]
    assert abs(sum(drawn) / 200 - 2.0) < 0.25


def test_a_club_of_slow_restarts_has_the_ball_rolling_for_less_time():
    game = load_game("tight-square", ["bouts.minutes=1.5", "bouts.count=1"])
    slow = Assumptions(club=(("restarts_later_s", 8.0),))
    rolling = [
        sum(bout_counts(game, session_bouts(game, 1, n, own), own)[0].in_play_s for n in range(8))
        for own in (Assumptions(), slow)
    ]
    assert rolling[1] < 0.83 * rolling[0]  # as much as 20 of the 120 s asked before


def test_willingness_is_the_usual_day_of_everybody():
    game = load_game("tight-square")
    keen = Assumptions(populations=((AMATEURS, "willingness", "value", 1.1),))
    plain, more = draw_roster(game, 1, 3), draw_roster(game, 1, 3, keen)
    assert all(more[who].drive == pytest.approx(1.1 * plain[who].drive) for who in plain)
    assert {one.drive for one in typical_roster(game, keen).values()} == {1.1}


# The design on the disk


def test_a_design_is_kept_as_it_is_played_and_never_played_twice():
    game = load_game("tight-square", ["bouts.minutes=0.2", "bouts.count=2"])
    plan = planned(game, Replication(1, 1), points=4)
    kept: list[dict[str, Design]] = []
    (whole,) = play([plan], Replication(1, 1), {}, kept.append).values()
    assert whole.is_whole and whole.wanted == 4 and kept[-1] == {plan.key: whole}
    assert whole.table("losses").shape == (4, 2) and (whole.table("watch") == 12.0).all()
    back = unpacked(packed({plan.key: whole}), "x")
    assert back == {plan.key: whole}
    part = Design(engine(), 4, {n: whole.clubs[n] for n in (0, 2)})
    again = play([plan], Replication(1, 1), {plan.key: part}, kept.append)
    assert again == {plan.key: whole}  # the two that were missing, bit by bit as before
    count = len(kept)
    assert play([plan], Replication(1, 1, player=None), again, kept.append) == again and len(kept) == count
    assert packed({plan.key: Design("another", 4, whole.clubs)}) == b"{}"
    with pytest.raises(InputError, match="must be a file that `overload learn` wrote"):
        unpacked(b'{"k": {"engine": "e", "wanted": 1, "clubs": {"0": {}}}}', "x")


def test_a_design_that_is_stopped_keeps_the_clubs_that_have_played(monkeypatch: pytest.MonkeyPatch):
    game = load_game("tight-square", ["bouts.minutes=0.2", "bouts.count=1"])
    plan, kept = planned(game, Replication(1, 1), points=4), []

    def stopped(batches, seed, workers, progress, tell):
        from sim.experiments.replicate import play_batches

        play_batches(batches[:1], seed, workers, progress, tell)
        raise KeyboardInterrupt

    monkeypatch.setattr("sim.learning.design.play_batches", stopped)
    found = play([plan], Replication(1, 1), {}, kept.append)
    assert len(found[plan.key].clubs) == 1 and not found[plan.key].is_whole and kept == [found]


def test_what_is_written_below_an_entry_stays_and_one_written_otherwise_is_refused():
    mine = "# my note on hearts\n[heart]\n"
    assert without_last(with_entry(MINE, entry(0.95)) + mine).endswith(mine)
    with pytest.raises(InputError, match="must have its last entry as it was written"):
        without_last(with_entry("", entry(0.95)).replace("[[learned]]", "[[ learned ]]"), "own.toml")
