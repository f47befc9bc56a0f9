"""Sessions made by hand for the workers of a cluster, some of which do something to them; the test tells them where through
the environment they are started in."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path

from tests.unit.experiments.staged import staged

MARK, PARENT = "TEST_CLUSTER_MARK", "TEST_CLUSTER_PARENT"


def kills_its_worker_once(game, seed, replicate):
    """Session 40 ends the process that plays it, unless that has been done before."""
    mark = Path(os.environ[MARK])
    if replicate == 40 and not mark.exists():
        mark.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return staged(game, seed, replicate)


def kills_every_worker(game, seed, replicate):
    if replicate >= 40:
        os.kill(os.getpid(), signal.SIGKILL)
    return staged(game, seed, replicate)


def interrupts_the_asker_at_50(game, seed, replicate):
    if replicate == 50:
        os.kill(int(os.environ[PARENT]), signal.SIGINT)
    if replicate > 50:
        time.sleep(0.05)
    return staged(game, seed, replicate)
