"""How far the sum of blocks, each begun with fresh legs, is from the session played as one, legs carried from block to block.

`python -m tests.evidence.test_session_as_one 24` plays so many sessions and prints the differences that stand in `cli/README.md`.
"""

from __future__ import annotations

import sys

import numpy as np

from sim.measures.session_counts import COLUMN, counts_of_bout
from sim.pitch.engine import play_bout
from sim.pitch.fatigue import after_rest
from sim.planning.block import Block, game_of
from sim.players import draw_roster

BLOCKS = (
    Block("even-keep-ball", bouts=4, work_s=180, rest_s=60),
    Block("even-keep-ball", ("length=24", "width=20"), bouts=3, work_s=240, rest_s=60),
    Block("even-keep-ball", ("length=40", "width=30"), bouts=2, work_s=360, rest_s=90),
)
BETWEEN_S = 240.0  # changeover, drinks and explanation
SEED = 1
MEASURES = ("distance_m", "high_speed_m", "accelerations", "decelerations", "defending_s")


def amounts(blocks: tuple[Block, ...], session: int, carried: bool) -> np.ndarray:
    """[block, measure]: what all players together come to, legs carried from block to block or fresh in each."""
    fatigue = None
    found = []
    for block in blocks:
        game = game_of(block)
        roster = draw_roster(game, SEED, session)
        fatigue = fatigue if carried else None
        total = np.zeros(len(MEASURES))
        before = None
        for bout in range(game.bouts.count):
            log = play_bout(game, roster, SEED, session, bout, fatigue=fatigue)
            before = counts_of_bout(game, log, before=before)
            total += [before.cells[:, :, COLUMN[name]].sum() for name in MEASURES]
            last = bout == game.bouts.count - 1
            fatigue = after_rest(log, roster, BETWEEN_S if last else game.bouts.rest_seconds)
        found.append(total)
    return np.array(found)


def test_the_first_block_is_the_same_and_later_ones_begin_with_less_in_the_legs():
    short = tuple(Block("even-keep-ball", bouts=1, work_s=60) for _ in range(2))
    alone, as_one = amounts(short, 0, False), amounts(short, 0, True)
    assert (alone[0] == as_one[0]).all()
    assert (alone[1] != as_one[1]).any()


def main(sessions: int) -> None:
    """Print each measure: the sum of blocks, the session as one, and the difference with its standard error."""
    alone, as_one = (
        np.array([amounts(BLOCKS, n, carried) for n in range(sessions)]).sum(axis=1) for carried in (False, True)
    )
    for i, name in enumerate(MEASURES):
        share = (as_one[:, i] - alone[:, i]) / alone[:, i].mean()
        error = share.std(ddof=1) / sessions**0.5
        sys.stdout.write(
            f"{name}: blocks {alone[:, i].mean():.0f}, as one {as_one[:, i].mean():.0f}, "
            f"{100 * share.mean():+.2f} % (give or take {200 * error:.2f})\n"
        )


if __name__ == "__main__":
    main(int(sys.argv[1]))
