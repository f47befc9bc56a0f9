"""Reading a file of tables key by key: what is wrong is collected, all of it is told at once, each with its place.

table = Tables(data, problems)
minutes = table.number("minutes", 0, 240, 75)
table.done()            # whatever has not been asked for is no key of this file
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, datetime, time
from typing import Any

from sim.errors import any_of, nearest
from sim.game.messages import show

MOST_TEXT = 200


class Tables:
    """A table of a file, at `path`; `problems` is shared by all tables of the file."""

    def __init__(self, data: Mapping[str, Any], problems: list[str], path: str = ""):
        self.data, self.problems, self.path = data, problems, path
        self.asked: list[str] = []

    def at(self, key: str) -> str:
        """Where a key stands in the file."""
        return f"{self.path}.{key}" if self.path else key

    def refuse(self, key: str, rule: str) -> None:
        """Note that the value of a key breaks a rule."""
        got = show(self.data[key]) if key in self.data else "nothing"
        self.problems.append(f"{self.at(key)} {rule} (got {got})")

    def _of(self, key: str, kinds: tuple[type, ...], what: str, missing: Any) -> Any:
        self.asked.append(key)
        if key not in self.data:
            return missing
        value = self.data[key]
        if not isinstance(value, kinds) or isinstance(value, bool) and bool not in kinds:
            self.refuse(key, f"must be {what}")
            return missing
        return value

    def number(self, key: str, low: float, high: float, missing: float | None = None) -> float | None:
        """A number from `low` to `high`."""
        value = self._of(key, (int, float), f"a number from {low:g} to {high:g}", missing)
        if value is not None and key in self.data and not low <= value <= high:
            self.refuse(key, f"must be from {low:g} to {high:g}")
            return missing
        return None if value is None else float(value)

    def whole(self, key: str, low: int, high: int, missing: int | None = None) -> int | None:
        """A whole number from `low` to `high`."""
        value = self._of(key, (int,), f"a whole number from {low} to {high}", missing)
        if value is not None and key in self.data and not low <= value <= high:
            self.refuse(key, f"must be from {low} to {high}")
            return missing
        return value

    def yes(self, key: str) -> bool:
        """true or false; false where it is left out."""
        return bool(self._of(key, (bool,), "true or false", False))

    def text(self, key: str, missing: str = "") -> str:
        """A text of a line."""
        value = self._of(key, (str,), "a text in quotes", missing)
        if len(value) > MOST_TEXT or not value.isprintable():
            self.refuse(key, f"must be one line of at most {MOST_TEXT} characters")
            return missing
        return str(value)

    def texts(self, key: str, missing: Sequence[str] = ()) -> tuple[str, ...]:
        """A text, or a list of them."""
        value = self._of(key, (str, list), "a list of texts in quotes", list(missing))
        value = [value] if isinstance(value, str) else value
        if not all(isinstance(one, str) for one in value):
            self.refuse(key, "must be a list of texts in quotes")
            return tuple(missing)
        return tuple(value)

    def pair(self, key: str, low: float, high: float) -> tuple[float, float] | None:
        """Two numbers in brackets, the lower first; None where it is left out or wrong."""
        value = self._of(key, (list,), f"two numbers from {low:g} to {high:g} in brackets, the lower first", None)
        if value is None:
            return None
        plain = len(value) == 2 and all(isinstance(one, (int, float)) and not isinstance(one, bool) for one in value)
        if not plain or not low <= value[0] <= value[1] <= high:
            self.refuse(key, f"must be two numbers from {low:g} to {high:g} in brackets, the lower first")
            return None
        return float(value[0]), float(value[1])

    def numbers(self, key: str, low: float, high: float) -> tuple[float, ...]:
        """A list of numbers."""
        value = self._of(key, (list,), f"a list of numbers from {low:g} to {high:g}", [])
        plain = all(isinstance(one, (int, float)) and not isinstance(one, bool) and low <= one <= high for one in value)
        if not plain:
            self.refuse(key, f"must be a list of numbers from {low:g} to {high:g}")
            return ()
        return tuple(float(one) for one in value)

    def day(self, key: str) -> date | None:
        """A date, written as 2026-08-15 without quotes."""
        value = self._of(key, (date,), "a date such as 2026-08-15, without quotes", None)
        if isinstance(value, datetime):
            self.refuse(key, "must be a date such as 2026-08-15, without an hour")
            return None
        return value

    def hour(self, key: str) -> time | None:
        """An hour, written as 19:00:00 without quotes."""
        return self._of(key, (time,), "an hour such as 19:00:00, without quotes", None)

    def one_of(self, key: str, known: Sequence[str], missing: str = "") -> str:
        """One of these names."""
        value = self.text(key, missing)
        if key in self.data and value not in known:
            self.refuse(key, f"must be {any_of(known)}")
            return missing
        return value

    def table(self, key: str) -> Tables:
        """A table within; an empty one where it is left out."""
        return Tables(self._of(key, (dict,), "a table", {}), self.problems, self.at(key))

    def named(self) -> Iterator[tuple[str, Tables]]:
        """Every table of this table by its name, whatever the names are."""
        for key in self.data:
            yield key, self.table(key)

    def tables(self, key: str) -> list[Tables]:
        """A list of tables, [[...]] in the file."""
        value = self._of(key, (list,), f"a list of tables, each under [[{self.at(key)}]]", [])
        if not all(isinstance(one, dict) for one in value):
            self.refuse(key, f"must be a list of tables, each under [[{self.at(key)}]]")
            return []
        return [Tables(one, self.problems, f"{self.at(key)}[{i}]") for i, one in enumerate(value, 1)]

    def done(self) -> None:
        """Whatever nobody asked for is no key of this table."""
        for key in self.data:
            if key not in self.asked:
                near = nearest(key, self.asked)
                meant = f"did you mean {any_of(near)}?" if near else f"there are {any_of(self.asked, 'and')}"
                self.problems.append(f"{self.at(key)} must be a key of this table: {meant} (got {key!r})")
