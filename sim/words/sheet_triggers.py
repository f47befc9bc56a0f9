"""When an assistant changes what: a line for a game that is too easy and one for a game that is too hard, from a card that was
played."""

from __future__ import annotations

from dataclasses import replace

from sim.experiments.adjust import proposed, triggers_of
from sim.experiments.adjusted import Card, Trigger
from sim.game.having import sides_having
from sim.game.model import Game
from sim.words.adjust_screen import Grass, Room
from sim.words.listing import small

NOT_PLAYED = "Not tried beforehand: ask the coach what to change first."
ONE_THING = "Change one thing for one bout, then look."
BOTH = "They: both sides together."
HARDER = ("turnovers_per_min", "turnovers_per_clock_min", "balls_lost_per_min", "wins_per_min")
"""Measures of which more means that the game is harder for the side with the ball."""


def trigger_lines(game: Game, card: Card | None) -> list[str]:
    """At most two lines, and how often they are luck; without a card, where to find them; nothing where nothing clearly helps."""
    if card is None:
        return [NOT_PLAYED, ONE_THING]
    grass = Grass(card, game, None, Room(0, False, False, False))
    found = triggers(card)
    lines = [headed(card, one, grass.trigger(one)) for one in found if one.effects]
    if not lines:
        return []
    both = (
        f" {BOTH}"
        if card.scope == "game" and len(sides_having(game)) > 1 and any(" they " in one for one in lines)
        else ""
    )
    return [*lines, *grass.refused(), f"{ONE_THING} One time in ten it's just luck.{both}"]


def triggers(card: Card) -> tuple[Trigger, ...]:
    """Those of the card; of a card without a number as its aim both, below and above what the game gives as it is.

    Where all that clearly moves it goes far past what is wanted, the one that goes least far is named: an assistant with a game
    that does not work needs something to do.
    """
    found = triggers_of(card.mean, card.spells, card.effects) if isinstance(card.goal, str) else card.triggers
    return tuple(one if one.effects else replace(one, effects=least(card, 1 if one.below else -1)) for one in found)


def least(card: Card, way: int) -> tuple[int, ...]:
    """The place of the lever that clearly moves it this way, and least; nothing where none does."""
    moving = [(abs(card.effects[place].aim.difference or 0.0), place) for place in proposed(card.effects, way)]
    return (min(moving)[1],) if moving else ()


def headed(card: Card, one: Trigger, line: str) -> str:
    """``Too easy: if they lose it fewer than 5 times in two bouts, go to one touch.``"""
    if card.measure not in HARDER:
        return line
    return f"{'Too easy' if one.below else 'Too hard'}: {small(line)}"
