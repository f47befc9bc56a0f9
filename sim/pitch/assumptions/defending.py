"""Details of play: players whose side has not got the ball.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter
from sim.pitch.assumptions.rows import held

DEFENDING: tuple[Parameter, ...] = (
    held("defend_near", 2.0, "m", 0.5, 5.0, "a player defends against a ball this far outside his zone, too"),
    # pressing
    held(
        "press_stick",
        0.3,
        "s",
        0.0,
        0.8,
        "another goes to the ball only if he is there sooner by this than who presses",
    ),
    held("press_lead_most", 2.0, "s", 1.0, 4.0, "no presser reckons further ahead than this"),
    held(
        "press_time_least",
        0.2,
        "s",
        0.05,
        0.6,
        "less time than this until the ball arrives no presser reckons with",
    ),
    held(
        "press_keenness",
        2.0,
        "s",
        0.5,
        4.0,
        "how much later, told only to attack the ball, a presser still sprints than told only to contain",
    ),
    held("contain_wider", 3.0, "1", 1.0, 6.0, "how much further off the carrier a presser stops who only contains"),
    held(
        "attack_closer", 1.0, "1", 0.2, 1.6, "how much nearer to the carrier a presser goes who only attacks the ball"
    ),
    # covering
    held(
        "tuck_least",
        0.2,
        "1",
        0.0,
        0.5,
        "nearest place to the ball, on its way to goal, that defenders of far men tuck in to",
    ),
    held("tuck_most", 0.9, "1", 0.6, 1.0, "nearest place to the goal that they tuck in to"),
    held(
        "danger_range",
        1.2,
        "1",
        0.6,
        2.5,
        "a man this many lengths of spacing from the ball is about a third as dangerous",
    ),
    held("danger_goal", 2.0, "1", 0.4, 4.0, "danger of a man in front of the goal, over that of one beside the ball"),
    held(
        "danger_goal_range",
        2.0,
        "1",
        1.0,
        4.0,
        "a man this many lengths of spacing from the goal is about a third as dangerous there",
    ),
    held(
        "danger_weight",
        0.9,
        "1",
        0.3,
        2.0,
        "how many lengths of spacing further a defender goes for the most dangerous man",
    ),
    held(
        "fixed_share",
        0.5,
        "1",
        0.2,
        0.9,
        "share of the way to his own place at which a defender in a fixed position stands",
    ),
    held("zonal_ease", 1.4, "1", 1.1, 1.8, "time a purely zonal defender takes over the usual"),
    held("marking_haste", 0.8, "1", 0.2, 1.0, "how much less of it a pure man marker takes"),
    held("contain_ease", 1.25, "1", 1.05, 1.5, "time a defender takes who only contains, over the usual"),
    held("pressing_haste", 0.5, "1", 0.1, 0.9, "how much less of it one takes who attacks the ball"),
    # keeping goal
    held("keeper_out", 0.4, "1", 0.0, 0.8, "how far a keeper comes off his line for every metre the ball comes nearer"),
    held("keeper_out_least", 0.6, "m", 0.2, 1.5, "a keeper stands at least this far off his line"),
    held("keeper_out_most", 5.0, "m", 2.0, 8.0, "and at most this far while the other side has the ball"),
    held("keeper_support", 0.2, "1", 0.1, 0.4, "the same share while his own side has the ball"),
    held("keeper_support_least", 1.0, "m", 0.5, 3.0, "a keeper whose side has the ball stands at least this far out"),
    held("keeper_support_most", 8.0, "m", 5.0, 15.0, "and at most this far"),
    held(
        "keeper_urgency",
        0.5,
        "1",
        0.2,
        1.5,
        "time a keeper takes to his place while the other side has the ball, over what the ball needs to get there",
    ),
    held("crossing_cap", 0.85, "1", 0.6, 1.0, "share of top speed of the nearest chaser on his way into another area"),
    held(
        "crossing_apart",
        0.4,
        "1",
        0.0,
        1.0,
        "share of the way to their own places there at which the other chasers come in",
    ),
    # pressing in three phases: while the ball is on its way, standing off, going in
    held("press_cap", 0.47, "1", 0.4, 1.0, "share of top speed a presser does not exceed while the ball is on its way"),
    held("press_push", 1.5, "1", 1.0, 2.0, "his push then, over that of his pressing speed"),
    held("room_share", 0.18, "1", 0.05, 0.3, "distance at which a presser stands off, in lengths of spacing"),
    held("room_most", 3.0, "m", 1.5, 5.0, "and at most this far"),
    held("shuffle_rate", 0.1, "1/s", 0.05, 1.0, "speed of a presser who stands off, per metre from his place"),
    held("shuffle_follow", 0.1, "1", 0.0, 1.0, "share of the carrier's speed that is added to it"),
    held("shuffle_within", 6.0, "m", 3.0, 12.0, "a presser this near to the ball minds the lane and the goal more"),
    held("shuffle_turn", 3.0, "1", 1.0, 6.0, "how much more he does, over his own side of the ball"),
    held(
        "press_patience", 2.0, "s", 0.8, 4.0, "a presser who stands off goes in when the ball has been held this long"
    ),
    held(
        "screen_share",
        0.5,
        "1",
        0.2,
        0.7,
        "where a covering defender stands who defends no goal: share of the lane from the receiver",
    ),
    held("screen_most", 9.0, "m", 4.0, 15.0, "and at most this far from him"),
    held("keeper_out_from", 18.0, "m", 12.0, 25.0, "a ball nearer to the goal than this draws its keeper off his line"),
    held("keeper_half_way", 0.32, "1", 0.2, 0.6, "share of the way to the ball that a keeper comes off his line"),
    # goal-side
    held(
        "goal_side_level",
        0.8,
        "1",
        0.0,
        1.0,
        "how far a defender who goes goal-side keeps to his lane, rather than make for the middle of the goal",
    ),
    held(
        "goal_side_ahead",
        2.5,
        "s",
        0.0,
        4.0,
        "defenders reckon with the ball where its carrier will be after this time",
    ),
    held(
        "goal_side_by", 2.0, "m", 0.0, 5.0, "a covering defender stands nearer to his goal than that ball by this much"
    ),
    held(
        "cover_goal_side", 2.0, "1", 0.5, 5.0, "how much more than the lane a covering defender minds the way to goal"
    ),
    held(
        "recover_cap", 0.8, "1", 0.6, 0.98, "share of top speed at which a beaten defender runs, the ball near his goal"
    ),
    held("recover_at", 12.0, "m", 5.0, 20.0, "a ball no further from the goal than this is near it"),
    held("recover_least", 0.5, "1", 0.3, 0.7, "that share while the ball is far from it"),
    held("recover_from", 32.0, "m", 25.0, 60.0, "a ball further from the goal than this is far from it"),
    held(
        "track_time",
        1.0,
        "s",
        0.5,
        4.0,
        "in this time a defender means to be goal-side again of his man who runs at goal",
    ),
    held(
        "track_gain",
        1.0,
        "m/s",
        0.0,
        3.0,
        "how much faster than that man he runs at most, if that is faster than an ordinary run",
    ),
    held("sprint_time", 2.0, "s", 0.5, 2.5, "a beaten defender runs flat out no way that takes less than this"),
    held("track_ahead", 0.7, "s", 0.0, 1.5, "a defender of a goal covers his man where he will be after this time"),
    held("last_man_off", 2.0, "m", 1.5, 6.0, "how far in front of the ball the last man stands on its way to goal"),
    held(
        "last_man_within", 30.0, "m", 15.0, 60.0, "a ball nearer to goal than this takes the last man off his own man"
    ),
    held(
        "sweep_share",
        0.25,
        "1",
        0.0,
        0.5,
        "the hindmost defender keeps this share of the way from the ball to his goal between himself and the ball",
    ),
    held("sweep_most", 15.0, "m", 5.0, 25.0, "and at most this much"),
    held("chase_cap", 0.8, "1", 0.7, 0.98, "share of top speed of a beaten defender whose opponent is through on goal"),
    # pressing as a pair, with no goal to defend
    held(
        "pair_tuck",
        0.6,
        "1",
        0.0,
        1.0,
        "share of the way to the lane between the two that a presser's partner tucks in",
    ),
    held("pair_deep", 0.8, "1", 0.3, 2.0, "at most this far from the ball he shuts that lane, in lengths of spacing"),
    held("pair_gap", 1.0, "m", 0.3, 3.0, "a lane that passes both of them by more than this is open between the two"),
    held(
        "show_bow",
        0.12,
        "1",
        0.0,
        0.6,
        "share of his way to the ball by which a presser aims beside it, up the lane that he shuts",
    ),
)
