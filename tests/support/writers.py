"""Programs that say line by line what they have kept, and are killed on the way."""

from __future__ import annotations

import signal
import subprocess


def killed(process: subprocess.Popen[str]) -> list[str]:
    """Ends it by force; the whole lines that it had said besides those read before.

    Read as those were, through what Python keeps of the pipe: `communicate` reads the pipe itself, and passes over whatever had
    come along with the last line.
    """
    process.send_signal(signal.SIGKILL)
    with process:
        return [line[:-1] for line in process.stdout if line.endswith("\n")]
