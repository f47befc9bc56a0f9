"""Who plays: the processes of `--workers`, or the cluster of `--cluster`, which must answer before the first bout."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from sim.experiments.executors import Workers

from cli.console import say


@contextmanager
def executor_of(workers: int | None, cluster: str | None) -> Iterator[Workers]:
    """What the experiments take as their `workers`; a cluster that is lost on the way is told at the end."""
    if cluster is None:
        yield workers
        return
    from sim.errors import InputError

    if workers is not None:
        raise InputError(f"must go without --workers: the cluster has its own (got {workers})", "--cluster")
    from sim.experiments.cluster import connected

    with connected(cluster) as found:
        try:
            yield found
        except KeyboardInterrupt:
            if found.lost:  # and too little was finished for an answer
                raise InputError(found.lost, "--cluster") from None
            raise
    if found.lost:
        say(f"--cluster: {found.lost}; what was finished is kept", err=True)
