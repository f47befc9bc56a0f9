"""What can be wrong with what a person typed.

Every message has one pattern: where, what rule, which value - for example
``areas.square.length must be greater than 0 (got -3.0)``.  Several problems of one file are
collected and reported together.  Anything that is not a `GameError` is a bug and keeps its traceback.
"""

from __future__ import annotations

MOST_TOLD = 20  # a screenful: who has put right twenty things asks again


class GameError(ValueError):
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
