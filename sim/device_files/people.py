"""Who is known: the names written in game files, or a squad in a CSV file, with shirt numbers and roles."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from sim.device_files.cells import text
from sim.device_files.tables import plain, read_table
from sim.errors import InputError
from sim.game.model import Game
from sim.game.names import called, written

NAMES, SHIRTS, ROLES = ("player", "name"), ("shirt", "number"), ("role", "position")


@dataclass(frozen=True)
class People:
    """Names by whatever they are called, roles by name; `given`: whether there is a list at all."""

    names: Mapping[str, str] = field(default_factory=dict)
    roles: Mapping[str, str] = field(default_factory=dict)

    @property
    def given(self) -> bool:
        """Whether anybody is known."""
        return bool(self.names)

    def known(self, typed: str, aliases: Mapping[str, str]) -> str | None:
        """Whom a file means, also by what its layout calls him; None where nobody is known by that."""
        meant = aliases.get(plain(typed), typed)
        return self.names.get(plain(meant)) if self.given else meant


def read_squad(path: Path) -> People:
    """The squad in a CSV (or XLSX) file with the columns player and, if you like, shirt and role."""
    try:
        data = path.read_bytes()
    except OSError as error:
        raise InputError(
            f"must name a file that can be read (got {str(path)!r}: {error.strerror})", "--squad"
        ) from None
    table = read_table(data, str(path))
    places = {name: i for i, name in enumerate(plain(one) for one in table.head)}

    def column(names: Sequence[str]) -> int | None:
        return next((places[name] for name in names if name in places), None)

    who, shirt, role = column(NAMES), column(SHIRTS), column(ROLES)
    if who is None:
        raise InputError(f"must have a column player (got {', '.join(table.head)})", str(path))
    names: dict[str, str] = {}
    roles: dict[str, str] = {}
    problems = []
    for line, cells in table.rows:
        said = [text(cells[i]) if i is not None and i < len(cells) else "" for i in (who, shirt, role)]
        for one in dict.fromkeys(plain(one) for one in said[:2] if one):
            if one in names:
                problems.append(
                    f"line {line}, {said[0]!r} must be told apart from {names[one]!r} (got {one!r} for both)"
                )
            names[one] = said[0]
        roles[said[0]] = said[2]
    if problems:
        raise InputError(problems, str(path))
    return People(names, {name: one for name, one in roles.items() if one})


def people_of(games: Sequence[Game]) -> People:
    """Whoever has a name of his own in these games."""
    own = [player for game in games for player in game.players if written(player)]
    return People({plain(called(one)): called(one) for one in own}, {called(one): one.role for one in own})
