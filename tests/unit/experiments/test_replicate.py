"""Replication: whole sessions, the same bits however they are shared out, nothing lost on an interruption."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.experiments.replicate import chunks, parts_of, play_batches, replicate, sessions_for
from sim.experiments.sessions import Batch, session_counts
from sim.measures.summary import summarise
from tests.unit.experiments.staged import (
    broken_at_2,
    interrupted_at_3,
    interrupted_at_once,
    interrupts_the_parent_at_5,
    slow_at_1,
    staged,
)
from tests.unit.measures.handmade import square_game

GAME = square_game(count=3)


@pytest.mark.parametrize(("bouts", "sessions"), [(1, 1), (3, 1), (4, 2), (9, 3), (10, 4)])
def test_whole_sessions_until_at_least_so_many_bouts(bouts, sessions):
    assert sessions_for(GAME, bouts) == sessions
    played = replicate(GAME, bouts, seed=0, workers=1, session=staged)
    assert [one.replicate for one in played.sessions] == list(range(sessions))
    assert {one.bouts for one in played.sessions} == {3}


@pytest.mark.parametrize(("count", "workers"), [(0, 2), (1, 2), (7, 2), (100, 3), (1000, 2)])
def test_chunks_cover_every_session_once(count, workers):
    parts = chunks(count, workers)
    assert [number for part in parts for number in part] == list(range(count))
    assert all(0 < len(part) <= 16 for part in parts)


def test_any_number_of_workers_gives_the_same_bits():
    rows = [summarise(GAME, replicate(GAME, 60, 5, workers, session=staged).sessions) for workers in (1, 2, 3)]
    assert rows[0] == rows[1] == rows[2]
    assert rows[0] != summarise(GAME, replicate(GAME, 60, 6, 1, session=staged).sessions)


def test_sessions_stand_in_the_order_of_their_numbers_not_in_that_of_their_end():
    told = replicate(GAME, 60, 5, 2, session=slow_at_1).sessions
    assert [one.replicate for one in told] == list(range(20))


@pytest.mark.parametrize("workers", [1, 2])
def test_progress_counts_bouts_up_to_the_end(workers):
    told = []
    replicate(GAME, 30, 0, workers, progress=lambda done, wanted: told.append((done, wanted)), session=staged)
    assert told == sorted(told) and told[0] == (3, 30) and told[-1] == (30, 30)


def test_an_interruption_keeps_finished_sessions():
    played = replicate(GAME, 60, 0, workers=1, session=interrupted_at_3)
    assert ([one.replicate for one in played.sessions], played.wanted) == ([0, 1, 2], 20)


@pytest.mark.usefixtures("hears_interruptions")
def test_an_interruption_of_processes_keeps_finished_sessions():
    played = replicate(GAME, 600, 0, workers=2, session=interrupts_the_parent_at_5)
    numbers = [one.replicate for one in played.sessions]
    assert 0 in numbers and numbers == sorted(set(numbers))
    assert len(numbers) < played.wanted == 200


def test_an_interruption_before_anything_is_finished_stays_one():
    with pytest.raises(KeyboardInterrupt):
        replicate(GAME, 60, 0, workers=1, session=interrupted_at_once)


@pytest.mark.parametrize("workers", [1, 2])
def test_a_bug_is_not_swallowed(workers):
    with pytest.raises(ZeroDivisionError, match="broken on purpose"):
        replicate(GAME, 60, 0, workers, session=broken_at_2)


def test_known_sessions_are_not_played_again_and_gaps_are_filled():
    everything = {one.replicate: one for one in replicate(GAME, 30, 5, 1, session=staged).sessions}
    known = {number: everything[number] for number in (1, 2, 7)}
    told, whole = [], replicate(GAME, 30, 5, 1, session=staged)
    played = replicate(GAME, 30, 5, 1, lambda done, wanted: told.append(done), session=staged, known=known)
    assert summarise(GAME, played.sessions) == summarise(GAME, whole.sessions)
    assert all(played.sessions[number] is known[number] for number in known)
    assert told == [12, 15, 18, 21, 24, 27, 30]


@pytest.mark.parametrize("workers", [1, 2])
@pytest.mark.parametrize("warm", [True, False])
def test_arms_share_the_processes_and_keep_their_numbers(workers, warm):
    batches = [Batch(GAME, numbers, session_counts, staged) for numbers in ([0, 1, 2, 3, 9], [4])]
    found = play_batches(batches, 5, workers, warm=warm)
    assert [sorted(arm) for arm in found] == [[0, 1, 2, 3, 9], [4]]
    whole = {one.replicate: one for one in replicate(GAME, 30, 5, 1, session=staged).sessions}
    for number, one in (found[0] | found[1]).items():
        assert one.replicate == number and (one.cells == whole[number].cells).all()


def test_parts_hold_every_session_of_every_arm_once_and_take_turns():
    parts = parts_of([range(5), range(40), []], 2, True)
    assert parts[0] == (0, range(1))
    assert [arm for arm, _ in parts[:4]] == [0, 1, 0, 1]
    assert [n for arm, part in parts for n in part if arm == 0] == list(range(5))
    assert sorted(n for arm, part in parts for n in part if arm == 1) == list(range(40))


def test_more_bouts_than_anybody_waits_for_are_refused_before_they_are_numbered():
    with pytest.raises(InputError, match=r"bouts must be at most 1000000 \(got 2000000000\)"):
        replicate(GAME, 2_000_000_000, seed=0, workers=1, session=staged)
