"""Reading a file of tables key by key: dates, hours, pairs and tables within tables, beside what `sim.squads.entries` reads."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time

from sim.errors import any_of
from sim.game.messages import show
from sim.squads.entries import Entries

MOST_TEXT = 200


class Tables(Entries):
    """A table of a file; `problems` is shared by all tables of the file."""

    def refuse(self, key: str, rule: str) -> None:
        """The value of a key breaks a rule."""
        self.complain(key, f"{rule} (got {show(self.data[key]) if key in self.data else 'nothing'})")

    def line(self, key: str, missing: str = "") -> str:
        """A text of one line."""
        found = self.text(key) or missing
        if len(found) > MOST_TEXT or not found.isprintable():
            self.refuse(key, f"must be one line of at most {MOST_TEXT} characters")
            return missing
        return found

    def yes(self, key: str) -> bool:
        """true or false; false where it is left out."""
        found = self.value(key)
        if found is not None and not isinstance(found, bool):
            self.refuse(key, "must be true or false")
        return found is True

    def texts(self, key: str) -> tuple[str, ...]:
        """A text, or a list of them."""
        found = self.value(key)
        several = [found] if isinstance(found, str) else [] if found is None else found
        if not isinstance(several, list) or not all(isinstance(one, str) for one in several):
            self.refuse(key, "must be a list of texts in quotes")
            return ()
        return tuple(several)

    def pair(self, key: str, low: float, high: float) -> tuple[float, float] | None:
        """Two numbers in brackets, the lower first; None where it is left out or wrong."""
        if key not in self.data:
            self.asked.append(key)
            return None
        before = len(self.problems)
        found = self.numbers(key, 2, low, high)
        if found is not None and found[0] > found[1]:
            self.refuse(key, "must have the lower number first")
        return None if found is None or len(self.problems) > before else (found[0], found[1])

    def several(self, key: str, low: float, high: float) -> tuple[float, ...]:
        """Numbers, as many as there are; none where it is left out."""
        found = self.listed(key)
        return (self.numbers_in(key, found, len(found), low, high) or ()) if found else ()

    def day(self, key: str, needed: bool = False) -> date | None:
        """A date, written as 2026-08-15 without quotes."""
        found = self.value(key)
        if found is None and not needed:
            return None
        if not isinstance(found, date) or isinstance(found, datetime):
            self.refuse(key, "must be a date such as 2026-08-15, without quotes")
            return None
        return found

    def hour(self, key: str) -> time | None:
        """An hour, written as 19:00:00 without quotes."""
        found = self.value(key)
        if found is not None and not isinstance(found, time):
            self.refuse(key, "must be an hour such as 19:00:00, without quotes")
            return None
        return found

    def table(self, key: str) -> Tables:
        """A table within; an empty one where it is left out."""
        found = self.value(key)
        if found is not None and not isinstance(found, dict):
            self.refuse(key, "must be a table")
        return Tables(found if isinstance(found, dict) else {}, self.at(key), self.problems)

    def named(self) -> Iterator[tuple[str, Tables]]:
        """Every table of this table by its name, whatever the names are."""
        for key in self.data:
            yield key, self.table(key)

    def tables(self, key: str) -> list[Tables]:
        """A list of tables, each under [[key]] in the file."""
        found = self.value(key)
        if found is None:
            return []
        if not isinstance(found, list) or not all(isinstance(one, dict) for one in found):
            self.refuse(key, f"must be tables, each headed [[{self.at(key)}]]")
            return []
        return [Tables(one, f"{self.at(key)}[{i}]", self.problems) for i, one in enumerate(found, 1)]

    def require_one_of(self, key: str, values: tuple[str, ...], known: tuple[str, ...]) -> None:
        """Refuse values that are none of these."""
        for value in values:
            if value not in known:
                self.complain(key, f"must be of {any_of(known, 'and')} (got {show(value)})")
