"""What has been drawn of a random game so far, and the rest hangs on."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any


@dataclass
class Draft:
    """A game in the making."""

    teams: tuple[str, ...]
    sides: tuple[str, str]
    changing: str  # who changes places, where anybody does: "single", "pairs", "alone", "teams", "within", "trade"
    homes: bool = False
    spots: dict[str, Any] = field(default_factory=dict)  # of areas, where they lie
    mouths: list[Any] = field(default_factory=list)  # of goals, where they are
    goals: list[str] = field(default_factory=list)
    attacked: set[str] = field(default_factory=set)  # the sides that have a goal to attack
    gates: list[str] = field(default_factory=list)
    zones: list[str] = field(default_factory=list)
    roles: dict[str, dict] = field(
        default_factory=dict
    )  # as played: what is written once for both sides stands here twice
    restarts: dict[str, dict] = field(default_factory=dict)
    counters: dict[str, dict] = field(default_factory=dict)
    shut: dict[str, list[str]] = field(default_factory=dict)  # zones that are closed, to whom
    phases: tuple[str, ...] = ()
    fouls: float = 0.0  # the share of tackles that are one
    start: str = ""  # the side that has the ball first
    carries: bool = True  # roles may carry on from bout to bout
    stays: bool = False  # the team that wins a bout stays
    capped: bool = False  # somebody plays only so many bouts or minutes

    @property
    def by_bibs(self) -> bool:
        """Whether the sides are the colours."""
        return self.sides == self.teams

    def many(self, name: str) -> dict[str, int]:
        """How many of each team begin in a role."""
        listed = self.roles[name].get("players", {})
        listed = listed if isinstance(listed, dict) else {self.teams[0]: listed}
        return {team: len(one) if isinstance(one, list) else one for team, one in listed.items()}

    def on(self, side: str) -> int:
        """How many begin on a side."""
        return sum(
            number
            for name, role in self.roles.items()
            for team, number in self.many(name).items()
            if (team if role["side"] == "team" else role["side"]) == side
        )

    @property
    def floaters(self) -> int:
        """How many float."""
        return sum(sum(self.many(name).values()) for name, role in self.roles.items() if role["side"] == "holder")

    @property
    def outfield(self) -> list[str]:
        """The roles that keep no goal."""
        return [name for name, role in self.roles.items() if role["style"] != "goal"]

    @property
    def bench(self) -> str | None:
        """The role whose players wait in every phase."""
        return next((name for name, role in self.roles.items() if role["style"] == "wait"), None)

    @property
    def open_zones(self) -> list[str]:
        """Zones that whoever has the ball may go into, whichever side it is."""
        return [name for name in self.zones if set(self.shut.get(name, ())) <= {"other"}]
