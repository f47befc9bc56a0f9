"""Details of play: the player with the ball: how he sees, plays and carries it.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter
from sim.pitch.assumptions.rows import held

ON_BALL: tuple[Parameter, ...] = (
    held("pressed_within", 3.0, "m", 2.0, 5.0, "an opponent further off than this does not press"),
    held("pressed_fully_within", 1.0, "m", 0.5, 1.8, "an opponent this near presses in full"),
    held(
        "fast_ball",
        8.0,
        "m/s",
        5.0,
        12.0,
        "speed of an arriving ball that counts as fast, for the error of a first-time pass",
    ),
    held("pass_least", 1.0, "m", 0.5, 2.0, "no pass is shorter than this"),
    held("mate_least", 1.5, "m", 1.0, 3.0, "nobody passes to a mate nearer than this"),
    held("cross_speed", 1.2, "m/s", 0.5, 3.0, "how fast a receiver is taken to get across to a ball off its line"),
    held("free_reach", 1.0, "m", 0.5, 2.0, "an opponent this near a receiver ends his being free"),
    held("progress_full", 2.0, "1", 1.0, 4.0, "gain of ground, in lengths of spacing, from which more counts no more"),
    held("pace_least", 0.55, "1", 0.4, 0.9, "softest ground pass to a player, over the usual of its length"),
    held("pace_most", 1.6, "1", 1.1, 2.0, "hardest ground pass to a player, over the usual of its length"),
    held("weight_least", 0.5, "1", 0.3, 0.8, "a kick that comes off worst has this share of the speed meant"),
    held("weight_most", 1.5, "1", 1.2, 2.0, "a kick that comes off too hard has at most this share of the speed meant"),
    held("feet_inset", 0.2, "m", 0.0, 0.5, "a pass to feet is meant to meet its receiver this far inside his zone"),
    held("space_inset", 0.3, "m", 0.0, 0.8, "a pass into space is led to this far inside the receiver's zone"),
    held("open_from", 2.0, "m", 1.0, 4.0, "with an opponent this near and goal-side, no ground is open to a carrier"),
    held(
        "open_fully", 8.0, "m", 5.0, 15.0, "with no opponent this near and goal-side, all ground is open to a carrier"
    ),
    held("carry_soft", 0.25, "m2", 0.05, 1.0, "keeps the push of an opponent right beside a carrier finite"),
    held("carry_aim", 0.5, "1", 0.0, 1.5, "pull of the aim on a carrier, over the push of an opponent a metre off"),
    held("carry_aim_open", 2.0, "1", 0.5, 4.0, "how much stronger that pull is with open ground ahead"),
    held("carry_centre", 0.3, "1", 0.0, 1.0, "pull of the middle of his zone on a carrier"),
    held("carry_on", 1.0, "m", 0.5, 2.0, "a carry is aimed this far ahead at least"),
    held("carry_on_time", 1.5, "s", 0.5, 3.0, "and as much further as a carrier runs in this time"),
    held("carry_inset", 0.5, "m", 0.2, 1.0, "a carrier keeps this far inside his zone"),
    held("carry_effort", 0.8, "1", 0.5, 1.0, "share of the greatest push used with the ball at the feet"),
    held("look_least", 0.7, "1", 0.4, 1.0, "shortest time between two looks, over look_interval"),
    held("look_range", 0.6, "1", 0.0, 1.2, "how much longer the longest one is, over look_interval"),
    held(
        "control_tempo",
        1.5,
        "1",
        1.0,
        2.0,
        "how many times the usual first touch takes when told to play at no tempo at all",
    ),
    held("touch_run", 0.25, "s", 0.0, 0.6, "a receiver runs on with the ball for this long"),
    held("touch_cap", 2.5, "m/s", 1.5, 4.0, "fastest run of a receiver with his first touch"),
    held("touch_effort", 0.8, "1", 0.5, 1.0, "share of the greatest push a receiver uses with his first touch"),
    held("follow_through", 0.2, "s", 0.05, 0.5, "how long a passer is out of it after his pass"),
)
