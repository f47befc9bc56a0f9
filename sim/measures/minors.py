"""What is not told of single players where minors play: top speeds and sprints, which too little is known of, and reserves.

Groups keep them.  One by one they would be read as a ranking of children by what nobody has measured.
"""

from __future__ import annotations

UNTOLD = ("peak_speed", "sprint", "high_speed", "reserve")
"""What the name of such a measure, or of such a column of the table of players, holds."""


def untold(name: str) -> bool:
    """Whether a measure or a column is not told of a single player where minors play."""
    return any(word in name for word in UNTOLD)
