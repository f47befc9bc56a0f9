"""A card that `overload adjust --json` wrote, read back for the sheet: believed only of the very game it is asked for."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from sim.errors import InputError
from sim.experiments.adjusted import FORMAT, Card
from sim.experiments.compare import condition_of
from sim.experiments.key_measures import aims_of
from sim.game.bounds import LARGEST_FILE
from sim.game.model import Game
from sim.provenance import engine

OPTION = "--card"


def read_card(path: Path, game: Game, changes: Sequence[str], population: str | None) -> Card:
    """The card in a file; refused unless it can be one, of this game, with these changes and players, by this engine."""
    if not path.is_file():
        raise InputError(
            f"must be a file that `overload adjust --json` wrote (got {str(path)!r}, which is no file)", OPTION
        )
    if path.stat().st_size > LARGEST_FILE:
        raise InputError(
            f"must be a file that `overload adjust --json` wrote (got {str(path)!r}, which is too large)", OPTION
        )
    try:
        card = TypeAdapter(Card).validate_json(path.read_bytes())
    except ValidationError as error:
        where = ".".join(str(part) for part in error.errors()[0]["loc"]) or "the whole of it"
        raise InputError(
            f"must be a file that `overload adjust --json` wrote (got {str(path)!r}: {where})", OPTION
        ) from None
    if why := strange(card, game, changes, population):
        raise InputError(f"must be a card of this game (got {why})", OPTION)
    return card


def strange(card: Card, game: Game, changes: Sequence[str], population: str | None) -> str:
    """Why a card is not of this game, or cannot be one; nothing where it is."""
    own = condition_of(game, changes)
    if card.format != FORMAT:
        return f"one of layout {card.format}, not {FORMAT}"
    if (card.game.game, card.game.title) != (own.game, own.title):
        return f"{card.game.game}"
    if card.game.changes != own.changes:
        return f"one with {', '.join(card.game.changes) or 'nothing'} set"
    if (card.population, card.game.population) != (population, own.population):
        return f"one with {card.game.population} playing"
    if card.provenance.engine != engine():
        return "one that another version of the program made"
    if (card.measure, card.scope) not in aims_of(game):
        return f"one for {card.measure}"
    places = range(len(card.effects))
    if any(place not in places for one in card.triggers for place in one.effects):
        return "one with triggers for changes that it does not hold"
    if card.triggers and card.spells is None:
        return "one with triggers but nothing that was seen"
    return ""
