"""Of whom there is only one: a pair, a team or a player who alone can come for somebody, or go, so that nothing is to be chosen.

Swaps are number for number: who is alone at the start stays so, unless another consequence gives out roles.
"""

from __future__ import annotations

from collections.abc import Sequence

from sim.game.family import in_play_at_start, side_of
from sim.game.having import sides_having
from sim.game.model import Game, Player, Rule
from sim.game.verbs import PAIR, TEAM, Assign, Swap, Trade, unit_of


def sole_comer(game: Game, rule: Rule, action: Swap) -> tuple[str, ...]:
    """The roles of the only ones who can come in a swap; nothing where there are several to choose from, or that is not known."""
    if action.alone or _gives_roles(game):
        return ()
    if action.come_from:
        pool = [player for player in game.players if player.role in action.come_from]
    else:
        side = _goer(game, rule, action)
        pool = (
            []
            if side is None
            else [one for one in in_play_at_start(game) if side_of(game, one) not in (side, "holder")]
        )
    return _roles(pool) if _units(game, pool, unit_of(action.who)) == 1 else ()


def sole_goer(game: Game, action: Swap) -> bool:
    """Whether of every side that may have to go (`of`) there is only one who can."""
    if action.of is None or action.who == "next on the list" or _gives_roles(game):
        return False
    sides: dict[str, list[Player]] = {}
    for player in in_play_at_start(game):
        sides.setdefault(side_of(game, player), []).append(player)
    return all(_units(game, pool, unit_of(action.who)) == 1 for side, pool in sides.items() if side != "holder")


def chosen_by_time(game: Game) -> bool:
    """Whether somebody has to know who has been in longest, for a swap."""
    return any(
        (action.other in ("longest in", "winner") and not sole_comer(game, rule, action))
        or (action.of is not None and "longest in" in action.who and not sole_goer(game, action))
        for phase in game.phases
        for rule in phase.rules
        for action in rule.do
        if isinstance(action, Swap)
    )


def _goer(game: Game, rule: Rule, action: Swap) -> str | None:
    """The side of whoever goes, where that is known beforehand."""
    if action.of is not None or not action.who.startswith("loser") or rule.on not in ("loss", "not won back"):
        return None
    having = sides_having(game)
    return rule.by or (having[0] if len(having) == 1 else None)


def _gives_roles(game: Game) -> bool:
    """Whether a rule gives out roles otherwise than by swaps."""
    return any(
        isinstance(action, (Assign, Trade)) for phase in game.phases for rule in phase.rules for action in rule.do
    )


def _roles(players: Sequence[Player]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(player.role for player in players))


def _units(game: Game, pool: Sequence[Player], unit: str) -> int:
    """How many of what changes places together."""
    if unit == TEAM:
        return len({player.team for player in pool})
    if unit == PAIR:
        here = {player.id for player in pool}
        pairs = [pair for team in game.teams for pair in team.pairs if set(pair) <= here]
        return len(pairs) if 2 * len(pairs) == len(here) else 0
    return len(pool)
