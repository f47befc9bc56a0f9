"""Who changes roles with whom, and what becomes of roles between two bouts, in plain words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import groupby
from typing import Protocol

from sim.game.model import Action, Game
from sim.rules.between import way_back

_BETWEEN = {
    "carry on": "roles carry on",
    "start anew": "roles start anew as written",
    "list": "roles move down the list of each team, keepers apart",
}


def between_bouts(game: Game) -> str:
    """What the next bout begins with."""
    return f"between bouts {_BETWEEN[game.bouts.roles]}"


def cut_off(game: Game) -> list[str]:
    """Who goes back to another role when the whistle cuts a phase off."""
    if game.bouts.count == 1 or game.bouts.roles != "carry on":
        return []
    lines = []
    for phase in game.phases:
        goes = [f"{role} players go back to {to}" for role, to in way_back(game, phase.name).items()]
        if goes:
            lines.append(f"If the whistle goes in {phase.name}: {'; '.join(goes)}.")
    return lines


def swapped(action: Action) -> str:
    """Who goes in, and who comes out."""
    if action.who == "loser":
        goes, winner, longest = "the one who lost it", "the one who won it", "the one who has been in longest"
    else:
        goes, winner = "the one who lost it and the partner", "the one who won it and that one's partner"
        longest = "the pair who have been in longest"
    comes = f"{winner} (if nobody did, {longest})" if action.other == "winner" else longest
    return f"{goes} {'changes' if action.who == 'loser' else 'change'} places with {comes}"


def of_the_last_pass(action: Action, kind: str) -> str:
    """Who of the last pass takes a role; nobody else does."""
    if action.count == 1:
        two, become = "the passer of the last pass, or else its receiver,", f"becomes {action.role}"
    else:
        two, become = "the passer and the receiver of the last pass", f"become {action.role}"
    only = "" if (action.who, action.from_role) == ("all", None) else f" (only {kind})"
    return f"{two} {become}{only}"


class Told(Protocol):
    """What is read of an event of the log."""

    @property
    def kind(self) -> str: ...
    @property
    def player(self) -> str: ...
    @property
    def other(self) -> str: ...
    @property
    def cause(self) -> str: ...


def roles_taken(events: Iterable[Told], names: Mapping[str, str]) -> dict[int, str]:
    """Who takes which role in a bout, said at the first of the events (by place in the list) that tell it.

    Nothing of the roles the bout begins with, nor of two who change places: that is told as such.
    """
    had: dict[str, str] = {}
    said: dict[int, str] = {}
    for kind, group in groupby(enumerate(events), key=lambda one: one[1].kind):
        if kind == "swap":
            for _, event in group:
                had[event.player], had[event.other] = had.get(event.other, ""), had.get(event.player, "")
        elif kind == "job":
            first = -1
            taken: dict[str, list[str]] = {}
            for at, event in group:
                first = at if first < 0 else first
                if had.get(event.player, event.cause) != event.cause:
                    taken.setdefault(event.cause, []).append(names.get(event.player, event.player))
                had[event.player] = event.cause
            if taken:
                said[first] = "; ".join(f"{_and(who)} {_become(who)} {role}" for role, who in taken.items())
    return said


def _and(who: list[str]) -> str:
    return " and ".join(part for part in (", ".join(who[:-1]), who[-1]) if part)


def _become(who: list[str]) -> str:
    return "becomes" if len(who) == 1 else "become"
