"""Who takes which role in a bout, in plain words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import groupby
from typing import Protocol

from sim.words.listing import listed
from sim.words.who import becomes


class Told(Protocol):
    """What is read of an event of the log."""

    @property
    def kind(self) -> str:
        """What kind of event it is."""

    @property
    def player(self) -> str:
        """Whose event it is."""

    @property
    def other(self) -> str:
        """Who else has part in it."""

    @property
    def cause(self) -> str:
        """Of a job the role."""


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
                said[first] = "; ".join(f"{listed(who)} {becomes(role, len(who))}" for role, who in taken.items())
    return said


def roles_at_the_start(events: Iterable[Told], names: Mapping[str, str]) -> dict[str, list[str]]:
    """Who begins in which role: what each is first told to be."""
    first: dict[str, str] = {}
    for event in events:
        if event.kind == "job":
            first.setdefault(event.player, event.cause)
    found: dict[str, list[str]] = {}
    for player in [one for one in names if one in first]:
        found.setdefault(first[player], []).append(names[player])
    return found
