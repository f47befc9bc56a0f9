"""An executor: the workers of a Dask scheduler which somebody has started elsewhere (extra `cluster`).

Numbers are the same to the last bit only where the same program plays, so every worker is asked what it has before the first
bout, and asked again with every task, because workers may come later.  A worker that dies loses nothing: the
scheduler gives its tasks to another.
"""

from __future__ import annotations

import asyncio
import platform
import socket
from collections.abc import Callable, Iterator
from concurrent.futures import CancelledError, Executor, Future
from contextlib import contextmanager
from functools import cache
from importlib.metadata import version
from typing import TYPE_CHECKING, Any
from urllib.parse import urlsplit

from sim import __version__
from sim.errors import InputError
from sim.experiments.checkpoints import WORDS, said
from sim.experiments.executors import AHEAD, Lost, SessionExecutor
from sim.experiments.made_of import LIBRARIES
from sim.provenance import engine

if TYPE_CHECKING:
    from distributed import Client

OPTION = "--cluster"
ANSWER_S = 4.0  # a scheduler that has not answered after this is not there
SCHEMES = ("tcp", "tls", "ws", "wss")
NOBODY_LOOKS = (
    15  # looks in a row without any worker (`LOOK_S` of the executors apart) until nobody is waited for any more
)
FACTS = WORDS | {"python": "have the same Python"}
Facts = dict[str, Any]


class Gone(Lost):
    """The cluster is lost."""

    source = OPTION


class OtherProgram(Exception):
    """A worker that has come later would not give the same numbers."""


@cache
def facts() -> Facts:
    """What the bits of what is counted hang on besides its game and seed, where this is called."""
    return {
        "version": __version__,
        "engine": engine(),
        "libraries": {name: version(name) for name in LIBRARIES},
        "python": ".".join(platform.python_version_tuple()[:2]),
    }


def differences(there: Facts, here: Facts) -> list[str]:
    """What is not the same there as here, a line each."""
    return [
        f"must {FACTS[part]} (got {said(there.get(part), here[part])})"
        for part in here
        if there.get(part) != here[part]
    ]


def at_work(here: Facts, fn: Callable, *args: Any) -> Any:
    """On a worker: the task, if this is the same program."""
    problems = differences(facts(), here)
    if problems:
        raise OtherProgram("; ".join(problems))
    return fn(*args)


class Sending(Executor):
    """Tasks through an executor of the client, each with what the worker must be."""

    def __init__(self, executor: Executor):
        self.executor, self.here = executor, facts()

    def submit(self, fn: Callable, /, *args: Any, **kwargs: Any) -> Future:
        """The future of a task that the cluster plays."""
        return self.executor.submit(at_work, self.here, fn, *args, **kwargs)


class Cluster(SessionExecutor):
    """All workers of a scheduler, however many there are at the moment."""

    first_here = False  # the workers compile for themselves

    def __init__(self, client: Client, size: int):
        self.client, self.size, self.ahead = client, size, AHEAD * size
        self.alone, self.lost = 0, ""

    @contextmanager
    def working(self) -> Iterator[Executor]:
        """All workers that there are; raises `Gone` when the cluster is lost."""
        from distributed import KilledWorker
        from distributed.comm.core import CommClosedError

        self.alone = 0
        try:
            yield Sending(self.client.get_executor(pure=False))
        except OtherProgram as error:
            self.lost = f"a worker that came later {error}"
        except (KilledWorker, ImportError) as error:
            self.lost = f"workers must be able to play a session (got {type(error).__name__}: {first_line(error)})"
        except (CancelledError, CommClosedError, TimeoutError):
            self.lost = "the scheduler must stay until the end (got no answer any more)"
        except Lost as lost:
            self.lost = str(lost)
            raise Gone(self.lost) from None
        if self.lost:
            raise Gone(self.lost)

    def look(self) -> None:
        """Raise `Gone` when there has been no worker for too long."""
        self.alone = 0 if self.client.scheduler_info()["workers"] else self.alone + 1
        if self.alone >= NOBODY_LOOKS:
            raise Gone("workers must stay until the end (got none any more)")


def first_line(error: BaseException) -> str:
    """The first line of what an error says."""
    return (str(error).splitlines() or [""])[0]


@contextmanager
def connected(address: str) -> Iterator[Cluster]:
    """The executor at this address, asked for its versions; refused if it cannot play."""
    try:
        from distributed import Client
    except ImportError:
        rule = "must have the extra: pip install 'quillhaven-overload[cluster]'"
        raise InputError(f"{rule} (got no dask.distributed here)", OPTION) from None
    require_scheduler(address)
    try:
        client = Client(address, timeout=ANSWER_S, set_as_default=False, name="overload")
    except (OSError, ValueError, ImportError, TypeError) as error:
        raise nobody(address, error) from None
    with client:
        require_same_program(client, address)
        yield Cluster(client, sum(client.ncores().values()))


def nobody(address: str, error: Exception) -> InputError:
    """The refusal of an address."""
    rule = f"must be the address of a Dask scheduler that answers, such as tcp://10.0.0.5:8786 (got {address!r}"
    reason = getattr(error, "strerror", None) or first_line(error)
    return InputError(f"{rule}: {reason})", OPTION)


def require_scheduler(address: str) -> None:
    """Refuse an address that is none, or where nobody or somebody else answers; a client would go on trying for long."""
    try:
        found = urlsplit(address if "://" in address else f"tcp://{address}")
        if found.scheme not in SCHEMES or not found.hostname or not found.port:
            raise ValueError(f"it must be {SCHEMES[0]}://HOST:PORT")
        socket.getaddrinfo(found.hostname, found.port)  # a name that nobody has is told at once
        if asyncio.run(asyncio.wait_for(identity(found.geturl()), ANSWER_S)).get("type") != "Scheduler":
            raise ValueError("something else answers there")
    except TimeoutError:
        raise nobody(address, ValueError(f"no answer within {ANSWER_S:g} s")) from None
    except Exception as error:  # whatever somebody who is no scheduler may answer, and whatever Dask makes of it
        raise nobody(address, error) from None


async def identity(address: str) -> dict:
    """What the one who listens there says he is."""
    from distributed.comm.core import connect
    from distributed.core import send_recv
    from distributed.security import Security

    comm = await connect(address, timeout=2 * ANSWER_S, **Security().get_connection_args("client"))
    try:
        return await send_recv(comm, op="identity")
    finally:
        comm.abort()


def require_same_program(client: Client, address: str) -> None:
    """Refuse a cluster without workers, or with one that is of another program."""
    there = client.run(facts, on_error="return")
    problems = [f"must have a worker at least (got none at {address})"] if not there else []
    for worker, found in sorted(there.items()):
        if isinstance(found, dict):
            problems += [f"worker {worker} {one}" for one in differences(found, facts())]
        else:
            problems.append(f"worker {worker} must have this program installed (got {first_line(found)})")
    if problems:
        raise InputError(problems, OPTION)
