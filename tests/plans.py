"""Plans at random: no limit of a player is ever broken.

    python -m tests.plans 10000 [SEED]

plans so many made-up weeks, moves an evening of each, looks back on them, and holds what is printed, and the JSON, against
everybody's limits; of every other seed also a week of minors.
"""

from __future__ import annotations

import sys

from tests.support.plan_data_at_random import broken_in_data, minors_at_random
from tests.support.weeks_at_random import broken, plans_at_random

WHOLE = 50
"""Every so many are printed as a whole page."""


def found_broken(count: int, seed: int) -> tuple[int, int, list[str]]:
    """(plans made, lines with limits, what was broken) in so many draws, those that were refused left out."""
    made, limited, problems = 0, 0, []
    for number in range(seed, seed + count):
        young = minors_at_random(number) if number % 2 else []
        problems += [f"seed {number}, minors: {one}" for drawn in young for one in broken_in_data(drawn)]
        made += len(young)
        for drawn in plans_at_random(number):
            made += 1
            problems += [f"seed {number}, JSON: {one}" for one in broken_in_data(drawn)]
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
