"""Details of play: races to the ball, touches and tackles.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter
from sim.pitch.assumptions.rows import held

RACES: tuple[Parameter, ...] = (
    held("reaction_least", 0.05, "s", 0.0, 0.15, "nobody answers a kick sooner than this, however obvious it was"),
    held("obvious_from", 0.25, "1", 0.0, 0.5, "a pass with a smaller share of a watcher's odds is not anticipated"),
    held("ready_within", 0.3, "m", 0.1, 1.0, "this close to where the ball is meant to come a receiver waits for it"),
    held("still_wait", 6.0, "s", 3.0, 12.0, "how long a ball that has stopped is worth running for"),
    held("stands_within", 0.25, "m", 0.1, 0.6, "how near the ball's point a player must be to stay where he is"),
    held("stands_below", 0.5, "m/s", 0.2, 1.0, "a player near the ball's point and slower than this stays where he is"),
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
    held(
        "tackle_keenness",
        0.5,
        "1",
        0.2,
        1.0,
        "how often a presser who only contains still tackles, over one keen on the ball by as much again",
    ),
    held("missed_busy", 0.3, "s", 0.1, 0.8, "how long an opponent is out of it who got to a pass and missed it"),
    held("loose_busy", 0.35, "s", 0.1, 0.8, "how long a player is out of it off whom the ball has run loose"),
    held("loose_least", 1.5, "m/s", 0.5, 3.0, "slowest ball that runs loose"),
    held("loose_from", 4.0, "m/s", 2.0, 6.0, "a slower ball runs loose as one that came this fast"),
    held("loose_share_least", 0.6, "1", 0.3, 1.0, "least share of its mean speed at which a ball runs loose"),
    held("loose_share_range", 0.8, "1", 0.0, 1.4, "how much more that share is at most"),
    held("loose_turn", 2.8, "rad", 1.0, 3.1, "how widely the directions spread in which balls run loose"),
    held("loose_seen", 1.5, "m", 0.5, 4.0, "players reckon with a loose ball this far along its way"),
    held("loose_time", 0.5, "s", 0.2, 1.5, "after how long players reckon to find a loose ball there"),
    held("fumble_keeps", 0.3, "1", 0.1, 0.6, "mean share of its speed that a ball keeps off a failed first touch"),
    held("tackled_speed", 6.0, "m/s", 3.0, 10.0, "a ball tackled loose leaves as one does that came this fast"),
    held("tackled_keeps", 0.5, "1", 0.2, 0.8, "mean share of that speed that a ball tackled loose keeps"),
    held("beaten_run", 0.2, "s", 0.0, 0.6, "a beaten tackler runs on for this long"),
    held("beaten_cap", 1.5, "m/s", 0.5, 3.0, "fastest run of a beaten tackler"),
    held("beaten_effort", 0.8, "1", 0.5, 1.0, "share of the greatest push of a beaten tackler"),
    held("kick_read", 0.08, "s", 0.0, 0.25, "reaction to a kick that opponents save by reading its backlift"),
    held("out_of_box", 1.0, "m", 0.0, 2.0, "how far outside his box a keeper may still play the ball"),
    held("loose_second", 0.5, "s", 0.2, 1.0, "a second man goes for a loose ball who is at most this much later"),
    held("loose_near", 2.0, "m", 1.0, 4.0, "or who is this near to it"),
    held(
        "win_share",
        0.8,
        "1",
        0.0,
        1.0,
        "share of the time he has over a receiver that an interceptor takes for an easier run",
    ),
    held(
        "follow_read",
        0.12,
        "s",
        0.0,
        0.4,
        "how much sooner than who races for the ball an opponent sets off by the kick who does not",
    ),
)
