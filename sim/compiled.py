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
from numba import config

__all__ = ["njit", "square"]

HERE = Path(__file__).parent
SOURCES = ("compiled.py", "streams.py", "motion.py", "ball.py", "energy.py", "pitch/*.py", "measures/load.py", "measures/power.py",
           "measures/heart.py")  # fmt: skip


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


config.CACHE_DIR = str(cache_folder())


def njit(*signature, makes_arrays: bool = False, **options):
    """`numba.njit` without two costs: the check of every division for zero (it would keep loops from being made fast), and, in a
    function that makes no arrays of its own, counting who holds those handed in (it takes longer than most of ours do)."""
    return numba.njit(*signature, error_model="numpy", _nrt=makes_arrays, **options)


@njit(cache=True)
def square(x):
    """x * x.  (`x ** 2` is that when compiled, but the C library's pow in plain Python: another last digit now and then.)"""
    return x * x
