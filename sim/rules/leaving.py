"""Who comes for a player who has had all he may play, and where that one waits from then on."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.rules.choosing import may_change, on_the_list
from sim.rules.rule_state import RuleState

if TYPE_CHECKING:
    from sim.rules.consequences import Play


def next_to_come(play: Play, i: int) -> int:
    """The next on the list of those who wait and may take player i's role (-1: nobody); by bibs only one of the same bibs."""
    standing, players = play.standing, play.game.players
    waiting = [j for j in range(len(players)) if j != i and standing.waits_in(standing.role[j])]
    able = [j for j in waiting if may_change(play, [i], [j])]
    if standing.roles[standing.role[i]].side == "team":
        able = [j for j in able if players[j].team == players[i].team]
    return next(iter(on_the_list(play, able)), -1)


def bench_of(standing: RuleState, i: int) -> str:
    """The role in which player i waits where nobody comes for him: one of his side, if there is one."""
    side = standing.roles[standing.role[i]].side
    waiting = [role for role in standing.roles.values() if standing.always_waits(role.name)]
    fitting = [role for role in waiting if (role.side == "team") == (side == "team")]
    return next((role for role in fitting if role.side == side), fitting[0]).name
