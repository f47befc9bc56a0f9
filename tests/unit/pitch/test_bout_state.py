"""The states of the ball and what each may become, moments that are void, and who imports whom in the engine room."""

from __future__ import annotations

import ast
from graphlib import TopologicalSorter
from itertools import product
from pathlib import Path

import pytest

from sim import pitch
from sim.game.loader import load_game
from sim.pitch import arrays as col
from sim.pitch.ball_state import MAY_BECOME, BallState
from sim.pitch.clock import ORDER, Clock, Spell
from sim.pitch.engine import HANDLERS, play_bout, race
from sim.pitch.log import EventKind
from sim.pitch.restarts import serve
from sim.pitch.state import Bout
from sim.players import draw_roster, typical_roster
from sim.rules.guards import RuleEvent

DEAD, HELD, ROLLING, OVER = BallState
ALLOWED = {
    (DEAD, HELD),
    (HELD, HELD),
    (HELD, ROLLING),
    (HELD, DEAD),
    (ROLLING, HELD),
    (ROLLING, ROLLING),
    (ROLLING, DEAD),
}
ALLOWED |= {(DEAD, OVER), (HELD, OVER), (ROLLING, OVER)}
ROOM = {f"sim.pitch.{path.stem}": ast.parse(path.read_text()) for path in Path(pitch.__file__).parent.glob("*.py")}


def bout_of(name: str = "tight-square") -> Bout:
    game = load_game(name)
    return Bout(game, typical_roster(game), 1, 0, 0, race)


@pytest.mark.parametrize(("now", "then"), list(product(BallState, BallState)))
def test_a_ball_becomes_only_what_it_can(now: BallState, then: BallState):
    bout = bout_of()
    bout.ball_state = now
    if (now, then) in ALLOWED:
        bout.become(then, 2 if then is HELD else -1)
        assert bout.ball_state is then
        assert bout.holder() == (2 if then is HELD else -1)
        assert bout.in_play() is (then in (HELD, ROLLING)) and bout.is_over() is (then is OVER)
    else:
        with pytest.raises(RuntimeError, match=f"{now.name.lower()} cannot become {then.name.lower()}"):
            bout.become(then)
        assert bout.ball_state is now


def test_every_state_stands_in_the_table_and_has_the_number_the_arrays_know():
    assert set(MAY_BECOME) == set(BallState)
    assert (col.DEAD, col.HELD, col.ROLLING) == (DEAD, HELD, ROLLING)


def test_a_new_state_voids_what_waited_for_the_old_one():
    bout, came = bout_of(), []
    bout.handlers = {kind: lambda bout, t, kind=kind: came.append(kind) for kind in ORDER}
    bout.become(HELD, 0)
    bout.flight.shot = True
    bout.expect(1.0, "look", bout.spells.ball)
    bout.expect(1.0, "tackle", bout.spells.tackle)
    bout.expect(1.0, "timer", bout.spells.timers)
    bout.become(ROLLING)
    bout.expect(2.0, "contact", bout.spells.ball)
    bout.expect(3.0, "whistle", None)
    assert not bout.flight.shot
    while "whistle" not in came:
        bout.clock.env.step()
    assert came == ["timer", "contact", "whistle"]


def test_a_moment_whose_spell_is_over_does_nothing_but_time_goes_on():
    clock, seen, one, other = Clock(), [], Spell(), Spell()
    clock.after = lambda: seen.append("after")
    clock.at(1.0, "look", lambda t: seen.append("void"), one)
    one.renew()
    clock.at(2.0, "look", lambda t: seen.append("anew"), one)
    clock.at(3.0, "look", lambda t: seen.append("other"), other)
    for _ in range(3):
        clock.env.step()
    assert seen == ["after", "anew", "after", "other", "after"]


def test_a_stopped_clock_lets_nothing_happen_and_forgets_what_waits():
    clock, seen = Clock(), []
    clock.after = lambda: seen.append("after")
    clock.at(1.0, "timer", lambda t: seen.append("timer"))
    clock.stop()
    clock.env.step()
    clock.at(2.0, "timer", lambda t: seen.append("timer"))
    clock.forget()
    assert seen == [] and clock.next_moment() == float("inf")


def test_a_restart_that_is_called_while_one_is_awaited_is_not_heard():
    bout = bout_of()
    bout.become(HELD, 0)
    serve(bout, "start", RuleEvent("loss", "outside", 0))
    before = list(bout.events)
    assert [event[2] for event in before] == ["dead", "serve"]
    serve(bout, "start", RuleEvent("loss", "outside", 0))
    assert bout.events == before


def test_every_kind_of_moment_has_its_handler():
    assert tuple(HANDLERS) == ORDER


def test_every_kind_of_event_is_written_by_somebody_and_as_a_plain_word():
    told = {
        node.attr
        for tree in ROOM.values()
        for node in ast.walk(tree)
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "EventKind"
    }
    assert told == {kind.name for kind in EventKind}
    game = load_game("even-goals", ["bouts.minutes=1"])
    assert {type(event[2]) for event in play_bout(game, draw_roster(game, 1, 0), 1).events} == {str}


def imports(tree: ast.Module) -> set[str]:
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module == "sim.pitch":
            found |= {f"sim.pitch.{alias.name}" for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add(str(node.module))
    return found & set(ROOM)


def test_the_engine_room_is_imported_in_one_direction():
    order = list(TopologicalSorter({name: imports(tree) for name, tree in ROOM.items()}).static_order())
    assert order.index("sim.pitch.state") < order.index("sim.pitch.restarts") < order.index("sim.pitch.engine")


def test_nothing_private_of_simpy_is_touched():
    private = [
        node.attr
        for node in ast.walk(ROOM["sim.pitch.clock"])
        if isinstance(node, ast.Attribute) and node.attr.startswith("_") and not node.attr.startswith("__")
    ]
    assert private == []
