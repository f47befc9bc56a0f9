"""The bouts of a session in the full form of a game: how many, how long, and what each has of the one before."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from sim.game.bounds import LONGEST_BOUT_S
from sim.game.values import SpecTable


class BoutsSpec(SpecTable):
    """How many bouts, how long, with which rests, and with which roles each begins."""

    count: int = Field(default=4, ge=1, le=60, description="Bouts in a session. Legal 1 to 60.")
    minutes: float | None = Field(default=None, gt=0, le=120, description="Length of one bout. Legal above 0, to 120.")
    seconds: float | None = Field(default=None, gt=0, le=LONGEST_BOUT_S, description="The same in seconds.")
    rest_minutes: float | None = Field(default=None, ge=0, le=60, description="Rest between bouts. Default 1.")
    rest_seconds: float | None = Field(default=None, ge=0, le=3600, description="The same in seconds.")
    rotate: Literal["none", "list"] = Field(default="none", description="list: roles move on between bouts.")
    roles: Literal["carry on", "start anew"] | None = Field(
        default=None,
        description="carry on: each bout begins with the roles of the last whistle; start anew: with the roles of this file. "
        "Default carry on; left out with rotate = list, which decides alone.",
    )
    best_of: bool = Field(
        default=False,
        description="true: the session is over as soon as a side has won more than half of count by points. A draw counts for "
        "nobody.",
    )
    first_ball: Literal["start", "in turn", "winner", "loser", "holder"] = Field(
        default="start",
        description="Which side has the first ball of every bout after the first: that of start, both in turn, the winner or the "
        "loser of the bout before (by points; after a draw as in that bout), or who had the ball when it ended.",
    )
    clock: Literal["running", "stopped"] = Field(
        default="running",
        description="stopped: the length of a bout is the time with the ball in play, as the watch stops while it is dead; four "
        "times as long by the watch at most.",
    )
    points: Literal["start anew", "carry on"] = Field(
        default="start anew",
        description="start anew: every bout begins with the points of start; carry on: with those of the bout before.",
    )
    points_by: Literal["side", "colour"] = Field(
        default="side",
        description="Whose points first_to and best_of go by. colour: those of a team, whichever side it is on; a point of a "
        "side is that of every colour that plays for it then. For teams that change sides.",
    )
    stays: Literal["winner"] | None = Field(
        default=None,
        description="winner: after a bout the team of the side with fewer points changes places, number for number, with the team "
        "that is off (all of it waits or floats), of several with the one longest off. Needs roles that carry on.",
    )
    longest_stay: int | None = Field(
        default=None,
        ge=1,
        le=60,
        description="With stays: a team that has been on in so many bouts in a row leaves even if it has won, and the other stays. "
        "Legal 1 to 60.",
    )
    tie: Literal["nobody", "longest on"] | None = Field(
        default=None,
        description="With stays, after a draw: nobody leaves, or the team that has been on for more bouts in a row (of two "
        "alike the one further down in the file). Default nobody.",
    )
    balls: int | None = Field(
        default=None, ge=1, le=200, description="The bout is over when so many balls have been played. Legal 1 to 200."
    )
    first_to: float | None = Field(
        default=None,
        gt=0,
        le=1000,
        description="The bout is over when a side has so many points. Legal above 0, to 1000.",
    )
    level_seconds: float = Field(
        default=0.0,
        ge=0,
        le=600,
        description="Where the sides have as many points when time is up: so long at most it goes on, until the next point. "
        "Default 0: a draw. Legal 0 to 600.",
    )
    finish_seconds: float = Field(
        default=0.0,
        ge=0,
        le=60,
        description="When time is up the side with the ball plays on so long at most, until the ball is lost or dead. Default 0. "
        "Legal 0 to 60.",
    )
