"""Sessions made by hand for the workers of a cluster, some of which do something to them; the test tells them where through
the environment they are started in."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path

from tests.unit.experiments.staged import staged

MARK, PARENT, KEPT = "TEST_CLUSTER_MARK", "TEST_CLUSTER_PARENT", "TEST_CLUSTER_KEPT"
LONGEST_S = 120.0  # until which the asker must have kept something


def kills_its_worker_once(game, seed, replicate):
    """Session 40 ends the process that plays it, unless that has been done before."""
    mark = Path(os.environ[MARK])
    if replicate == 40 and not mark.exists():
        mark.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return staged(game, seed, replicate)


def wait_until_something_is_kept():
    """What has been finished on a worker may still be on its way to the asker, who says by a file that he has some."""
    kept, until = Path(os.environ[KEPT]), time.monotonic() + LONGEST_S
    while not kept.exists():
        assert time.monotonic() < until, "nothing was kept"
        time.sleep(0.01)


def kills_every_worker(game, seed, replicate):
    if replicate >= 40:
        wait_until_something_is_kept()
        os.kill(os.getpid(), signal.SIGKILL)
    return staged(game, seed, replicate)


def interrupts_the_asker_at_50(game, seed, replicate):
    if replicate == 50:
        wait_until_something_is_kept()
        os.kill(int(os.environ[PARENT]), signal.SIGINT)
    if replicate > 50:
        time.sleep(0.05)
    return staged(game, seed, replicate)
