"""Details of play: races to the ball, touches and tackles.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter
from sim.pitch.assumptions.rows import held

RACES: tuple[Parameter, ...] = (
    held("reaction_least", 0.05, "s", 0.0, 0.15, "nobody answers a kick sooner than this, however obvious it was"),
    held("obvious_from", 0.25, "1", 0.0, 0.5, "a pass with a smaller share of a watcher's odds is not anticipated"),
    held("ready_within", 0.3, "m", 0.1, 1.0, "this close to where the ball is meant to come a receiver waits for it"),
    held("still_wait", 6.0, "s", 3.0, 12.0, "how long a ball that has stopped is worth running for"),
    held("stands_within", 0.25, "m", 0.1, 0.6, "a player this near the ball's point"),
    held("stands_below", 0.5, "m/s", 0.2, 1.0, "and slower than this stays where he is"),
    held(
        "early_share",
        0.8,
        "1",
        0.5,
        0.95,
        "who needs less than this share of the time meets the ball at an ordinary run",
    ),
    held("stopping", 1.8, "1", 1.2, 2.5, "speed of a run that is to end at the ball, over the mean speed needed"),
    held("race_least", 0.02, "s", 0.0, 0.1, "nobody is judged to reach a ball sooner after the kick"),
    held(
        "wait_safely",
        0.2,
        "s",
        0.05,
        0.6,
        "a receiver lets the ball come to him if no opponent is there for this long after it",
    ),
    held("wait_ahead", 0.15, "s", 0.05, 0.5, "otherwise he takes it this long before the first opponent"),
    held(
        "over_the_line", 0.5, "m", 0.0, 1.0, "how far over the line of the ground a free player may still play the ball"
    ),
    held("stretch_from", 0.5, "1", 0.2, 0.8, "share of a full stretch from which a first touch becomes harder"),
    held("tackle_keenness", 0.5, "1", 0.2, 1.0, "share of tackle_rate of a presser who only contains"),
)
