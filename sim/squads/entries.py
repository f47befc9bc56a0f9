"""A table of plain data read key by key: what is wrong with it is collected, place by place, and told at once."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping, Sequence
from typing import Any

from sim.errors import nearest
from sim.game.bounds import LONGEST_NAME
from sim.game.messages import show


class Entries:
    """The keys of one table; `path` is where it stands, `problems` (shared with whoever reads the rest) what is wrong."""

    def __init__(self, data: object, path: str, problems: list[str]):
        self.path, self.problems = path, problems
        self.data: Mapping[str, Any] = data if isinstance(data, Mapping) else {}
        self.asked: list[str] = []
        if not isinstance(data, Mapping):
            self.complain("", f"must be a table (got {show(data)})")

    def complain(self, key: str, rule: str) -> None:
        """One more thing that is wrong."""
        where = ", ".join(part for part in (self.path, key) if part) if "line" in self.path else self.at(key)
        self.problems.append(f"{where} {rule}".strip())

    def at(self, key: str) -> str:
        """Where a key stands, dotted."""
        return ".".join(part for part in (self.path, key) if part)

    def value(self, key: str) -> Any:
        """Whatever stands there; None where nothing does."""
        self.asked.append(key)
        return self.data.get(key)

    def text(self, key: str, needed: bool = False, known: Collection[str] = ()) -> str:
        """A text; nothing where there is none.  `known`: the texts that are allowed (none: any)."""
        found = self.value(key)
        if found in (None, ""):
            if needed:
                self.complain(key, "must be given")
            return ""
        if not isinstance(found, str):
            self.complain(key, f"must be a text (got {show(found)})")
            return ""
        if known and found not in known:
            self.complain(key, f"must be one of {', '.join(known)} (got {show(found)})")
            return ""
        return found.strip()

    def name(self, key: str, needed: bool = False) -> str:
        """A text short enough for a table, on one line: `LONGEST_NAME` printable characters at most."""
        found = self.text(key, needed)
        if len(found) > LONGEST_NAME or not found.isprintable():
            self.complain(key, f"must be {LONGEST_NAME} printable characters at most (got {show(found)})")
            return ""
        return found

    def number(self, key: str, least: float, most: float, needed: bool = False) -> float | None:
        """A number within bounds; None where there is none."""
        found = self.value(key)
        if found is None:
            if needed:
                self.complain(key, "must be given")
            return None
        if not _is_number(found) or not math.isfinite(found):
            self.complain(key, f"must be a number (got {show(found)})")
            return None
        if not least <= found <= most:
            self.complain(key, f"must be from {least:g} to {most:g} (got {show(found)})")
            return None
        return float(found)

    def whole(self, key: str, least: int, most: int, needed: bool = False) -> int | None:
        """A whole number within bounds; None where there is none."""
        found = self.number(key, least, most, needed)
        if found is not None and found != int(found):
            self.complain(key, f"must be a whole number (got {show(found)})")
            return None
        return None if found is None else int(found)

    def listed(self, key: str) -> Sequence[Any]:
        """A list; empty where there is none."""
        found = self.value(key)
        if found is None:
            return ()
        if not isinstance(found, list):
            self.complain(key, f"must be a list (got {show(found)})")
            return ()
        return found

    def numbers(self, key: str, count: int, least: float, most: float) -> tuple[float, ...] | None:
        """So many numbers within bounds; None where there are none."""
        found = self.value(key)
        if found is None:
            return None
        return self.numbers_in(key, found, count, least, most)

    def numbers_in(self, key: str, found: object, count: int, least: float, most: float) -> tuple[float, ...] | None:
        """The same of a value that has been found at a key."""
        right = isinstance(found, list) and len(found) == count
        if not right or not all(_is_number(one) and least <= one <= most for one in found):  # type: ignore[attr-defined]
            self.complain(key, f"must be {count} numbers from {least:g} to {most:g} (got {show(found)})")
            return None
        return tuple(float(one) for one in found)  # type: ignore[attr-defined]

    def finish(self) -> None:
        """Refuse every key that nobody has asked for."""
        for key in self.data:
            if key not in self.asked:
                near = nearest(str(key), self.asked)
                hint = f"did you mean {near[0]}?" if near else f"there are {', '.join(self.asked)}"
                self.complain(show(key).strip('"'), f"is no key of it ({hint})")


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool)
