"""The ball is the side's whose player has it, also when winner and loser change places and play goes on."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from sim.evidence.conditions import Condition, game_of
from sim.game.loader import load_game
from sim.measures.event_reducer import reduce_events
from sim.pitch.carrier import out_of_time
from sim.pitch.engine import begin, play_bout, race
from sim.pitch.state import Bout
from sim.players import draw_roster
from tests.support.games import GAMES as SIX


def swapping(seed: int):
    game = game_of(Condition("square-swap", ("bouts.minutes=6",), "amateur men"))
    return game, play_bout(game, draw_roster(game, seed, 0), seed, 0)


CASES = Path(__file__).resolve().parents[1] / "cases" / "valid"


@pytest.mark.parametrize("source", [*SIX, *sorted(CASES.glob("*.toml"))], ids=lambda one: getattr(one, "stem", one))
def test_a_side_keeps_its_number_of_players(source):
    # Players change places one for one, and no rule that is accepted takes anybody to the other side or leaves it empty.
    game = load_game(source, ["bouts.minutes=1"] if source in SIX else [])
    log = play_bout(game, draw_roster(game, 1, 0), 1, 0)
    side, counts, last = {}, [], 0.0
    for event in [*log.events, (log.duration_s + 1.0, 0, "", "", "", "")]:
        if event[0] > last and len(side) == len(game.players):
            counts.append(Counter(side.values()))
            last = event[0]
        if event[2] == "job":
            side[event[3]] = event[5]
    assert counts and all(one == counts[0] for one in counts)
    assert len(set(counts[0]) - {"holder"}) == 2


def test_nobody_plays_for_a_side_that_has_not_got_the_ball():
    goes_on = 0
    for seed in range(6):
        _, log = swapping(seed)
        side = {}
        for before, event in zip(log.events, log.events[1:], strict=False):
            kind, player, holding = event[2], event[3], event[5]
            if kind == "job":
                side[player] = event[5]
            if kind in ("release", "receive"):
                assert side[player] == holding
            goes_on += kind == "possession" and before[2] == "job"
    assert goes_on > 10  # wins after which the winner, now outside, has the ball and play goes on


def test_a_winner_who_puts_it_out_has_lost_it():
    straight = 0
    for seed in range(8):
        game, log = swapping(seed)
        events = [event for event in log.events if event[2] not in ("dead", "touch")]
        for one, two, three in zip(events, events[1:], events[2:], strict=False):
            if (one[2], two[2]) == ("release", "out"):
                assert (three[2], three[3]) == ("loss", one[3])
                straight += 1
    assert straight > 10


def test_who_has_held_the_ball_too_long_does_not_get_it_again():
    game = load_game("even-keep-ball")
    bout = Bout(game, draw_roster(game, 1, 0), 1, 0, 0, race)
    begin(bout)
    while bout.holder() < 0:
        bout.clock.env.step()
    holder, side, before = bout.holder(), bout.standing.side, len(bout.events)
    out_of_time(bout, holder)
    after = [(event[2], event[5]) for event in bout.events[before:]]
    assert after[0] == ("loss", side) and ("dead", bout.standing.side) in after
    assert all(kind != "possession" for kind, _ in after)


def test_where_play_stops_nobody_takes_the_ball_with_him():
    game = load_game("tight-square", ["bouts.minutes=6"])
    log = play_bout(game, draw_roster(game, 2, 0), 2, 0)
    kinds = [event[2] for event in log.events]
    wins = kinds.count("win")
    assert wins > 3
    runs = reduce_events(game, log).possessions.runs
    assert {run.side for run in runs} == {
        "outside"
    }  # play stopped as they won it: nothing an assistant would count for them
    assert sum(run.cause != "" for run in runs) == kinds.count("loss")


def test_a_winner_who_changes_sides_takes_the_ball_with_him_at_once():
    won = 0
    for seed in range(6):
        game, log = swapping(seed)
        runs = reduce_events(game, log).possessions.runs
        assert all(
            run.cut and not run.passes for run in runs if run.side == "inside"
        )  # a new ball was served to the others
        runs = [run for run in runs if run.side == "outside"]
        for run, after in zip(runs, runs[1:], strict=False):
            if run.cause in ("interception", "tackle"):
                assert after.start_s == pytest.approx(run.end_s)
                won += 1
    assert won > 10
