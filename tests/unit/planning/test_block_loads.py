"""What a block gives: the same as an estimate of its game says, kept, found again, and gone on with."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sim.assumptions import NONE
from sim.errors import InputError
from sim.experiments import replicate
from sim.experiments.estimate import estimate
from sim.planning.block import Block, block_s, game_of
from sim.planning.block_loads import by_place, loads_of, outside, posts_of
from sim.planning.kept_loads import Shelf
from sim.players import draw_roster

SHORT = Block("tight-square", bouts=2, work_s=20, rest_s=10, explain_s=60, drinks_s=30, changeover_s=90)
SESSIONS = 2


def write(file: Path, data: bytes) -> None:
    file.write_bytes(data)


@pytest.fixture(scope="module")
def played():
    return loads_of([game_of(SHORT)], Shelf(), sessions=SESSIONS, workers=1)[0]


def test_a_block_is_its_game_with_its_bouts():
    game = game_of(SHORT)
    assert (game.bouts.count, game.bouts.seconds, game.bouts.rest_seconds) == (2, 20, 10)
    assert block_s(SHORT, game) == 60 + 20 + max(10, 30) + 20 + 90  # drinks in the rest
    stopped = game_of(Block("tight-square", ("bouts.clock=stopped",), bouts=2, work_s=20, rest_s=10))
    assert block_s(SHORT, stopped) == block_s(SHORT, game) + 2 * (stopped.bouts.most_seconds - 20)


def test_what_the_game_refuses_the_block_refuses():
    with pytest.raises(InputError, match="tight-sqare"):
        game_of(Block("tight-sqare"))


def test_the_sums_are_those_of_an_estimate(played):
    found = estimate(by_place(game_of(SHORT)), bouts=2 * SESSIONS, seed=1, workers=1)
    for measure in ("session_distance_m", "session_time_defending_s", "session_high_speed_distance_m"):
        assert played.of(measure).mean() == pytest.approx(found.row(measure).mean)
    assert played.losses_per_min == pytest.approx(found.row("balls_lost_per_min").mean)
    per_min = found.row("accelerations_per_min").mean
    assert 60 * played.of("accelerations").sum() / played.of("time_s").sum() == pytest.approx(per_min)
    assert played.of("session_load_estimate").shape == (SESSIONS, len(played.places))


def test_players_of_one_post_are_alike(played):
    for post in played.posts:
        assert np.ptp(played.mean()[list(post)], axis=0) == pytest.approx(0, abs=1e-9)
    assert played.mean().sum(axis=0) == pytest.approx(played.loads.mean(axis=0).sum(axis=0))


def test_where_a_list_moves_everybody_on_nobody_is_like_another():
    assert posts_of(game_of(Block("tight-square", ("bouts.rotate=list",)))) == tuple(
        (i,) for i in range(len(game_of(SHORT).players))
    )


def test_who_waits_outside_is_not_on_the_pitch():
    game = game_of(Block("one-more"))
    assert [game.roles[i].name for i in outside(game)] == ["bench"]


def test_minors_have_no_effort():
    game = game_of(Block("tight-square", bouts=1, work_s=10), population="U12")
    found = loads_of([game], Shelf(), sessions=1, workers=1)[0]
    assert np.isnan(found.of("session_load_estimate")).all()


def test_a_stopped_run_goes_on_and_a_broken_file_is_played_again(played, tmp_path: Path, monkeypatch):
    game, shelf = game_of(SHORT), Shelf(tmp_path, write)
    loads_of([game], shelf, sessions=1, workers=1)
    asked = []
    plays = replicate.play_batches
    monkeypatch.setattr(replicate, "play_batches", lambda b, *a: (asked.append(list(b[0].numbers)), plays(b, *a))[1])
    again = loads_of([game], shelf, sessions=SESSIONS, workers=1)[0]
    assert asked == [[1]]
    assert again.loads.tobytes() == played.loads.tobytes()
    assert loads_of([game], shelf, sessions=SESSIONS, workers=1)[0].lost.tolist() == played.lost.tolist()
    assert asked == [[1]]
    (file,) = tmp_path.iterdir()
    file.write_bytes(file.read_bytes()[:-9])
    assert loads_of([game], shelf, sessions=1, workers=1)[0].loads.tobytes() == played.loads[:1].tobytes()
    assert asked == [[1], [0]]


def test_what_was_finished_when_it_was_stopped_is_kept(played, tmp_path: Path, monkeypatch):
    game, shelf, plays = game_of(SHORT), Shelf(tmp_path, write), replicate.play_batches

    def stopped(batches, seed, workers, progress, tell):
        (first,) = batches
        plays([replace(first, numbers=first.numbers[:1])], seed, workers, progress, tell)
        return [{}]

    with monkeypatch.context() as patched:
        patched.setattr(replicate, "play_batches", stopped)
        with pytest.raises(KeyboardInterrupt):
            loads_of([game], shelf, sessions=SESSIONS, workers=1)
    kind = shelf.kind_of(by_place(game), 1, NONE)
    assert list(shelf.read(kind, len(game.players))) == [0]
    assert loads_of([game], shelf, sessions=SESSIONS, workers=1)[0].loads.tobytes() == played.loads.tobytes()


def test_a_session_is_on_the_disk_once_it_is_finished(tmp_path: Path, monkeypatch):
    game, shelf, there = game_of(SHORT), Shelf(tmp_path, write), []
    kind, plays = shelf.kind_of(by_place(game), 1, NONE), replicate.play_batches

    def looking(batches, seed, workers, progress, tell):
        def told(place, more):
            tell(place, more)
            there.append(sorted(shelf.read(kind, len(game.players))))

        return plays(batches, seed, workers, progress, told)

    monkeypatch.setattr(replicate, "play_batches", looking)
    loads_of([game], shelf, sessions=SESSIONS, workers=1)
    assert there == [list(range(n)) for n in range(1, SESSIONS + 1)]


def test_the_player_at_one_place_of_two_games_is_the_same_person_and_partners_stay_partners():
    one, other = (draw_roster(by_place(game_of(Block(name))), 1, 0) for name in ("tight-square", "even-keep-ball"))
    assert [one[f"place-{i:02d}"] for i in range(1, 7)] == [other[f"place-{i:02d}"] for i in range(1, 7)]
    game, pairs = game_of(Block("in-pairs")), by_place(game_of(Block("in-pairs"))).teams[0].pairs
    place = {player.id: i for i, player in enumerate(game.players, 1)}
    assert [(f"place-{place[a]:02d}", f"place-{place[b]:02d}") for a, b in game.teams[0].pairs] == list(pairs)


def test_another_seed_is_another_file(tmp_path: Path):
    shelf = Shelf(tmp_path, write)
    game = game_of(Block("tight-square", bouts=1, work_s=10))
    for seed in (1, 2):
        loads_of([game], shelf, seed, sessions=1, workers=1)
    assert len(list(tmp_path.iterdir())) == 2
