"""`python -m cli` is the same as `overload`: whoever stops it while it is still being loaded is told so in one line."""

from __future__ import annotations

import os
import signal
from types import FrameType

from sim.words.world import NOTHING_FINISHED


def stopped_while_loading(number: int, _: FrameType | None) -> None:
    """Nothing has been begun, so there is nothing to put away; an exception could be lost in whatever is being imported."""
    os.write(2, f"{NOTHING_FINISHED}\n".encode())
    os._exit(128 + number)  # as a shell has it


def main() -> None:
    """Run the command line."""
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:  # and not shut off, as in the background
        signal.signal(signal.SIGINT, stopped_while_loading)
    from cli.app import main as run

    run()


if __name__ == "__main__":
    main()
