"""Can partners change together?  Everybody who can lose the ball has one, on his own side, and some pair can come out for them."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from sim.game.actions import SwapAction, verb_of
from sim.game.messages import Problem, broken
from sim.game.roster import pairs_of, roster, sides_of
from sim.game.spec import GameSpec

WITH_PARTNER = "loser and partner"


def _waits(short: GameSpec, role: str) -> bool:
    """Whether whoever has this role waits in every phase, and so never has the ball."""
    styles = {
        phase.jobs[role].split()[0] if role in phase.jobs else short.roles[role].style
        for phase in short.phases.values()
    }
    return styles == {"wait"}


def partners(short: GameSpec) -> Iterator[Problem]:
    """Why the pairs of the file cannot change places, or have nothing to change."""
    swaps = [
        (f"phases.{phase_name}.rules.{rule_name}.do.{verb_of(action)}", action.swap)
        for phase_name, phase in short.phases.items()
        for rule_name, rule in phase.rules.items()
        for action in rule.do
        if isinstance(action, SwapAction)
    ]
    asked = [path for path, who in swaps if who == WITH_PARTNER]
    pairs = {team: pairs_of(short, team) for team in short.teams}
    if not asked:
        for team in (name for name, found in pairs.items() if found):
            yield Problem(
                f"teams.{team}.pairs",
                f'must be left out unless a rule has swap = "{WITH_PARTNER}" (got {len(pairs[team])} pairs)',
            )
        return
    for path, who in swaps:
        if who != WITH_PARTNER:
            yield broken(path, f'be "{WITH_PARTNER}", as in {asked[0]}, or pairs would be split', who)
    everybody, sides = roster(short), sides_of(short)
    paired = set(chain.from_iterable(chain.from_iterable(pairs.values())))
    for team in short.teams:
        alone = [
            place.id
            for place in everybody
            if place.team == team
            and place.id not in paired
            and short.roles[place.role].side != "holder"
            and not _waits(short, place.role)
        ]
        if alone:
            rule = (
                f"must give everybody who can lose the ball a partner, for {asked[0]} (got none for {', '.join(alone)})"
            )
            yield Problem(f"teams.{team}.pairs", rule)
    side_of = {player: side for side, players in sides.items() for player in players}
    for team, found in pairs.items():
        apart = [pair for pair in found if len({side_of.get(player, "no side") for player in pair}) > 1]
        for pair in apart[:1]:
            one, other = (f"{player} on {side_of.get(player, 'no side')}" for player in pair)
            yield Problem(f"teams.{team}.pairs", f"must put partners on the same side (got {one}, {other})")
    style_of = {place.id: short.roles[place.role].style for place in everybody}
    for side, players in sides.items():
        styles = {style_of[player] for player in players if player in paired}
        if styles and styles <= {"goal", "wait"}:
            rule = f"must find a pair on {side} that can come out: not in goal, not waiting (got none)"
            yield Problem(asked[0], rule)
