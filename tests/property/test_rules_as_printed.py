"""Every rule of a game fires when its printed words say so, and does what they say: read from the log, on games at random."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from sim.errors import InputError
from sim.game.loader import load_game, resolve
from sim.game.model import Rule
from sim.pitch import answering
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from sim.rules.consequences import VERBS
from sim.words.rules import rules_in_words
from tests.support.games import GAMES
from tests.support.games_at_random import games
from tests.support.read_from_log import misplayed, unsaid

OWN = Path(__file__).resolve().parents[1] / "cases" / "valid"
CASES = sorted(OWN.glob("*.toml"))


def wrong(game, seed: int) -> list[str]:
    log = play_bout(game, draw_roster(game, seed, 0), seed)
    return misplayed(game, log) + unsaid(game, log)


@settings(max_examples=60)
@given(games(), st.integers(0, 3))
def test_the_log_agrees_with_the_words(short, seed):
    try:
        game = resolve(short, "random")
    except InputError:
        reject()
    assert wrong(game, seed) == [], rules_in_words(game)


@pytest.mark.parametrize("name", GAMES)
def test_shipped_games_are_played_as_printed(name):
    assert wrong(load_game(name), 1) == []


@pytest.mark.parametrize("file", CASES, ids=lambda file: file.stem)
def test_other_games_are_played_as_printed(file):
    assert wrong(load_game(file), 2) == []


SWAP_AND_END = "phases.keep.rules.loser-goes-in.do=[{ swap = 'loser', with = 'longest in' }, { end = 'bout' }]"
USES = {  # a game that uses the verb, and soon
    "open": ("two-squares", []),
    "close": ("two-squares", ["phases.keep.rules.unlock.count=2"]),
    "score": ("even-keep-ball", ["phases.keep.rules.point.count=2"]),
    "swap": ("tight-square", []),
    "trade": ("even-keep-ball", ["phases.keep.rules={ lost = { on = 'loss', do = [{ trade = 'roles' }] } }"]),
    "assign": ("home-grids", []),
    "phase": ("break-away", ["phases.keep.rules.set-free.count=3"]),
    "restart": ("tight-square", []),
    "reset": ("two-squares", ["phases.keep.rules.unlock.count=2"]),
    "end": ("tight-square", [SWAP_AND_END]),
    "window": (str(OWN / "win-it-back.toml"), ["bouts.seconds=40"]),
    "step": (str(OWN / "win-it-back.toml"), ["bouts.seconds=40"]),
    "resize": (str(OWN.parent / "language" / "shrinking-square.toml"), ["rules.point.count=2", "bouts.count=1"]),
}


@pytest.mark.parametrize("verb", VERBS)
def test_a_verb_that_does_nothing_is_seen(verb, monkeypatch):
    name, changes = USES[verb]
    game = load_game(name, changes)
    assert wrong(game, 1) == []
    monkeypatch.setitem(VERBS, verb, lambda play, event, action: None)
    assert wrong(game, 1) != []


def told(rule: str) -> list[str]:
    """A change: the game has this one rule, and a point for it."""
    return [f"phases.keep.rules={{ told = {{ {rule}, do = [{{ score = 1 }}] }} }}"]


STILE = (
    "gates={ stile = { within = 'field', width = 8 }, hatch = { within = 'field', width = 8, way = 'south-north' } }"
)
GUARDS = {  # a game that has the guard, and what is asked instead
    "by": ("tight-square", ["phases.keep.rules.loser-goes-in.by=inside"], None),
    "causes": ("tight-square", ["phases.keep.rules.loser-goes-in.causes=['tackle']"], ()),
    "each": ("even-keep-ball", ["phases.keep.rules.point.count=2"], False),
    "count": ("even-keep-ball", ["phases.keep.rules.point.count=3"], 2.0),
    "colour": ("even-keep-ball", told("on = 'loss', colour = 'amber'"), None),
    "last_step": (str(OWN / "win-it-back.toml"), ["bouts.seconds=40"], False),
    "from_area": ("two-squares", told("on = 'pass', from = 'east'"), None),
    "to_area": ("two-squares", told("on = 'pass', to = 'east'"), None),
    "by_role": ("two-squares", told("on = 'pass', by_role = 'east'"), None),
    "to_role": ("two-squares", told("on = 'pass', to_role = 'east'"), None),
    "through": ("even-keep-ball", [*told("on = 'pass', through = 'any'"), STILE], None),
    "other_gate": ("even-keep-ball", [*told("on = 'pass', through = 'any', other_gate = true"), STILE], False),
    "first_time": ("even-keep-ball", told("on = 'pass', first_time = true"), False),
    "not_back": ("even-keep-ball", told("on = 'pass', not_back = true"), False),
}


def test_every_guard_of_a_rule_stands_here():
    assert set(GUARDS) == set(Rule.model_fields) - {
        "name",
        "on",
        "do",
        "counter",
    }  # without its counter a rule waits for none


@pytest.mark.parametrize("guard", GUARDS)
def test_a_guard_that_is_not_asked_is_seen(guard, monkeypatch):
    name, changes, broken = GUARDS[guard]
    game, asked = load_game(name, changes), answering.answers
    assert wrong(game, 1) == []
    monkeypatch.setattr(
        answering,
        "answers",
        lambda rule, what, standing: asked(rule.model_copy(update={guard: broken}), what, standing),
    )
    assert wrong(game, 1) != []
