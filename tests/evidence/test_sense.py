"""What every coach knows of tight keep-ball, each with a size and a 99 % interval beyond it.

All rows: common practice, no source (no published turnover rates of tight keep-ball are known).  Amateur men, 60 sessions of
one bout of 4 minutes an arm, fixed in advance; 14 comparisons.  The interval of a ratio of two arms treats them as independent
(they share their seeds, so it is wide rather than narrow); rates are ratios of sums over sessions.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest

from sim.game.loader import load_game
from sim.pitch.engine import play_bout
from sim.players import draw_roster
from tests.property.test_play import ends

pytestmark = pytest.mark.evidence
SESSIONS = 60
Z_99 = 2.5758
STEPS = 4  # speed is sampled at so many places of a segment for the distance by role (the product integrates exactly)


def arm(side: int, touches: int, outside: int, inside: int) -> dict[str, np.ndarray]:
    """The tight square with these numbers, everything else as shipped."""
    return played(side, touches, outside, inside, ())


@cache
def played(side: int, touches: int, outside: int, inside: int, assumptions: tuple) -> dict[str, np.ndarray]:
    """Counts of each session: losses, passes, completed passes, seconds in play, metres and seconds by role."""
    game = load_game(
        "tight-square",
        [
            f"areas.square.length={side}",
            f"areas.square.width={side}",
            f"roles.outside.touches={touches}",
            f"roles.outside.players={outside}",
            f"roles.inside.players={inside}",
            "bouts.minutes=4",
        ],
    )
    names = ("losses", "passes", "completed", "in_play", "outside_m", "outside_s", "inside_m", "inside_s")
    rows = {name: np.zeros(SESSIONS) for name in names}
    for k in range(SESSIONS):
        log = play_bout(game, draw_roster(game, 5, k), 5, k, assumptions=dict(assumptions))
        since = 0.0
        for t, _, kind, *_ in log.events:
            rows["losses"][k] += kind == "loss"
            rows["passes"][k] += kind == "release"
            rows["completed"][k] += kind == "receive"
            if kind == "live":
                since = t
            elif kind == "dead":
                rows["in_play"][k] += t - since
        moved = metres(log.segments)
        for number, role in enumerate(log.roles):
            mine = log.segments[:, 10] == number
            rows[f"{role}_m"][k] += moved[mine].sum()
            rows[f"{role}_s"][k] += (log.segments[mine, 2] - log.segments[mine, 1]).sum()
    return rows


def metres(rows: np.ndarray) -> np.ndarray:
    """Length of each segment: chords of a few pieces of it."""
    total = np.zeros(len(rows))
    before = rows[:, 3:5]
    for step in range(1, STEPS + 1):
        part = rows.copy()
        part[:, 2] = rows[:, 1] + (rows[:, 2] - rows[:, 1]) * step / STEPS
        after = ends(part)[:, :2]
        total += np.hypot(*(after - before).T)
        before = after
    return total


def log_ratio_error(top: np.ndarray, bottom: np.ndarray) -> float:
    """Standard error of the logarithm of a ratio of sums over sessions (delta method)."""
    rest = top / top.mean() - bottom / bottom.mean()
    return rest.std(ddof=1) / math.sqrt(len(top))


def change(one: dict, other: dict, top: str, bottom: str) -> tuple[float, float, float]:
    """The rate of `other` over that of `one`, with its 99 % interval."""
    ratio = (other[top].sum() / other[bottom].sum()) / (one[top].sum() / one[bottom].sum())
    error = math.hypot(log_ratio_error(one[top], one[bottom]), log_ratio_error(other[top], other[bottom]))
    return ratio, ratio * math.exp(-Z_99 * error), ratio * math.exp(Z_99 * error)


# A known miss: the rate rises, but the whole interval does not lie beyond 20 % (ratio and 99 % interval, 25 November 2026: 1.38,
# 1.17-1.62).  In the larger square too many balls go over the line and defenders win too few.
@pytest.mark.xfail(strict=True, reason="13 m to 8 m at two touches: 1.38 (1.17-1.62), wanted wholly above 1.20")
def test_a_smaller_square_loses_more_balls():
    _, low, _ = change(arm(13, 2, 4, 2), arm(8, 2, 4, 2), "losses", "in_play")
    assert low > 1.20


@pytest.mark.parametrize("side", [10, 13])
def test_an_extra_defender_wins_more(side: int):
    _, low, _ = change(arm(side, 2, 4, 2), arm(side, 2, 4, 3), "losses", "in_play")
    assert low > 1.10


def test_an_extra_attacker_loses_fewer_of_his_passes():
    _, _, high = change(arm(13, 2, 4, 3), arm(13, 2, 5, 3), "losses", "passes")
    assert high < 0.90


@pytest.mark.parametrize(("side", "outside"), [(8, 4), (13, 4), (10, 5)])
def test_one_touch_loses_more_than_two_and_completes_less(side: int, outside: int):
    two, one = arm(side, 2, outside, 2), arm(side, 1, outside, 2)
    _, low, _ = change(two, one, "losses", "in_play")
    assert low > 1.10
    _, _, high = change(two, one, "completed", "passes")
    assert high < 1.0


@pytest.mark.parametrize("side", [8, 13])
def test_defenders_inside_run_more_than_the_outside_players(side: int):
    rows = arm(side, 2, 4, 2)
    outside = {"m": rows["outside_m"], "s": rows["outside_s"]}
    inside = {"m": rows["inside_m"], "s": rows["inside_s"]}
    _, low, _ = change(outside, inside, "m", "s")
    assert low > 1.20


@pytest.mark.parametrize(("touches", "outside"), [(2, 4), (1, 4)])
def test_passing_quickens_as_the_square_shrinks(touches: int, outside: int):
    _, low, _ = change(arm(13, touches, outside, 2), arm(8, touches, outside, 2), "passes", "in_play")
    assert low > 1.0


PLAIN = (
    ("anticipation_one_touch", 0.0),
    ("choice_noise_first", 0.0),
    ("first_time_error", 1.0),
    ("speed_error", 0.0),
    ("stale_first_time", 0.2),
    ("stretch_error", 0.0),
)


def test_execution_and_stale_information_are_part_of_why_one_touch_loses_more():
    # Without the penalties of first-time play, one touch loses clearly fewer of its passes than with them.
    _, _, high = change(arm(8, 1, 4, 2), played(8, 1, 4, 2, PLAIN), "losses", "passes")
    assert high < 0.90


# A known miss: the mean falls, but the whole interval does not lie beyond 10 % (ratio and 99 % interval, 25 November 2026):
# 8 m 0.84 (0.73-0.97), 10 m 0.89 (0.75-1.04), 13 m 0.97 (0.81-1.15).  With a fifth player the nearest pass is shorter and is
# played sooner, but balls over the line stay as many.
@pytest.mark.xfail(strict=True, reason="4v2 to 5v2: 8 m 0.84 (0.73-0.97), 10 m 0.89 (0.75-1.04), 13 m 0.97 (0.81-1.15)")
@pytest.mark.parametrize("side", [8, 10, 13])
def test_one_more_outside_eases_four_against_two(side: int):
    _, _, high = change(arm(side, 2, 4, 2), arm(side, 2, 5, 2), "losses", "passes")
    assert high < 0.90


def test_halving_the_time_between_changes_of_mind_moves_no_headline_measure():
    # Model notes: a parameter of the method, not of play; less than 5 % on each headline measure (same seeds in both arms).
    usual = arm(11, 2, 4, 2)
    halved = played(11, 2, 4, 2, (("replan", 0.375),))
    pairs = (
        ("losses", "in_play"),
        ("passes", "in_play"),
        ("completed", "passes"),
        ("outside_m", "outside_s"),
        ("inside_m", "inside_s"),
    )
    assert {pair: change(usual, halved, *pair)[0] for pair in pairs} == {
        pair: pytest.approx(1.0, abs=0.05) for pair in pairs
    }
