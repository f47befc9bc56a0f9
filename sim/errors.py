"""What can be wrong with what a person typed.

Every message has one pattern: where, what rule, which value - for example
``areas.square.length must be greater than 0 (got -3.0)``.  Several problems of one file are
collected and reported together.  Anything that is not a `InputError` is a bug and keeps its traceback.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar

T = TypeVar("T")

NEAR = 3  # names offered for one that nobody knows
ALIKE = 0.5  # how much of a name must be right for it to be offered (a share, as `difflib` counts it)
LONGEST_NAME = 200  # characters of a wrong name that is compared with others: nobody mistypes a longer one
MOST_TOLD = 20  # a screenful: who has put right twenty things asks again


class InputError(ValueError):
    """One or more things in the user's input break a rule.

    `problems` holds one message per broken rule, in the order of the file; `source` names the file
    (or the option) they stand in.  Told are the first twenty, then how many more there are.
    """

    def __init__(self, problems: list[str] | tuple[str, ...] | str, source: str = ""):
        self.problems = (problems,) if isinstance(problems, str) else tuple(problems)
        self.source = source
        head = f"{source}: " if source else ""
        told = list(self.problems[:MOST_TOLD])
        if len(self.problems) > MOST_TOLD:
            told.append(f"and {len(self.problems) - MOST_TOLD} more")
        super().__init__("\n".join(head + problem for problem in told))


def given(value: T | None) -> T:
    """A value that earlier checks have made sure of; its absence is a bug and no fault of the input."""
    if value is None:
        raise ValueError("a value must be given here (got None)")
    return value


def nearest(got: str, known: Iterable[str]) -> list[str]:
    """The three of the known names that are most like what was typed, the most alike first; none where none is alike."""
    import difflib  # only where something is wrong: this module stands at every door

    plain = {name: name.casefold() for name in dict.fromkeys(known)}
    typed = got[:LONGEST_NAME].strip().casefold()
    alike = difflib.get_close_matches(typed, dict.fromkeys(plain.values()), n=NEAR, cutoff=ALIKE)
    begun = [low for low in plain.values() if len(typed) >= NEAR and low.startswith(typed)]
    return list(dict.fromkeys(name for one in (*alike, *begun) for name, low in plain.items() if low == one))[:NEAR]


def any_of(names: Sequence[str], last: str = "or") -> str:
    """Names as they are said: a, b or c."""
    return f" {last} ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
