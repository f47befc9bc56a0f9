"""From a file as a coach writes it to the full form: what is written once is written out, what is left out is filled in.

The full form comes out as it went in.  `sim.game.spec` says what the full form is, `sim.game.short_words` what a short file may
hold and leave out.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sim.game.filling import fill
from sim.game.messages import Problem, apart
from sim.game.unfolding import unfold

TABLES = ("rules",)
"""Whole tables that a short file has in another place."""


@dataclass(frozen=True)
class Whole:
    """A file in the full form.

    spec      plain data of the full form
    filled    what the file left out, by dotted path
    written   where it stands in the file, by dotted path of the full form, where the two differ
    problems  what is wrong with what the file writes once
    """

    spec: dict[str, Any]
    filled: Mapping[str, Any]
    written: Mapping[str, str]
    problems: tuple[Problem, ...]

    def changed(self, spec: dict[str, Any]) -> Whole:
        """The same file with another full form."""
        return replace(self, spec=spec)

    def as_written(self, problems: Iterable[Problem]) -> list[str]:
        """Complaints about the full form that name the places in the file, each once."""
        told = [*self.problems, *problems]
        own = [problem for problem in told if not self._is_filled(problem.path)]  # the rest follows from these
        return list(dict.fromkeys(self.place_in_file(str(problem)) for problem in own or told))

    def _is_filled(self, path: str) -> bool:
        """Whether what stands at a path was filled in, and not changed since."""
        return path in self.filled and self.value_at(path) == self.filled[path]

    def place_in_file(self, text: str) -> str:
        """A text with every path of the full form in it as it stands in the file."""
        ends = self._ends()
        if not ends:
            return text
        places = "|".join(re.escape(full) for full in sorted(ends, key=len, reverse=True))
        return re.sub(rf"({places})(?![A-Za-z0-9_-])", lambda found: ends[found[0]], text)

    def value_at(self, path: str) -> Any:
        """The value at a dotted path of the full form; None where there is none."""
        here: Any = self.spec
        for part in path.split("."):
            here = here.get(part) if isinstance(here, dict) else None
        return here

    def in_full(self, changes: Sequence[str]) -> list[str]:
        """Changes ("KEY=VALUE") by the paths of the full form; one of what is written once changes all that come of it, but for
        what is written of the other side alone."""
        return [one for change in changes for one in self._in_full(change)]

    def _in_full(self, change: str) -> list[str]:
        key = change.partition("=")[0].strip()
        ways = [(full, short) for full, short in self._ends().items() if f"{key}.".startswith(f"{short}.")]
        longest = max((len(short) for _, short in ways), default=0)
        keys = [key.replace(short, full, 1) for full, short in ways if len(short) == longest]
        alone = [full for full, short in self.written.items() if full == short and not f"{key}.".startswith(f"{full}.")]
        kept = [one for one in keys if not any(f"{one}.".startswith(f"{full}.") for full in alone)]
        return [change.replace(key, one, 1) for one in kept] or [change]

    def _ends(self) -> dict[str, str]:
        """Where each place of the full form stands in the file, followed to the end; what stands there by its own name is followed
        only into a table that has another place."""
        ends, by_length = {}, sorted(self.written, key=len, reverse=True)
        for full, short in self.written.items():
            followed = by_length if full != short else [one for one in by_length if self.written[one] in TABLES]
            for inner in followed:
                outer = self.written[inner]
                if f"{short}.".startswith(f"{inner}.") and inner != full:
                    short = short.replace(inner, outer, 1)
            ends[full] = short
        return ends


def whole(data: Mapping[str, Any], name: str) -> Whole:
    """The full form of a file's data; `name` is what the file is called.  `data` itself is left as it is."""
    spec = apart(dict(data))
    spec.pop("family", None)  # what older files call their kind: the rules alone make it
    phases_written = "phases" in spec
    unfolding = unfold(spec)
    filled = fill(spec, name, phases_written)
    return Whole(apart(spec), filled, unfolding.written, tuple(unfolding.problems))
