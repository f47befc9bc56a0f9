"""The judgements that a search may vary, and the first that it may not."""

from __future__ import annotations

from sim.parameters import Parameter
from sim.pitch.assumptions.rows import held, judgement

JUDGED = (
    Parameter(
        "ball_roll",
        1.3,
        "m/s2",
        0.2,
        0.8,
        1.8,
        "open data",
        "speed lost by a rolling ball (1.45, 1.1-1.8, of passes at 4-6 m/s: computed from open optical tracking of two matches;"
        " the turf test allows 0.59-1.47)",
    ),
    judgement(
        "receiver_reach", 1.07, "m", 0.7, 1.3, "how far from the body the meant receiver still controls the ball"
    ),
    judgement("intercept_reach", 0.71, "m", 0.4, 1.0, "how far from the body an opponent still gets a foot to a pass"),
    judgement(
        "read_time",
        0.10,
        "s",
        0.05,
        0.50,
        "time beyond his reaction until a receiver has read the line well enough to run for it",
    ),
    judgement("arrival_noise", 0.0975, "s", 0.0, 0.2, "residual timing noise of a race to the ball"),
    judgement("weight_error", 0.07, "1", 0.03, 0.12, "standard deviation of launch speed over the speed meant"),
    Parameter(
        "pace_spread",
        0.23,
        "1",
        0.03,
        0.0,
        0.35,
        "open data",
        "standard deviation of how hard a pass is meant, on the scale of logarithms (0.23 to 0.32 from the middle 80 % of ground"
        " passes of 5 to 30 m: computed from StatsBomb open data, three matches)",
    ),
    judgement("first_time_error", 1.55, "1", 1.05, 2.2, "direction error of a first-time pass over that of a set ball"),
    judgement(
        "pressed_error",
        1.8,
        "1",
        0.1,
        3.0,
        "added share of direction error with an opponent at one metre, of a player half composed; none if wholly",
    ),
    judgement("stretch_error", 0.25, "1", 0.2, 0.8, "added share of error of a first-time pass from a full stretch"),
    judgement(
        "speed_error", 0.10, "1", 0.0, 0.2, "added share of error of a first-time pass of a ball arriving at 8 m/s"
    ),
    judgement("stale_look", 0.20, "s", 0.1, 0.4, "age of what a carrier on a set ball knows of the others"),
    judgement("stale_first_time", 0.40, "s", 0.2, 0.7, "age of what a first-time passer knows of opponents"),
    judgement("lane_doubt", 0.12, "s", 0.08, 0.3, "logistic scale of the carrier's doubt about a race to a pass"),
    judgement("next_weight", 0.45, "1", 0.2, 0.7, "share of a pass's worth that hangs on the receiver's free time"),
    judgement("next_time", 0.60, "s", 0.3, 1.2, "free time at which that worth is two thirds full"),
    judgement(
        "choice_noise",
        0.12,
        "1",
        0.03,
        0.21,
        "noise of judging an option as likely to fail as not, on a set ball, of a player half composed; none if wholly",
    ),
    judgement("choice_noise_first", 0.03, "1", 0.0, 0.15, "noise added when playing first time"),
    judgement("anticipation", 0.4, "s", 0.2, 0.7, "reaction saved per share of probability of the obvious pass"),
    judgement("anticipation_one_touch", 0.05, "s", 0.0, 0.25, "reaction saved when the touch limit is one"),
    judgement("control_time", 0.7, "s", 0.4, 0.95, "mean time from reception until a controlled ball can be passed"),
    judgement("control_pressed", 0.8, "1", 0.2, 1.2, "how much longer that takes right beside an opponent"),
    judgement("control_time_sd", 0.20, "s", 0.1, 0.3, "its standard deviation"),
    judgement("contact_time", 0.32, "s", 0.05, 0.5, "contact time of a first-time pass"),
    judgement("look_interval", 0.28, "s", 0.15, 0.5, "time between two looks of a carrier"),
    judgement(
        "release_worth", 0.84, "1", 0.7, 1.0, "a fresh carrier releases for this share of the worth of keeping the ball"
    ),
    judgement("release_fall", 0.16, "1/s", 0.05, 0.3, "fall of that worth per second on the ball"),
    judgement("first_time_share", 0.22, "1", 0.05, 0.4, "share of receptions tried first time when not forced"),
    judgement("miscontrol_pressed", 0.10, "1", 0.01, 0.2, "added chance of a miscontrol with an opponent at one metre"),
    judgement("miscontrol_stretch", 0.30, "1", 0.05, 0.5, "added chance of a miscontrol at full stretch"),
    judgement("touch_chance", 0.75, "1", 0.4, 0.95, "chance that an opponent who reaches a pass touches it"),
    judgement("steal_control", 0.60, "1", 0.4, 0.9, "chance that such a touch is control at once"),
    judgement("tackle_reach", 1.05, "m", 1.0, 2.0, "distance from which a presser may tackle"),
    judgement("tackle_rate", 1.4, "1/s", 0.6, 2.5, "tackles tried a second within reach"),
    judgement(
        "covered_within", 6.0, "m", 3.0, 12.0, "a presser with a team-mate goal-side so near to the carrier is covered"
    ),
    judgement(
        "covered_tackles", 1.8, "1", 1.0, 2.5, "tackles tried before a goal with a team-mate so placed, over the usual"
    ),
    judgement(
        "uncovered_tackles", 0.6, "1", 0.2, 1.0, "tackles tried before a goal with nobody so placed, over the usual"
    ),
    judgement("delay_wider", 1.6, "1", 1.0, 2.0, "how much further off he stays before a goal with nobody so placed"),
    judgement(
        "passing_tackles",
        1.0,
        "1",
        0.0,
        1.0,
        "tackles tried by a defender who does not press, over those of a presser as near",
    ),
    judgement("tackle_win", 0.20, "1", 0.1, 0.6, "chance of a clean win per attempt between equals"),
    judgement("tackle_loose", 0.15, "1", 0.05, 0.4, "chance that an attempt knocks the ball loose"),
    judgement("beaten_time", 0.7, "s", 0.4, 1.2, "seconds a beaten tackler needs to be back in play"),
    judgement("stand_off", 0.5, "m", 0.3, 1.2, "where a presser stops in front of the carrier"),
    judgement(
        "cover_share", 0.35, "1", 0.2, 0.5, "where a covering defender stands: share of the lane from the receiver"
    ),
    judgement("cover_most", 4.5, "m", 2.5, 6.0, "and at most this far from him"),
    judgement("press_slack", 0.6, "s", 0.2, 1.2, "a presser goes in if he is there at most this long after the ball"),
    judgement("hold_expected", 0.75, "s", 0.4, 1.2, "time on the ball that others expect of a receiver"),
    judgement(
        "urgency_attack", 1.0, "1", 0.8, 2.2, "time an off-ball run may take over the time until the ball could come"
    ),
    judgement("urgency_defence", 1.8, "1", 0.9, 3.0, "the same for a covering defender"),
    judgement("urgency_transition", 0.7, "1", 0.4, 1.2, "the same for runs after a loss or a change of area"),
    judgement("transition_window", 3.4, "s", 2.0, 5.0, "how long a loss quickens everybody"),
    judgement("effort", 0.819, "1", 0.5, 1.0, "share of the greatest acceleration used in ordinary runs"),
    judgement("walk", 1.95, "m/s", 1.4, 2.6, "least speed of an ordinary off-ball move"),
    judgement("past", 0.5, "1", 0.4, 0.65, "chance to get past a man who is taken on, between equals"),
    judgement("past_within", 3.0, "m", 1.0, 4.0, "a man is taken on from no further off"),
    judgement(
        "past_before",
        0.6,
        "1",
        0.3,
        0.9,
        "cosine of the widest angle off the way to goal at which a man stands before the carrier",
    ),
    judgement("past_from", 40.0, "m", 15.0, 60.0, "nobody is taken on further from goal"),
    judgement("past_last", 0.5, "1", 0.0, 1.0, "added worth of being past the last man but the keeper"),
    judgement("past_noise", 0.2, "1", 0.0, 0.3, "spread of the worth of taking a man on"),
    judgement("past_on", 4.0, "m", 2.0, 6.0, "how far past him the ball is taken"),
    judgement("past_wide", 1.2, "m", 0.8, 2.0, "how far to his side"),
    judgement("past_time", 0.5, "s", 0.3, 1.0, "time until he looks up again"),
    judgement("run_cap", 0.65, "1", 0.6, 0.85, "share of top speed not exceeded in ordinary runs"),
    judgement("deadband", 0.6, "m", 0.3, 1.0, "moves shorter than this are not worth making"),
    judgement("replan", 0.7, "s", 0.3, 1.0, "mean time between a player's own changes of mind"),
    judgement("dribble", 2.2, "m/s", 1.2, 3.0, "speed of carrying the ball when touches allow"),
    judgement(
        "dribble_touch",
        1.3,
        "s",
        0.6,
        1.6,
        "time between two touches of a carry (1.1 s between the 2.0 touches in matches)",
    ),
    judgement("edge_inset", 0.4, "m", 0.1, 0.8, "how far inside the line an outside player stands"),
    judgement("spread_attack", 0.93, "1", 0.7, 1.0, "share of the area that attackers spread over"),
    judgement("ball_shift", 0.62, "1", 0.2, 0.7, "share of the ball's way from the middle that a team's shape follows"),
    judgement("move_cost", 0.1, "1", 0.05, 0.8, "worth lost per spacing length of an off-ball move"),
    judgement("block_radius", 0.35, "m", 0.2, 0.6, "a ball this close hits a body that has not reacted yet"),
    judgement("shot_speed", 20.0, "m/s", 16.0, 24.0, "mean speed of a shot (74-80 km/h in a shooting test)"),
    judgement("shot_error", 0.21, "rad", 0.10, 0.25, "direction error of a shot"),
    judgement("shot_rise", 0.8, "1", 0.2, 1.0, "error of a shot in height over its error across"),
    judgement("keeper_reach", 1.0, "m", 0.7, 1.6, "what a keeper covers without diving"),
    judgement("keeper_speed", 3.4, "m/s", 1.8, 5.0, "how fast a keeper's reach grows after his reaction"),
    judgement("shot_block", 0.85, "1", 0.3, 0.9, "chance that an opponent in the line of a shot stops it"),
    judgement("shot_worth", 0.2, "1", 0.1, 0.5, "chance of a goal at which a player shoots at once"),
    judgement(
        "progress_weight", 0.249, "1", 0.1, 0.6, "worth of a pass's gain of ground where the aim is a goal or home"
    ),
    judgement("tiring_scale", 0.9, "1", 0.7, 1.6, "scale from metabolic cost to what leaves the hard-running reserve"),
    judgement(
        "tired_speed_least",
        0.80,
        "1",
        0.7,
        0.9,
        "top speed with an empty reserve over that of a fresh player, at least",
    ),
    judgement("tired_error", 0.25, "1", 0.1, 0.5, "added share of pass error with an empty reserve"),
    judgement("tired_reaction", 0.15, "1", 0.0, 0.3, "added share of reaction time with an empty reserve"),
    judgement("first_time_weight", 1.6, "1", 1.0, 2.0, "weight error of a first-time pass over that of a set ball"),
    judgement("transfer_worth", 0.6, "1", 0.2, 1.2, "added worth of a pass into another area once it may be played"),
    judgement("pacing", 0.5, "1", 0.0, 0.9, "share of effort a player saves when his reserve is empty"),
    judgement(
        "plan_time",
        480.0,
        "s",
        60.0,
        960.0,
        "bouts shorter than this are run with less saving, in proportion to their length",
    ),
    judgement(
        "dead_pace", 0.70, "m/s", 0.4, 2.5, "speed not exceeded in one's own place while the ball is out of play"
    ),
    judgement(
        "recovery_slows",
        0.15,
        "1",
        0.05,
        0.25,
        "how much longer half of the reserve takes to come back for every time it has been drawn in full, as a share (0.20 between"
        " the two recoveries of Chorley et al. 2022, Eur J Appl Physiol 122, in cycling: 45 s, then 54 s)",
    ),
    judgement(
        "fitness_share",
        1.0,
        "1",
        0.0,
        1.5,
        "how ordinary running speeds follow a player's critical speed: 0 not at all, 1 in proportion",
    ),
    judgement(
        "stay_worth", 0.1, "1", 0.0, 0.3, "a player on the line who has the ball in view moves only for more than this"
    ),
    judgement("edge_move_cost", 0.15, "1", 0.1, 0.4, "worth lost per spacing length of a move along a line"),
    judgement("edge_spacing", 3.0, "m", 2.0, 6.0, "spacing length of moves along a line: no longer in a large area"),
    judgement("pull", 0.62, "1", 0.1, 0.7, "worth lost per spacing length away from the own place in the shape"),
    judgement("held_pull", 1.4, "1", 0.7, 2.5, "the same with fixed positions"),
    judgement(
        "patience", 0.3, "1", 0.1, 0.6, "how much more a pass must be worth to a side told to play slowly than quickly"
    ),
    judgement("read_keenness", 12.0, "1", 6.0, 20.0, "how sharply a watcher's odds of an option rise with its worth"),
    judgement(
        "lunge", 5.0, "m/s", 3.0, 8.0, "speed at which a ball off its line is as good as closer to an interceptor"
    ),
    judgement("lead_most", 3.5, "m", 2.0, 6.0, "how far into space a pass is led, at most"),
    judgement("open_share", 0.70, "1", 0.5, 0.85, "share of top speed of a carry into open ground"),
    judgement(
        "press_lead", 0.7, "1", 0.0, 1.0, "share of the time he needs by which a presser runs ahead of a carrier"
    ),
    judgement(
        "tuck_in",
        0.35,
        "1",
        0.0,
        0.9,
        "share of the way to the line from ball to goal that defenders of far men tuck in",
    ),
    judgement(
        "recover", 0.22, "1", 0.0, 0.8, "share of the way to his goal that a defender behind the ball first runs back"
    ),
    judgement(
        "run_gain",
        0.2,
        "1",
        0.1,
        1.2,
        "gain in worth from which a move off the ball is made four times as fast as one that gains nothing",
    ),
    judgement(
        "outside_danger",
        0.25,
        "1",
        0.1,
        1.0,
        "how much defenders mind a man on a line, who may not come in, against one inside, where a goal is attacked",
    ),
    judgement("transition_cap", 0.65, "1", 0.5, 0.95, "share of top speed not exceeded in runs after a loss"),
    held(
        "held_radius", 0.4, "1", 0.2, 0.8, "a player in a fixed position looks for room over this share of the ground"
    ),
    held("attack_lean", 0.2, "1", 0.0, 0.4, "share of the way to the attacked goal by which the shape leans forward"),
    held("foreseen", 0.8, "s", 0.3, 1.2, "how far ahead a passer foresees where his own receiver's run takes him"),
    held("lead_share", 0.35, "1", 0.2, 0.5, "how far into space a pass is led, as a share of its length"),
    held("tight", 0.8, "m", 0.5, 1.5, "no defender stands closer to the man he covers"),
    held("hunting", 1.0, "1", 0.5, 1.0, "this keen on the ball, a second defender goes for it too"),
    held("stretch_free", 0.4, "1", 0.2, 0.8, "share of the miss at full stretch that holds with nobody near"),
    held(
        "compete",
        0.25,
        "s",
        0.1,
        0.5,
        "an opponent goes for a pass he would reach at most this much after the receiver",
    ),
    held("shot_patience", 0.08, "1/s", 0.02, 0.2, "fall of the chance of a goal that is asked, per second on the ball"),
    held("shot_least", 0.10, "1", 0.03, 0.2, "chance of a goal below which nobody shoots"),
    held("read_share", 0.4, "1", 0.2, 0.6, "how well read a passer takes his pass to be, when he judges a race to it"),
    held("far_man", 12.0, "m", 8.0, 20.0, "a man this far from the ball is minded from nearer the middle"),
    held(
        "join_time",
        0.9,
        "s",
        0.4,
        1.5,
        "a defender hunting the ball joins the one who presses if he could be there this soon",
    ),
    held("edge_beat", 8.0, "m", 4.0, 15.0, "no player on a line moves further along it than this for a better place"),
    held(
        "zonal_share", 0.5, "1", 0.2, 0.8, "share of the way to his own place at which a purely zonal defender stands"
    ),
    held(
        "own_zone",
        0.08,
        "s/m",
        0.0,
        0.2,
        "how much less likely the one to press is he whose fixed place is far from the ball",
    ),
    held("deflect_speed", 0.5, "1", 0.2, 0.8, "mean share of its speed that a deflected ball keeps"),
    held(
        "goal_side",
        1.5,
        "1",
        0.5,
        3.0,
        "how much more a presser minds the way to goal than the lane to the next receiver",
    ),
    held(
        "meeting",
        1.15,
        "1",
        1.0,
        1.5,
        "speed of a run that is to meet the ball on the move, over the mean speed needed",
    ),
    held(
        "recovery_slowest",
        0.6,
        "1",
        0.2,
        1.5,
        "and this much longer at most: nobody has measured more than two emptyings",
    ),
    held(
        "usual_critical",
        3.9,
        "m/s",
        3.0,
        4.5,
        "critical speed of those whose runs the law of urgency gives (amateur men)",
    ),
    held("stick", 1.0, "1", 0.0, 2.0, "worth, to a man marker, of keeping the man he has"),
    held(
        "start_room",
        4.0,
        "m",
        2.0,
        8.0,
        "how far opponents keep off whoever gets the ball at a start or restart, where the area has the room (a first pass needs"
        " about a second; in it an opponent covers two metres from standing, and he tackles from 1.4 m)",
    ),
    Parameter(
        "ball_slide",
        6.5,
        "m/s2",
        0.75,
        5.0,
        9.0,
        "open data",
        "speed lost by a struck ball while it slides (7, 6-9, of passes above 8 m/s, about 6.5 in either match: computed from open"
        " optical tracking of two matches)",
    ),
    Parameter(
        "ball_changeover",
        0.53,
        "1",
        0.04,
        0.45,
        0.72,
        "open data",
        "share of its launch speed at which a struck ball no longer slides but rolls (0.5-0.6 of passes: computed from open optical"
        " tracking of two matches; with the launch law it has passes of 10-20 m leave and arrive as"
        " tracked ones do); 5/7 of a uniform sphere struck without spin, less with backspin",
    ),
)
