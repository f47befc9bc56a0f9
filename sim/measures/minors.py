"""What is not told of single players where minors play: top speeds and sprints, which too little is known of, and reserves.

Groups keep them.  One by one they would be read as a ranking of children by what nobody has measured.
"""

from __future__ import annotations

UNTOLD_MEASURES = frozenset(
    {
        "peak_speed_kmh",
        "high_speed_distance_m",
        "sprint_distance_m",
        "high_speed_band_distance_m",
        "sprint_band_distance_m",
        "lowest_reserve",
    }
)
"""Rows of the answer."""

UNTOLD_COLUMNS = frozenset(
    {
        "high_speed_s",
        "high_speed_m",
        "high_speed_efforts",
        "sprint_s",
        "sprint_m",
        "sprint_efforts",
        "high_speed_band_m",
        "sprint_band_m",
        "peak_speed_kmh",
    }
)
"""Columns of the table of players: missing values."""
