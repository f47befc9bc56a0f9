"""The short words within pictures: what marks, bars and lines stand for."""

from __future__ import annotations

USUALLY = "usually (eight sessions in ten)"
SESSION, MIDDLE, MEAN = "one session", USUALLY, "average"
DOUBT, DOUBT_BESIDE = "give or take (our own doubt)", "give or take, our own doubt"
BAND = f"band: {DOUBT}"
SURE, UNSURE = "clear", "could still be luck"
TRIED = {
    "point": "tried",
    "answer": "the nearest",
    "played again": "the same, played again in fresh sessions",
    "most": "the most",
    "least": "the least",
}
CHOSEN = "chosen"
ONE_SESSION = f"one session, {USUALLY}"
WHOEVER = "one session, whoever it is, on average"
EACH_PLAYER = "Each player: the dot is the season, the bar is one session"
WHOEVER_HEAD = "One session, whoever it is that day"
MOST, LEAST = "who defends most", "who defends least"
PASSES, POSSESSIONS = "passes in a row, at least", "% of the times they have it"
METRES = "metres for each minute in that role, on the watch"
WATCH = "minutes and seconds on the watch"
BALL, DEFENDS, IDLE, DEAD = "has the ball", "defends", "does not defend", "ball out"
MOMENTS = {  # kind of event -> what its mark means
    "goal": "goal",
    "score": "point",
    "break": "break-away begins",
    "transfer": "ball played across",
    "unlock": "something is allowed now",
    "loss": "loss",
    "by shot": "a shot ends it",
}


def target(value: str) -> str:
    """The line of what was asked for."""
    return f"you asked for {value}"


def not_from_target(value: str) -> str:
    """The marks of values that cannot be told from it."""
    return f"as good as the {value} you asked for"


def with_range(measure: str) -> str:
    """The axis of a measure, with what the range below it is."""
    return f"{measure}; below it {DOUBT}"


def even_share(percent: str) -> str:
    """The line of an even share."""
    return f"even share, {percent} %"


def passes_asked_for(passes: str) -> str:
    """The line of the passes that a rule asks for."""
    return f"the game asks for {passes}"


def band_of_side(side: str) -> str:
    """A side, and what the band around its curve is."""
    return f"{side}; {BAND}"


def ball_of(side: str) -> str:
    """The bars in which a side has the ball."""
    return f"{side} on the ball"


def in_one_session(measure: str) -> str:
    """The axis of a measure of single sessions."""
    return f"{measure}, in one session"


def season(doubt: str) -> str:
    """What a dot stands for; `doubt`: our own, as said, or nothing."""
    return f"a season, on average{f' (give or take {doubt})' if doubt else ''}"
