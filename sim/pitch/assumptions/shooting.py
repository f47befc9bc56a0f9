"""Details of play: shots, and keepers.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter
from sim.pitch.assumptions.rows import held

SHOOTING: tuple[Parameter, ...] = (
    held("point_blank", 0.5, "m", 0.2, 1.5, "from nearer than this nobody misses"),
    held("shot_aim", 0.6, "1", 0.3, 0.9, "how far towards the post shots are aimed, as a share of half the goal"),
    held("shot_aim_high", 0.35, "1", 0.1, 0.6, "how high they are aimed, as a share of the height of the goal"),
    held(
        "shot_flat", 0.3, "1", 0.1, 0.6, "the flattest angle a shot's error is reckoned for, as a share of straight on"
    ),
    held("shot_past", 0.3, "m", 0.1, 0.8, "a body nearer to the ball than this is shot past"),
    held("shot_body", 0.6, "m", 0.3, 0.8, "how far off the line of a shot a body still stops it, at the foot"),
    held("shot_body_grows", 0.06, "1", 0.0, 0.15, "how much further off for every metre of the way of the shot"),
    held("keeper_off", 0.1, "m", 0.0, 0.5, "a keeper further off the middle than this leaves a side to shoot at"),
    held("shot_speed_sd", 0.08, "1", 0.03, 0.2, "how much the speed of shots varies, over its mean"),
    held("shot_speed_least", 0.6, "1", 0.4, 0.9, "slowest shot over the mean"),
    held("shot_speed_most", 1.4, "1", 1.1, 1.7, "hardest shot over the mean"),
    held("keeper_tries", 0.3, "m", 0.0, 1.0, "a keeper goes for a shot that misses the goal by less than this"),
    held("blocked_speed", 8.0, "m/s", 4.0, 15.0, "a blocked shot leaves as a ball does that came this fast"),
    held("blocked_keeps", 0.5, "1", 0.2, 0.8, "mean share of that speed that a blocked shot keeps"),
    held("shot_range", 12.0, "m", 8.0, 18.0, "from further than this a usual adult hardly shoots at a goal of 5 m"),
    held("shot_room", 10.0, "m", 5.0, 15.0, "with more room than this between players they shoot at worse chances"),
    held("shot_seldom", 2.5, "1", 0.0, 3.0, "how the chance they ask falls with that room, as a power"),
    held("shot_range_goal", 0.35, "1", 0.0, 1.0, "how that range grows with the width of the goal, as a power"),
    held("shot_range_soft", 1.0, "m", 0.5, 3.0, "how gradually that comes"),
    held(
        "shot_range_level", 0.7, "1", 0.0, 1.0, "how that range falls with the first touch of a population, as a power"
    ),
    held("shot_error_level", 0.5, "1", 0.0, 1.0, "how the error of shots grows with it, as a power"),
    held("shot_speed_level", 0.2, "1", 0.0, 0.5, "how their speed falls with it, as a power"),
    held("shot_nearer", 3.0, "m", 1.0, 5.0, "a carrier does not shoot yet who has a better chance this much nearer"),
    held(
        "shot_nearer_doubt", 0.9, "1", 0.0, 1.0, "share of that chance he does not reckon with where no ground is open"
    ),
    held(
        "shot_body_judged", 0.1, "1", 0.0, 1.0, "share of the chance that a body stops it which a shooter reckons with"
    ),
    held(
        "keeper_past", 0.1, "1", 0.02, 0.3, "a ball this near past a keeper, as a share of its way to goal, is past him"
    ),
    held("shot_pressed", 1.0, "1", 0.0, 2.0, "how much wider a shot goes with an opponent right beside"),
)
