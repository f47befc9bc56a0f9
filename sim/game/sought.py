"""Places inside an area that rules reward the ball for coming to: end zones, boxes, thirds."""

from __future__ import annotations

from sim.game.borders import lies_in
from sim.game.counters import Conditions
from sim.game.model import Game, Phase, Rule


def lies_inside(game: Game, name: str | None) -> bool:
    """Whether a name is that of a zone, or of an area that is marked out in another."""
    if any(zone.name == name for zone in game.zones):
        return True
    inner = [area for area in game.areas if area.name == name]
    return any(lies_in(one, other) for one in inner for other in game.areas if other is not one)


def asked(game: Game, rule: Rule) -> Conditions | None:
    """What a rule asks of a pass or a carry, itself or by its counter; None where it answers to neither."""
    if rule.on in ("pass", "carry"):
        return rule
    counters = {one.name: one for one in game.counters if one.of == "passes"}
    return counters.get(rule.counter or "")


def place_asked(game: Game, rule: Rule) -> str | None:
    """The zone or inner area to which a rule asks the ball to come; None where it asks for none."""
    conditions = asked(game, rule)
    place = None if conditions is None else conditions.to_area
    return place if lies_inside(game, place) else None


def places_asked(game: Game, phase: Phase) -> list[tuple[Rule, str]]:
    """The rules of a phase that ask the ball to come to a zone or an inner area, with it."""
    found = [(rule, place_asked(game, rule)) for rule in phase.rules]
    return [(rule, place) for rule, place in found if place is not None]
