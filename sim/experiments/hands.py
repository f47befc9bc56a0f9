"""A process that plays for another: what stops the one that asked does not stop it, and it ends with the one that asked.

However the one that asked ends - also killed, where it can tell nobody -, its processes are gone: at once where the system sees
to it (Linux), within `LOOK_S` elsewhere.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import threading
from multiprocessing.connection import wait

LOOK_S = 1.0  # how often a process looks whether the one that asked is still there
TELL_ME = 1  # PR_SET_PDEATHSIG of Linux's prctl(2): the signal to have when the one that made this process ends


def begin() -> None:
    """At the start of such a process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    if hasattr(os, "setpgid"):
        os.setpgid(0, 0)  # what is told to a whole group of processes is for the one that asked alone
    if sys.platform == "linux":
        import ctypes

        ctypes.CDLL(None).prctl(TELL_ME, signal.SIGKILL)
    threading.Thread(target=end_with_parent, args=(os.getppid(),), daemon=True).start()


def end_with_parent(parent: int) -> None:
    """Waits for the end of the process that asked, and ends this one.

    Its end is told through a pipe; another process may hold that open, so the number of the parent is looked at, too.
    """
    asker = multiprocessing.parent_process()
    while asker is not None and not wait([asker.sentinel], LOOK_S) and os.getppid() == parent:
        pass
    os._exit(1)
