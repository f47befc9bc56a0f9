"""Who plays: from "four in this role" to players with a team, a number and an id.

Within a team, counted players take the numbers nobody wrote down, smallest first, over the roles in the
order of the file.  An id is TEAM-NUMBER unless the file writes one; it is what everything else is keyed by.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count

from sim.game.spec import GameSpec, RoleSpec


@dataclass(frozen=True)
class Place:
    """One player's line in the roster; `path` is where the file says so."""

    id: str
    team: str
    number: int
    role: str
    path: str


def listings(role: RoleSpec, teams: list[str]) -> dict[str, int | list]:
    """A role's players by team; a bare number or list belongs to the only team."""
    return role.players if isinstance(role.players, dict) else {teams[0]: role.players}


def head_count(spec: GameSpec) -> int:
    """How many players all roles list together, counted without listing them."""
    listed = [listing for role in spec.roles.values() for listing in listings(role, list(spec.teams)).values()]
    return sum(len(listing) if isinstance(listing, list) else listing for listing in listed)


def _not_in(taken: set[int]) -> Iterator[int]:
    """1, 2, 3 and so on, without the ones that are taken."""
    return (number for number in count(1) if number not in taken)


def roster(spec: GameSpec) -> list[Place]:
    """Everybody, in the order of the file.  Repeated ids and numbers are left in for `sim.game.references`."""
    teams = list(spec.teams)
    entries = [
        (role_name, team, entry)
        for role_name, role in spec.roles.items()
        for team, listing in listings(role, teams).items()
        for entry in (listing if isinstance(listing, list) else [None] * listing)
    ]
    written: dict[str, set] = {team: set() for team in [*teams, *(team for _, team, _ in entries)]}
    for _, team, entry in entries:
        number = entry if isinstance(entry, int) else spec.players[entry].number if entry in spec.players else None
        written[team].add(number)
    free = {team: _not_in(taken) for team, taken in written.items()}
    places = []
    for role_name, team, entry in entries:
        known = spec.players.get(entry) if isinstance(entry, str) else None
        if isinstance(entry, int):
            number = entry
        else:
            number = known.number if known is not None and known.number is not None else next(free[team])
        player = entry if isinstance(entry, str) else f"{team}-{number}"
        places.append(Place(player, team, number, role_name, f"roles.{role_name}.players"))
    return places


def called(spec: GameSpec, team: str) -> dict[int | str, str]:
    """The ids of a team's players by what a file may call them: number or id."""
    members = [place for place in roster(spec) if place.team == team]
    return {place.number: place.id for place in members} | {place.id: place.id for place in members}


def pairs_of(spec: GameSpec, team: str) -> tuple[tuple[str, str], ...]:
    """The ids of a team's partners."""
    ids = called(spec, team)
    return tuple((ids[one], ids[other]) for one, other in spec.teams[team].pairs)


def sides_of(spec: GameSpec) -> dict[str, list[str]]:
    """Each side and the ids of the players that begin on it; floaters ("holder") are on none."""
    sides: dict[str, list[str]] = {}
    for place in roster(spec):
        side = spec.roles[place.role].side
        if side != "holder":
            sides.setdefault(place.team if side == "team" else side, []).append(place.id)
    return sides
