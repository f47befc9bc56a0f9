"""A squad: people by shirt, with what is known of them and what they must not do.

Limits are set by somebody who may set them, and his name stands beside them.  Why he set them is nobody's business here: there is
a status, and no place for a diagnosis.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Status = Literal["full", "reduced", "out"]
STATUSES: tuple[Status, ...] = ("full", "reduced", "out")
LIMITS = ("no defending", "no tackles", "perimeter only")
"""What somebody may be kept from: he never defends; nobody tackles him and he tackles nobody; he stays on the lines."""
DAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
KEEPER = "keeper"
POSITIONS = (KEEPER, "defender", "midfielder", "forward")
LEAST_LEVEL, MOST_LEVEL = 1.0, 10.0


@dataclass(frozen=True)
class Person:
    """One of the squad.

    position    one of `POSITIONS`, or nothing
    population  a preset of `sim.populations`, or nothing: as the game says
    level       the coach's own mark, 1 to 10: used to make groups, and nothing else; None: not marked
    pass_success, pressing_speed, recovery, intermittent_run   as in a game file, where known
    status      full, on reduced load, or out
    limits      some of `LIMITS`; `most_bouts`, `most_minutes`: of one session, None: no end
    set_by      who set the status and the limits; days: the days on which he can train (empty: all); of matches they say nothing
    """

    shirt: int
    name: str
    position: str = ""
    population: str = ""
    level: float | None = None
    pass_success: float | None = None
    pressing_speed: float | None = None
    recovery: float | None = None
    intermittent_run: float | None = None
    status: Status = "full"
    limits: tuple[str, ...] = ()
    most_bouts: int | None = None
    most_minutes: float | None = None
    set_by: str = ""
    days: tuple[str, ...] = ()

    @property
    def keeps(self) -> bool:
        """Whether he keeps goal."""
        return self.position == KEEPER

    @property
    def restricted(self) -> bool:
        """Whether he needs a place of his own in a game: on reduced load, or kept from something."""
        return self.status == "reduced" or bool(self.limits)

    @property
    def capped(self) -> bool:
        """Whether there is anything that he must not do."""
        return (
            self.status != "full" or bool(self.limits) or self.most_bouts is not None or self.most_minutes is not None
        )

    @property
    def called(self) -> str:
        """``7 Ola Brandt``; the number alone where there is no name."""
        return f"{self.shirt} {self.name}".strip()


@dataclass(frozen=True)
class Squad:
    """People in the order of their file; `source` is the file."""

    people: tuple[Person, ...]
    source: str = ""

    def there(self, day: str = "") -> tuple[Person, ...]:
        """Who can train on a day ("mon" to "sun"; nothing: any day)."""
        return tuple(one for one in self.people if one.status != "out" and (not day or not one.days or day in one.days))


def numbered(count: int) -> Squad:
    """A squad of which nothing is known but how many they are: shirts from 1."""
    return Squad(tuple(Person(shirt, "") for shirt in range(1, count + 1)))
