"""Play random games with caps and permissions by command: ``python -m tests.caps 10000``; a second number is the seed.

No limit of a player, and no closed zone, may ever be broken.  Progress is on stderr; Ctrl-C ends it with what has been seen.
Ends with 1 if any was.
"""

from __future__ import annotations

import sys
from collections import Counter

from tests.support.caps import search

EVERY = 100
"""Bouts from one line of progress to the next."""


def main(bouts: int, seed: int) -> int:
    seen: list[tuple[int, Counter[str]]] = [(0, Counter())]

    def tell(done: int, found: Counter[str]) -> None:
        seen[0] = (done, found)
        if done % EVERY == 0:
            sys.stderr.write(f"{done} of {bouts} bouts\n")

    try:
        search(bouts, seed, tell)
    except KeyboardInterrupt:
        sys.stderr.write("stopped\n")
    done, found = seen[0]
    said = ", ".join(f"{kind} {times} x" for kind, times in sorted(found.items()))
    sys.stdout.write(f"{done} bouts: {said or 'no limit broken'}\n")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 10000, int(sys.argv[2]) if len(sys.argv) > 2 else 1))
