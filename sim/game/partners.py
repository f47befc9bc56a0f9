"""Can partners change together?  Everybody who can lose the ball has one, on his own side, and some pair can come out for them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import chain

from sim.game.messages import Problem, broken
from sim.game.roster import pairs_of, roster, sides_of
from sim.game.spec import GameSpec
from sim.game.swaps import swaps_of
from sim.game.verbs import PAIR, unit_of

WITH_PARTNER = "loser and partner"
TWO = 2  # may have to come out one by one


def _waits(spec: GameSpec, role: str) -> bool:
    """Whether whoever has this role waits in every phase, and so never has the ball."""
    styles = {
        phase.jobs[role].split()[0] if role in phase.jobs else spec.roles[role].style for phase in spec.phases.values()
    }
    return styles == {"wait"}


def _alone(spec: GameSpec, team: str, paired: set[str]) -> list[str]:
    """The players of a team who can lose the ball and have no partner."""
    return [
        place.id
        for place in roster(spec)
        if place.team == team
        and place.id not in paired
        and spec.roles[place.role].side != "holder"
        and not _waits(spec, place.role)
    ]


def _split(team: str, pairs: Sequence[tuple[str, str]], side_of: Mapping[str, str]) -> Iterator[Problem]:
    """The first pair of a team that is on two sides."""
    for pair in pairs:
        sides = [side_of.get(player, "no side") for player in pair]
        if sides[0] != sides[1]:
            one, other = (f"{player} on {side}" for player, side in zip(pair, sides, strict=True))
            yield Problem(f"teams.{team}.pairs", f"must put partners on the same side (got {one}, {other})")
            return


def _parted(spec: GameSpec, asked: Sequence[str]) -> Iterator[Problem]:
    """Why partners who may be parted cannot change places; `asked` are the swaps of pairs."""
    parted = [path for path, action in swaps_of(spec) if action.alone]
    for path in (path for path in asked if path not in parted):
        yield Problem(f"{path}.alone", f"must be true as in {parted[0]}, as partners may be parted there (got false)")
    if not any(team.pairs for team in spec.teams.values()):
        yield Problem(parted[0], "must have partners: pairs of some team (got none)")
    style_of = {place.id: spec.roles[place.role].style for place in roster(spec)}
    for side, players in sides_of(spec).items():
        able = [player for player in players if style_of[player] not in ("goal", "wait")]
        if len(able) < TWO:
            rule = f"must find two on {side} that can come out: not in goal, not waiting (got {len(able)})"
            yield Problem(parted[0], rule)


def _whole(spec: GameSpec, asked: Sequence[str], pairs: Mapping[str, Sequence[tuple[str, str]]]) -> Iterator[Problem]:
    """Why pairs that stay together cannot change places."""
    for path, who in ((path, action.swap) for path, action in swaps_of(spec)):
        if unit_of(who) != PAIR:
            yield broken(path, f'be of a pair ("{WITH_PARTNER}"), as in {asked[0]}, or pairs would be split', who)
    everybody, sides = roster(spec), sides_of(spec)
    paired = set(chain.from_iterable(chain.from_iterable(pairs.values())))
    for team in spec.teams:
        if alone := _alone(spec, team, paired):
            must = "must give everybody who can lose the ball a partner, or alone = true to the swap,"
            yield Problem(f"teams.{team}.pairs", f"{must} for {asked[0]} (got none for {', '.join(alone)})")
    side_of = {player: side for side, players in sides.items() for player in players}
    for team, found in pairs.items():
        yield from _split(team, found, side_of)
    style_of = {place.id: spec.roles[place.role].style for place in everybody}
    for side, players in sides.items():
        styles = {style_of[player] for player in players if player in paired}
        if styles and styles <= {"goal", "wait"}:
            rule = f"must find a pair on {side} that can come out: not in goal, not waiting (got none)"
            yield Problem(asked[0], rule)


def partners(spec: GameSpec) -> Iterator[Problem]:
    """Why the pairs of the file cannot change places, or have nothing to change."""
    asked = [path for path, action in swaps_of(spec) if unit_of(action.swap) == PAIR]
    pairs = {team: pairs_of(spec, team) for team in spec.teams}
    if not asked:
        for team in (name for name, found in pairs.items() if found):
            yield Problem(
                f"teams.{team}.pairs",
                f'must be left out unless a rule has swap = "{WITH_PARTNER}" (got {len(pairs[team])} pairs)',
            )
    elif any(action.alone for _, action in swaps_of(spec)):
        yield from _parted(spec, asked)
    else:
        yield from _whole(spec, asked, pairs)
