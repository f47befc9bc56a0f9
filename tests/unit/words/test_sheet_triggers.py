"""When to change what, from a card that was made by hand: both ways, in counts on the watch, and never a lever that is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sim.experiments.adjust import adjust
from sim.experiments.adjusted import Card, Refusal, Spells, Trigger
from sim.experiments.levers import levers_of
from sim.game.loader import load_game
from sim.words.levers import to_do
from sim.words.sheet_triggers import BOTH, NOT_PLAYED, ONE_THING, trigger_lines

SHORT = ["bouts.minutes=0.5", "bouts.count=2"]


@pytest.fixture(scope="module")
def card() -> Card:
    """A card of the tight square with the effects that it would have: one touch +3.4 losses a minute, a larger square -0.5."""
    game = load_game("tight-square", SHORT)
    levers, left_out = levers_of(game, lambda more: load_game("tight-square", [*SHORT, *more]))
    found = adjust(game, ("turnovers_per_min", "game", "more"), levers, left_out, bouts=4, workers=1)
    moved = {("touches", -1): 3.4, ("size", 1): -0.5}

    def set_to(one):
        by = moved.get((one.lever.kind, one.lever.way), 0.0)
        verdict = "clear, matters" if by else "cannot tell"
        return replace(one, aim=replace(one.aim, difference=by, verdict=verdict), refusals=())

    return replace(
        found,
        mean=1.6,
        low=1.4,
        high=1.8,
        effects=tuple(map(set_to, found.effects)),
        spells=Spells(2, 20, 1.0, 2.4, 3.5),
    )


def lever(card: Card, kind: str, way: int):
    return next(one.lever for one in card.effects if (one.lever.kind, one.lever.way) == (kind, way))


def test_too_easy_and_too_hard_have_a_count_and_something_to_do(card: Card):
    easy, hard, last = trigger_lines(load_game("tight-square", SHORT), card)
    # 1.0 a minute over 3.5 minutes of play are 3.5 in two bouts: fewer than 4; 2.4 are 8.4: more than 8
    assert easy == f"Too easy: if they lose it fewer than 4 times in two bouts, {to_do(lever(card, 'touches', -1))}."
    assert hard == f"Too hard: if they lose it more than 8 times in two bouts, {to_do(lever(card, 'size', 1))}."
    assert last.startswith(ONE_THING)


def test_where_both_sides_can_lose_it_they_are_both(card: Card):
    assert BOTH not in trigger_lines(load_game("tight-square", SHORT), card)[-1]
    assert trigger_lines(load_game("even-keep-ball"), card)[-1].endswith(BOTH)


def test_a_lever_that_is_refused_is_never_named(card: Card):
    player = load_game("tight-square").players[0]
    no = Refusal(player.id, "squad 1", "total_distance_m", "m", 1.0, 0.0, 2.0)
    careful = replace(
        card,
        effects=tuple(replace(one, refusals=(no,)) if one.lever.kind == "touches" else one for one in card.effects),
    )
    lines = trigger_lines(load_game("tight-square", SHORT), careful)
    assert not any(to_do(lever(card, "touches", -1)) in line for line in lines)
    assert not any(line.startswith("Too easy") for line in lines) and lines[0].startswith("Too hard")
    assert any("reduced load" in line for line in lines)


def test_a_card_with_a_number_keeps_its_own_triggers(card: Card):
    place = next(k for k, one in enumerate(card.effects) if one.lever.kind == "floaters")
    own = replace(card, goal=2.0, triggers=(Trigger(True, 1.2, (place,)),))
    first, *_ = trigger_lines(load_game("tight-square", SHORT), own)
    # 1.2 a minute over 3.5 minutes: 4.2, fewer than 5
    doing = f"{to_do(card.effects[place].lever)}, with one more player"
    assert first == f"Too easy: if they lose it fewer than 5 times in two bouts, {doing}."


def test_without_a_card_nothing_is_claimed(card: Card):
    game = load_game("tight-square", SHORT)
    assert trigger_lines(game, None) == [NOT_PLAYED, ONE_THING]
    still = replace(
        card, effects=tuple(replace(one, aim=replace(one.aim, verdict="cannot tell")) for one in card.effects)
    )
    assert trigger_lines(game, still) == []
