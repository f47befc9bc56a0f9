"""Details of play: players without the ball whose side has it.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter
from sim.pitch.assumptions.rows import held

OFF_BALL: tuple[Parameter, ...] = (
    # deciding anew
    held("replan_least", 0.6, "1", 0.3, 0.9, "shortest time between a player's own changes of mind, over the mean one"),
    held("replan_range", 0.8, "1", 0.2, 1.4, "how much longer the longest one is, over the mean one"),
    held(
        "control_reaction", 0.5, "1", 0.2, 1.0, "share of his reaction after which a player answers a controlled ball"
    ),
    held("run_noise", 0.08, "1", 0.0, 0.2, "how far off a player is when he judges what a place is worth"),
    held("run_inset", 0.3, "m", 0.1, 0.8, "how far inside his zone a player's run ends"),
    # zones
    held("line_inset", 0.2, "m", 0.0, 0.5, "how far short of a line that he may not cross a player stops"),
    held(
        "line_slack", 0.4, "m", 0.1, 0.8, "how far over such a line he may still play the ball, or be, from behind it"
    ),
    held(
        "shut_delay", 3.0, "s", 0.0, 10.0, "a defender who may not go where the ball is counts as so much later there"
    ),
    held(
        "zone_depth", 1.5, "m", 0.5, 4.0, "how far inside a zone that is worth a point a player means to have the ball"
    ),
    held(
        "zone_worth", 0.6, "1", 0.0, 1.5, "worth, to a free player, of being in a zone where a pass to him is rewarded"
    ),
    held(
        "zone_range", 1.2, "1", 0.5, 6.0, "from so many lengths of spacing on players run into a zone ahead of the ball"
    ),
    held("zone_mates", 1.0, "1", 1.0, 5.0, "so many of a side in such a zone are enough"),
    held("offside_cost", 1.0, "1", 0.0, 3.0, "worth lost by a place that is offside"),
    # along a line
    held(
        "edge_beat_share",
        0.4,
        "1",
        0.2,
        0.5,
        "share of his part of the lines that a player moves along for a better place",
    ),
    held("edge_apart", 0.25, "1", 0.1, 0.5, "worth, to a player on a line, of being well apart from his own side"),
    held("edge_room", 0.35, "1", 0.1, 0.6, "worth, to a player on a line, of being well clear of opponents"),
    held("edge_stray", 0.05, "1", 0.01, 0.15, "worth lost half a beat away from the own place on a line"),
    held(
        "far_shift",
        0.6,
        "1",
        0.0,
        1.0,
        "how far a player on a line who waits for a ball in another area moves across with it, as a share of its way",
    ),
    # inside
    held("support_near", 0.25, "1", 0.1, 0.5, "shortest move a free player looks at, in lengths of spacing"),
    held("support_range", 0.45, "1", 0.2, 0.8, "how much longer the longest one is, in lengths of spacing"),
    held("support_room", 0.5, "1", 0.2, 0.8, "worth, to a free player, of being well clear of opponents"),
    held(
        "support_room_full",
        0.5,
        "1",
        0.3,
        1.0,
        "an opponent this many lengths of spacing off leaves a free player all he wants",
    ),
    held("support_apart", 0.3, "1", 0.1, 0.6, "worth, to a free player, of being well apart from his own side"),
    held("support_lane", 0.9, "1", 0.5, 1.3, "worth, to a free player, of a lane to him that is sure to be open"),
    held(
        "marked_within", 0.45, "1", 0.2, 0.8, "an opponent nearer than this many lengths of spacing marks a free player"
    ),
    held("marked_cost", 0.4, "1", 0.1, 0.8, "worth lost by staying where an opponent is right beside"),
    held("drift", 1.95, "m/s", 0.6, 2.6, "speed of a free player who keeps moving where nowhere is better"),
    held("drift_for", 1.5, "s", 0.8, 3.0, "he means to keep moving that way for this long"),
    held(
        "run_ahead", 1.0, "1", 0.0, 2.0, "worth of ground gained, a length of spacing, to whose side is through on goal"
    ),
    # with a carrier who is through on goal
    held(
        "beside_within", 25.0, "m", 0.0, 40.0, "a free mate no further off goes with a carrier who is through on goal"
    ),
    held("beside_most", 2.0, "1", 0.0, 4.0, "so many mates at most go with a carrier who is through on goal"),
    held("beside_time", 1.5, "s", 0.5, 3.0, "who goes with him runs to where the ball will be after this time"),
    held("beside_ahead", 1.0, "m", 0.0, 3.0, "how far ahead of that ball, towards goal, who goes with him means to be"),
    held(
        "beside_onside", 0.5, "m", 0.0, 2.0, "how far behind that ball he stays where he would be offside ahead of it"
    ),
    held("beside_wide", 6.5, "m", 0.0, 10.0, "how far to the side of the carrier's way to goal who goes with him runs"),
    # depth: where goals are attacked
    held(
        "side_reach",
        30.0,
        "m",
        20.0,
        45.0,
        "no place in the shape lies further up or down the pitch from the ball than this",
    ),
)
