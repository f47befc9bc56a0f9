"""Plans at random: no limit of a player is ever broken.

    python -m tests.plans 10000 [SEED]

plans so many made-up weeks, moves an evening of each, looks back on them, and holds what is printed against everybody's limits.
"""

from __future__ import annotations

import sys

from tests.support.weeks_at_random import broken, plans_at_random

WHOLE = 50
"""Every so many are printed as a whole page."""


def found_broken(count: int, seed: int) -> tuple[int, int, list[str]]:
    """(plans made, lines with limits, what was broken) in so many draws, those that were refused left out."""
    made, limited, problems = 0, 0, []
    for number in range(seed, seed + count):
        for drawn in plans_at_random(number):
            made += 1
            limited += sum(bool(one.limits.by) for one in drawn.members)
            problems += [f"seed {number}: {one}" for one in broken(drawn, whole=number % WHOLE == 0)]
    return made, limited, problems


if __name__ == "__main__":
    count, seed = int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1
    made, limited, problems = found_broken(count, seed)
    sys.stdout.write(
        "\n".join(
            [*problems, f"{count} asked for, {made} planned, {limited} lines with limits, {len(problems)} broken"]
        )
        + "\n"
    )
    raise SystemExit(bool(problems))
