"""How a value shows itself in a notebook: by what `sim.report.notebook` makes of it, once a cell asks.

That module is looked up by name and not imported: it stands far above, and what is imported from here is in the digest of the
engine (`sim.provenance`), but no number may hang on how it is shown.
"""

from __future__ import annotations

import copy
import importlib
from types import ModuleType
from typing import Any, ClassVar, Self

HOW = "sim.report.notebook"


def how() -> ModuleType:
    """The module that knows how each value is shown; it is loaded when a cell first asks."""
    return importlib.import_module(HOW)


class Drawn:
    """A game: a notebook shows its diagram."""

    def _repr_svg_(self) -> str:
        svg: str = how().diagram_of(self)
        return svg


class Shown:
    """An answer or a bout: a notebook shows it where it knows the games that it is about.

    They are no part of the value: not of its JSON, nor of what makes two of them equal.
    """

    games: ClassVar[tuple[Any, ...]] = ()

    def about(self, *games: Any) -> Self:
        """The same, knowing its games."""
        found = copy.copy(self)
        object.__setattr__(found, "games", games)  # beside the fields, which are frozen
        return found

    def _repr_html_(self) -> str | None:
        return how().html_of(self) if self.games else None
