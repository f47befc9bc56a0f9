"""The verbs of a resolved game and the tables that go by them: each handler takes the type it stands under."""

from __future__ import annotations

from typing import get_type_hints

import pytest
from pydantic import TypeAdapter, ValidationError

from sim.errors import InputError
from sim.game.actions import ACTIONS, ActionSpec
from sim.game.keys import fields
from sim.game.loader import load_game, to_resolved
from sim.game.playability import PLAYED
from sim.game.references import NAMED
from sim.game.resolve import action
from sim.game.verbs import KINDS, Assign, EndBout, Open, Score, Swap
from sim.rules.consequences import VERBS
from sim.words.diagram_words import IN_SHORT
from sim.words.rules import SAID

TABLES = {
    "consequences": {KINDS[verb]: does for verb, does in VERBS.items()},
    "words": SAID,
    "words on a diagram": IN_SHORT,
    "names": NAMED,
    "playability": PLAYED,
}


def misplaced(table: dict) -> list[str]:
    """The handlers that do not take the type under which they stand."""
    return [does.__name__ for kind, does in table.items() if get_type_hints(does)["action"] is not kind]


@pytest.mark.parametrize("name", TABLES)
def test_every_handler_takes_the_type_it_stands_under(name):
    assert misplaced(TABLES[name]) == []


def test_a_handler_under_another_type_is_seen():
    assert misplaced({Open: SAID[Swap], Swap: SAID[Swap]}) == ["_swapped"]


def test_every_verb_is_written_done_and_said():
    assert set(ACTIONS) == set(KINDS) == set(VERBS)
    assert set(SAID) == set(KINDS.values())


@pytest.mark.parametrize("verb", ACTIONS)
def test_no_word_of_a_verb_is_lost_between_file_and_resolved_game_and_back(verb):
    kept = {field.serialization_alias or name for name, field in KINDS[verb].model_fields.items() if name != "verb"}
    assert set(fields(ACTIONS[verb])) == kept and verb in kept


@pytest.mark.parametrize(
    ("written", "resolved"),
    [
        ({"score": 2.0, "to": "winner"}, Score(value=2.0, to="winner")),
        ({"swap": "loser", "with": "longest in"}, Swap(who="loser", other="longest in")),
        ({"assign": "rover", "of": "all"}, Assign(role="rover", who="all", other="nearest")),
        ({"end": "bout"}, EndBout()),
    ],
    ids=lambda one: next(iter(one)) if isinstance(one, dict) else "",
)
def test_a_consequence_has_the_fields_of_its_verb(written, resolved):
    assert action(TypeAdapter(ActionSpec).validate_python(written)) == resolved


def test_a_field_of_another_verb_is_refused():
    with pytest.raises(ValidationError, match="count"):
        Score(value=1.0, to="holder", count=2)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"verb": "jump"}, "phases.rules.do.verb must be one of open, close, score"),
        ({"who": 7}, "phases.rules.do.who must be text (got 7)"),
        ({"count": 2}, "phases.rules.do.count is not a key here (there can be verb, who, other, of, from_role, alone)"),
    ],
    ids=["verb", "type", "field"],
)
def test_a_resolved_game_is_told_where_a_consequence_is_wrong(change, words):
    data = to_resolved(load_game("tight-square"))
    (rule,) = data["phases"][0]["rules"]
    assert rule["do"][0]["verb"] == "swap"
    rule["do"][0] |= change
    with pytest.raises(InputError) as refused:
        load_game(data)
    assert words in str(refused.value)


def test_a_resolved_consequence_without_a_verb_is_refused():
    data = to_resolved(load_game("tight-square"))
    del data["phases"][0]["rules"][0]["do"][0]["verb"]
    with pytest.raises(InputError, match=r"phases\.rules\.do\.verb must be given \(got nothing\)"):
        load_game(data)
