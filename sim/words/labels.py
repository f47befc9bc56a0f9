"""The short words within pictures: what marks, bars and lines stand for."""

from __future__ import annotations

SESSION, MIDDLE, MEAN = "one session", "8 sessions in 10", "mean"
BAND = "band: 95 % range"
SURE, UNSURE = "can be told from nothing", "cannot be told from nothing"
TRIED = {
    "point": "tried",
    "answer": "the nearest",
    "played again": "the same, played again on fresh sessions",
    "most": "the most",
    "least": "the least",
}
CHOSEN = "chosen"
LONG_RUN = "in the long run, with its 95 % range"
WHOEVER = "whoever it is, mean of sessions"
PASSES, POSSESSIONS = "completed passes in one possession, at least", "% of its possessions"
METRES = "metres per minute in the role, on the watch"
WATCH = "minutes and seconds on the watch"
BALL, DEFENDS, IDLE, DEAD = "has the ball", "defends", "does not defend", "out of play"


def target(value: str) -> str:
    return f"target {value}"


def not_from_target(value: str) -> str:
    return f"cannot be told from the target {value}"


def with_range(measure: str) -> str:
    return f"{measure}; below it the 95 % range"


def even_share(percent: str) -> str:
    return f"even share, {percent} %"


def asked(passes: str) -> str:
    return f"the game asks for {passes}"


def of_side(side: str) -> str:
    return f"{side} ({BAND})"


def ball_of(side: str) -> str:
    return f"ball: {side}"


def in_one_session(measure: str) -> str:
    return f"{measure}, in one session"
