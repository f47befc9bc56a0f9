"""Plans at random: no limit of a player is ever broken.

    python -m tests.plans 10000 [SEED]

plans so many made-up weeks and counts the limits of every player anew from the bouts that he was given.
"""

from __future__ import annotations

import sys

from tests.support.weeks_at_random import broken, crowded, plan_at_random


def found_broken(count: int, seed: int) -> tuple[int, int, list[str]]:
    """(plans made, lines with limits, what was broken) in so many plans, those that were refused left out."""
    made, limited, problems = 0, 0, []
    for number in range(seed, seed + count):
        plan = plan_at_random(number)
        if plan is None:
            continue
        made += 1
        for line in plan.lines:
            limited += bool(line.member.limits.by)
            problems += [f"seed {number}: {line.member.name}: {one}" for one in broken(line, plan)]
        problems += [f"seed {number}: {one}" for one in crowded(plan)]
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
