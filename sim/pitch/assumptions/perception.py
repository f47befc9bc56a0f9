"""Details of play: what players see, and how they value a lane.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter
from sim.pitch.assumptions.rows import held

PERCEPTION: tuple[Parameter, ...] = (
    held("lane_least", 0.5, "m", 0.2, 1.0, "a pass shorter than this is taken to get there"),
    held(
        "lane_speed",
        8.0,
        "m/s",
        5.0,
        12.0,
        "speed of a pass from which a passer tells who is too far off its lane to matter",
    ),
    held("lane_margin", 1.0, "m", 0.5, 2.0, "how much nearer to the lane a passer takes that man to be"),
    held("body_near", 1.5, "m", 0.8, 2.5, "a body further from the lane than this is not in the way"),
    held("step_speed", 2.0, "m/s", 1.0, 4.0, "about how fast a presser moves while the ball is struck"),
    held(
        "scan_time",
        2.0,
        "s",
        0.3,
        6.0,
        "time to look round in which a player half composed has seen two opponents of three",
    ),
    held("scan_level", 1.9, "1", 0.0, 3.0, "how that time follows the player's level, as a power"),
    held(
        "scan_pressed", 0.6, "1", 0.0, 1.0, "share of his time that a player pressed in full cannot use to look round"
    ),
    held("scan_turned", 0.5, "s", 0.0, 1.5, "what turning away with the ball is worth in time to look round"),
    held("scan_near", 1.5, "m", 0.5, 3.0, "an opponent this near is never overlooked"),
    held("far_seen", 0.35, "1", 0.0, 1.0, "chance that a carrier nobody presses sees another area when he looks up"),
)
