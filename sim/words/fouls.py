"""How many tackles are fouls, and what follows where no rule says so, in plain words."""

from __future__ import annotations

from sim.game.fouls import FOUL
from sim.game.having import stops
from sim.game.model import Game, Rule
from sim.words.listing import number


def fouls_in_words(game: Game, served: str) -> list[str]:
    """The share of tackles that are one, and how the ball comes back (`served`), unless a rule on every foul brings another."""
    share = f"About {number(100 * game.foul_share)} % of tackles are fouls, handball and kicking it away counted in"
    stopping = [[rule for rule in phase.rules if rule.on == FOUL and stops(rule)] for phase in game.phases]
    if all(any(is_any_foul(rule) for rule in rules) for rules in stopping):
        return [f"{share}."]
    return [f"{share}: {'where no rule says otherwise ' if any(stopping) else ''}{served}."]


def is_any_foul(rule: Rule) -> bool:
    """Whether a rule on fouls answers to every one."""
    return not any((rule.by, rule.colour, rule.by_role, rule.to_role, rule.from_area))
