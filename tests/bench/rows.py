"""All rows of the benchmark, in the order of the table."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.bench import timing
from tests.bench.table import Row, at_least, at_most, two
from tests.bench.workload import GAMES, TIGHT, Size, eights, evens, shipped

CHANGES = {"a metre more": "areas.square.length=12", "one touch": "roles.outside.touches=1"}


def rows(size: Size) -> Iterator[Row]:
    """Each as it is known."""
    busy, whole = {}, {}
    for name in GAMES:
        busy[name], whole[name], busy[f"{name} rate"], _ = timing.a_minute(shipped(name, size), size)
        what = f"An in-play minute of {name}, over a bare SimPy loop of 1,000 timeouts"
        yield at_most(what, busy[name], 5, 1.5) if name == TIGHT else Row(what, two(busy[name]))
    eight, eight_whole, eight_rate, _ = timing.a_minute(eights(size), size)
    yield at_most("The same of even-goals with eight a side", eight, 15, 4)
    yield Row(
        f"The same of {TIGHT} and of eight a side, counting included", f"{two(whole[TIGHT])} and {two(eight_whole)}"
    )
    what = f"Player-seconds on the watch a second, counting included: {TIGHT}, eight a side"
    yield Row(what, f"{busy[f'{TIGHT} rate']:,.0f} and {eight_rate:,.0f}")

    two_processes, control = timing.two_over_one([shipped(name, size) for name in GAMES], size)
    yield at_least("Two processes over one, all shipped games", two_processes, 1.7, 1.9)
    yield Row("Two processes over one that only count, at the same time: what the machine gave", two(control))

    over = timing.evening_over_blocks(size)
    yield at_most("A session of three blocks over its blocks estimated one by one", over, 1.2)

    with tempfile.TemporaryDirectory() as folder:
        known = timing.known_over_new(size, Path(folder))
    yield at_most("`overload plan` of a week whose blocks are known, over from nothing", known, 0.05)

    plain, compiled, passes = timing.stepping(size)
    yield at_least(f"A plain loop at 10 Hz of the same play, nothing compiled, over ours ({TIGHT})", plain, 5, 8)
    yield Row("That loop with every function compiled, over ours", two(compiled))
    yield Row("Passes in that loop, over ours", two(passes))

    for said, change in CHANGES.items():
        fixed, drawn = timing.variance_ratios(size, change)
        what = f"Variance of the difference in turnovers by {said}, other sessions over the same"
        yield Row(f"{what}: players fixed", "not known" if fixed is None else two(fixed))
        if drawn is None:
            yield Row(f"{what}: players drawn", "not known", "at least 2", "no")
        else:
            yield at_least(f"{what}: players drawn", drawn, 2)

    ratio, megabytes = timing.peak(size)
    yield at_most(f"Peak memory at {10 * size.few:,} bouts of {TIGHT} over {size.few:,}", ratio, 1.2)
    yield Row(f"Peak memory at {size.few:,} bouts, MB", two(megabytes))

    longer, start = timing.help_over_bare(size)
    yield at_most("`overload --help` over that of a bare typer program", longer, 1.5)
    yield Row("`overload --help`, s", two(start))

    with tempfile.TemporaryDirectory() as folder:
        warm, cold = timing.first_bout(size, Path(folder))
    yield Row("A first short bout in a new process, compiled code kept, s", two(warm))
    if cold is not None:
        yield Row("The same on a new machine, where everything is compiled, s", two(cold))

    costs = [(2.0 * side + 2.0, timing.a_minute(evens(size, side), size)[0]) for side in size.sides]
    told = ", ".join(f"{players:.0f}: {two(cost)}" for players, cost in costs)
    what = f"An in-play minute of even-keep-ball grows with players to the power (by players: {told})"
    yield Row(what, two(timing.exponent(costs)))
    lengths = []
    for minutes in size.minutes:
        cost, _, _, in_play = timing.a_minute(shipped(TIGHT, size, f"bouts.minutes={minutes}"), size)
        lengths.append((minutes, cost * in_play))
    yield Row(f"A session of {TIGHT} grows with the length of a bout to the power", two(timing.exponent(lengths)))
