"""The compiler of the inner functions, with a cache that is right.

Compiled functions contain the code of the functions they call and the constants they read, from whatever file those come.
So the cache is kept in a folder named after a digest of all sources with compiled functions: a change in any of
them starts a new folder, and nothing stale is ever run.  The folder lies beside the sources, or with the temporary files
where that place cannot be written.  What lies in it is run, so it is used only if it is this user's and nobody else can write
there; failing that, this process compiles for itself alone.
"""

from __future__ import annotations

import atexit
import hashlib
import os
import shutil
import stat
import tempfile
from pathlib import Path

import numba
import numpy as np
from numba import config, types

__all__ = ["njit", "records", "square"]

HERE = Path(__file__).parent
SOURCES = (
    "compiled.py",
    "streams.py",
    "motion.py",
    "ball.py",
    "energy.py",
    "trajectory.py",
    "roots.py",
    "turning.py",
    "pitch/**/*.py",
    "measures/external_load.py",
    "measures/power.py",
    "measures/heart.py",
)


def digest() -> str:
    """A short digest of the sources of all compiled functions."""
    total = hashlib.sha256()
    for pattern in SOURCES:
        for file in sorted(HERE.glob(pattern)):
            total.update(file.read_bytes())
    return total.hexdigest()[:12]


def cache_folder() -> Path:
    """Where the compiled functions of exactly these sources are kept; older folders beside it are removed."""
    user = os.getuid() if hasattr(os, "getuid") else 0
    shared = Path(tempfile.gettempdir()) / f"overload-kernels-{user}"
    if os.access(HERE, os.W_OK) and (folder := folder_in(HERE / "__pycache__")):
        return folder
    try:
        shared.mkdir(mode=0o700, exist_ok=True)
    except OSError:
        pass
    if is_ours(shared) and (folder := folder_in(shared)):
        return folder
    alone = tempfile.mkdtemp(prefix="overload-kernels-")
    atexit.register(shutil.rmtree, alone, ignore_errors=True)
    return Path(alone)


def folder_in(beside: Path) -> Path | None:
    """The folder of these sources in this place, made if it is not there; None where it is not to be trusted or cannot be made."""
    folder = beside / f"kernels-{digest()}"
    try:
        if not folder.exists():
            for old in beside.glob("kernels-*"):
                shutil.rmtree(old, ignore_errors=True)
            beside.mkdir(parents=True, exist_ok=True)
            folder.mkdir(mode=0o700, exist_ok=True)
    except OSError:
        return None
    return folder if is_ours(folder) else None


def is_ours(folder: Path) -> bool:
    """A real folder of this user's, in which nobody else may write."""
    try:
        found = folder.lstat()
    except OSError:
        return False
    if not hasattr(os, "getuid"):  # where files have no such owners
        return stat.S_ISDIR(found.st_mode)
    others = stat.S_IWGRP | stat.S_IWOTH
    return stat.S_ISDIR(found.st_mode) and found.st_uid == os.getuid() and not found.st_mode & others


config.CACHE_DIR = str(cache_folder())  # type: ignore[attr-defined]  # numba makes its settings at run time
COMPLETE = "complete"  # a file in that folder: everything that play needs has been compiled


def complete_mark() -> Path:
    """The file that says so."""
    return Path(config.CACHE_DIR) / COMPLETE  # type: ignore[attr-defined]  # as above


def is_complete() -> bool:
    """Whether all that play needs has been compiled on this machine before."""
    return complete_mark().exists()


def set_complete() -> None:
    """It has been, from now on."""
    try:
        complete_mark().touch()
    except OSError:
        pass  # a cache that cannot be written has nothing in it either


def njit(*signature, makes_arrays: bool = False, **options):
    """`numba.njit` without four costs: the check of every division for zero (it would keep loops from being made fast); in a
    function that makes no arrays of its own, counting who holds those handed in (it takes longer than most of ours do); an
    entrance for C (nobody comes that way); and compiling a function anew for every number that stands as such in a call of it."""
    compiler = numba.njit(  # type: ignore[call-overload]  # two of these options are private
        *signature, error_model="numpy", _nrt=makes_arrays, no_cfunc_wrapper=True, **options
    )
    return lambda function: once_for_a_type(compiler(function))


def once_for_a_type(function):
    """Compiled callers ask for it by the types of what they hand over, not by the values: 2 and 3 are both whole numbers."""
    by_value = getattr(function, "get_call_template", None)
    if by_value is not None:  # plain Python has none (NUMBA_DISABLE_JIT)
        function.get_call_template = lambda args, named: by_value(
            tuple(map(types.unliteral, args)), {name: types.unliteral(one) for name, one in named.items()}
        )
    return function


def records(table):
    """A table of records for functions that read ``table[i].name``: where nothing is compiled, with its fields as attributes."""
    return table.view(np.recarray) if config.DISABLE_JIT else table  # type: ignore[attr-defined]  # as above


@njit(cache=True)
def square(x):
    """x * x.  (`x ** 2` is that when compiled, but the C library's pow in plain Python: another last digit now and then.)"""
    return x * x
