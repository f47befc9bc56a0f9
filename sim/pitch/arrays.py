"""The arrays of one bout: what changes while it is played, under the names that the compiled functions know it by.

`Pitch` is all of it: `players[i]` is a record of `PLAYER`, `ball` one of `BALL`, `play` (the state of play) one of `PLAY`,
`constants` those of `sim.pitch.assumptions`, `segments` the runs that have been made.  Compiled functions read
`players[i].top_speed` and `ball.x`; plain Python reads and sets the same memory, as `bout.players[i].top_speed` and `bout.ball.x`.

SI units, places in metres from the middle of the layout, times in seconds on the watch of the bout.  Players stand in order
of their ids, so the order of a file never matters.
"""

from __future__ import annotations

from functools import cache
from typing import Any, NamedTuple

import numpy as np

from sim.compiled import records
from sim.game.bounds import MOST_GATES, MOST_LIMITS, MOST_OF_ONE, MOST_ZONES
from sim.pitch.assumptions import ENGINE
from sim.streams import STREAMS
from sim.trajectory import RUN, SEGMENT

FLOAT, WHOLE, YES_OR_NO = "f8", "i8", "?"

# styles: how a player stands in the game
EDGE, FREE, GOAL, WAIT = range(4)
# duties: what a player without the ball is about
NONE, PRESS, COVER, SUPPORT, RACE = range(5)
# states of the ball
DEAD, HELD, ROLLING = range(3)
# aims of those who have the ball
KEEP, HOME, SCORE = range(3)
FLOATER = -1  # `side` of a player who is with whoever has the ball
NOBODY = -1  # in place of a player
ANY_GATE, NO_GATE = -1, -2  # in place of one gate
ANYBODY = -1  # in place of a side or a role that a limit is about
WITH_BALL, WITHOUT_BALL = 0, 1  # whom else it may be about
NO_LIMIT = -1  # in place of the most players

PLAN_MOST = 24  # segments of a plan
PRIZES_MOST = MOST_OF_ONE  # passes that rules reward: at most as many as a game has rules
PARTS_MOST = 201  # of the ground in play: as many areas as a game can have, and the ground between two of them

PART = np.dtype([(name, FLOAT) for name in ("west", "south", "east", "north", "run_off")])
"""A rectangle of the ground in play, and how much of it on every side lies beyond the line (m)."""

GATE = np.dtype([(name, FLOAT) for name in ("west", "south", "east", "north")])
"""A line between two cones; a rectangle."""

LIMIT = np.dtype(
    [(name, WHOLE) for name in ("side", "role", "holding", "least", "most")]
    + [(name, FLOAT) for name in ("west", "south", "east", "north")]
)
"""A zone, and how many of whom are in it at least and at most: those of a side, of a role, with or without the ball."""

PRIZE = np.dtype(
    [
        ("gate", WHOLE),  # through which it goes (`ANY_GATE`, `NO_GATE`)
        ("other_gate", YES_OR_NO),  # not through the gate of the last pass
        ("west", FLOAT),  # where it is received
        ("south", FLOAT),
        ("east", FLOAT),
        ("north", FLOAT),
        ("inside", YES_OR_NO),  # it is a zone, or an area marked out in another
        ("by_role", WHOLE),  # of the passer and the receiver (-1: any)
        ("to_role", WHOLE),
        ("first_time", YES_OR_NO),
        ("not_back", YES_OR_NO),
    ]
)
"""What is asked of a pass that the rules reward."""

PLAYER = np.dtype(
    [
        # abilities as they are now: tiring lowers them
        ("top_speed", FLOAT),  # m/s
        ("time_constant", FLOAT),  # s, of the start from standing
        ("braking", FLOAT),  # m/s2
        ("reaction", FLOAT),  # s, and its standard deviation
        ("reaction_sd", FLOAT),
        ("bearing_error", FLOAT),  # rad, standard deviation of an unpressed pass
        ("first_touch_miss", FLOAT),  # chance of failing an easy first touch
        ("press_effort", FLOAT),  # share of the greatest push with which he presses
        ("composure", FLOAT),  # 0-1
        ("touch_level", FLOAT),  # chance of failing an easy first touch in his population, over the usual one
        ("duel", FLOAT),  # strength in tackles, in logits
        # as a fresh man
        ("fresh_top_speed", FLOAT),
        ("fresh_bearing_error", FLOAT),
        ("fresh_reaction", FLOAT),
        # the hard-running reserve
        ("critical_speed", FLOAT),  # m/s
        ("reserve_full", FLOAT),  # m
        ("reserve", FLOAT),  # m
        ("recovery_time", FLOAT),  # s of standing that bring half of it back
        ("lowest_share", FLOAT),  # the least share of it in this bout
        ("drawn", FLOAT),  # how many times over it has been drawn in this session
        ("willingness", FLOAT),  # the day's willingness to run, times fitness
        ("whistle_at", FLOAT),  # s, the length of the bout as it is planned: efforts are spread over it
        # his job now, as the rules have it
        ("side", WHOLE),
        ("style", WHOLE),
        ("role", WHOLE),
        ("role_since", FLOAT),
        ("touch_limit", WHOLE),  # 0: none
        ("may_receive", YES_OR_NO),
        ("across", YES_OR_NO),  # a pass to him is a transfer
        ("spared", YES_OR_NO),  # he tackles nobody and nobody tackles him
        ("west", FLOAT),  # his zone
        ("south", FLOAT),
        ("east", FLOAT),
        ("north", FLOAT),
        ("run_off", FLOAT),  # m beyond his zone in which he may play the ball: of a player on the lines
        ("goal_x", FLOAT),  # of a keeper
        ("goal_y", FLOAT),
        ("goal_width", FLOAT),
        ("share", FLOAT),  # one over the number of those he shares the lines or the shape with
        ("slot", FLOAT),  # where on the lines, 0-1 once round
        ("shape_x", FLOAT),  # where in the shape, -1 to 1
        ("shape_y", FLOAT),
        # what the coach asks of his role (`sim.game.model.Role`)
        ("drive", FLOAT),  # effort times willingness
        ("pressing", FLOAT),
        ("marking", FLOAT),
        ("win_back", FLOAT),  # s
        ("width", FLOAT),
        ("depth", FLOAT),
        ("tempo", FLOAT),
        ("fixed", YES_OR_NO),  # keeps his position
        # what he is about
        ("duty", WHOLE),
        ("marks", WHOLE),  # whom he covers
        ("busy_until", FLOAT),  # s, beaten or following through
        ("replans_at", FLOAT),  # when he changes his mind next
        ("stretch", FLOAT),  # 0-1, how far he had to reach for the ball
        ("struck_x", FLOAT),  # where he was when the last pass was struck
        ("struck_y", FLOAT),
        (
            "overlooked",
            FLOAT,
        ),  # 0-1, drawn for each reception: how likely this opponent is to be missed by the receiver
        ("seen_x", FLOAT),  # where he was and went in the picture taken last (`take_in`)
        ("seen_y", FLOAT),
        ("seen_vx", FLOAT),
        ("seen_vy", FLOAT),
        # the race for the ball that is being decided
        ("sets_off_at", FLOAT),  # s, when he has seen what the ball does
        ("racing", YES_OR_NO),  # he runs for it
        ("could_have_at", FLOAT),  # s, when an opponent of its side could first have it (far off: never)
        ("judged_at", FLOAT),  # s, when he is judged to: that decides the race
        ("trial", SEGMENT, (PLAN_MOST,)),  # room for a run that is only thought of
        # his runs
        ("plan_length", WHOLE),  # rows of the plan in use
        ("recorded_until", FLOAT),  # s, up to where his runs have been written down
        ("plan", SEGMENT, (PLAN_MOST,)),
        # his random numbers: a key for each stream, and how many have been drawn
        ("keys", "u8", (len(STREAMS),)),
        ("draws", WHOLE, (len(STREAMS),)),
        ("locked", YES_OR_NO),  # he keeps to his zone
    ]
)

BALL = np.dtype(
    [
        ("state", WHOLE),
        ("x", FLOAT),  # where it was kicked from, or lies dead
        ("y", FLOAT),
        ("dx", FLOAT),  # which way it rolls, a unit vector
        ("dy", FLOAT),
        ("launch_speed", FLOAT),  # m/s
        ("kicked_at", FLOAT),
        ("slide", FLOAT),  # m/s2 lost while it slides
        ("slides_for", FLOAT),  # s, from the kick on
        ("roll", FLOAT),  # m/s2 lost after that
        ("holder", WHOLE),
        ("touches", WHOLE),  # of the holder
        ("received_at", FLOAT),
        ("pace", FLOAT),  # how hard he means to play it, over the usual
        ("giver", WHOLE),  # whose pass it was (-1: nobody's)
        ("heavy", YES_OR_NO),  # his first touch was heavy, and he has not settled the ball since
        ("turns", WHOLE),  # how often he has turned away with it
        ("passer", WHOLE),
        ("meant_for", WHOLE),
        ("target_x", FLOAT),  # where the pass is meant to meet the receiver
        ("target_y", FLOAT),
        ("arrives_at", FLOAT),  # when it is there, or lies still before
        ("obviousness", FLOAT),  # 0-1, odds of that pass in a watcher's eyes
    ]
)

PLAY = np.dtype(
    [
        ("side", WHOLE),  # that has the ball, as far as running is concerned
        ("lost_at", FLOAT),  # when the other side lost it
        ("live_at", FLOAT),  # when a dead ball will be in play
        ("aim", WHOLE),
        ("may_shoot", YES_OR_NO),
        ("goal_x", FLOAT),  # what is aimed at
        ("goal_y", FLOAT),
        ("goal_width", FLOAT),
        ("goal_height", FLOAT),  # under its bar
        ("goal_sideways", YES_OR_NO),  # its line runs along x
        ("goal_facing", FLOAT),  # +1 or -1: which way along its axis the mouth looks
        ("spot_x", FLOAT),  # where a restart is taken from, while somebody is on his way to take it (far off: nowhere)
        ("spot_y", FLOAT),
        ("spacing", FLOAT),  # m, side of the square that each player in the area has to himself
        ("west", FLOAT),  # the ground in play with its run-off, or the box round its parts
        ("south", FLOAT),
        ("east", FLOAT),
        ("north", FLOAT),
        ("run_off", FLOAT),  # m of it on every side that lie beyond the line; of several parts the least
        ("parts_in_play", WHOLE),  # 0: the ground is one rectangle
        ("parts", PART, (PARTS_MOST,)),
        ("gates_in_use", WHOLE),
        ("gates", GATE, (MOST_GATES,)),
        ("last_gate", WHOLE),  # that the last pass of the side with the ball through any gate went through
        ("prizes_in_use", WHOLE),
        ("prizes", PRIZE, (PRIZES_MOST,)),
        ("frame_x", FLOAT),  # +1 or -1: signs of the axes (the mirror image of a bout)
        ("frame_y", FLOAT),
        ("recorded", WHOLE),  # rows of `segments` in use
        ("limits_in_use", WHOLE),
        ("limits", LIMIT, (MOST_LIMITS,)),
        ("offside_in_use", WHOLE),  # zones in which offside counts (0: no goal is gone for)
        ("offside", GATE, (MOST_ZONES,)),
    ]
)

CONSTANTS = np.dtype([(row.name, FLOAT) for row in ENGINE])
MATCH = np.dtype([("ball", BALL), ("play", PLAY), ("constants", CONSTANTS)])
"""What there is one of."""

Arrays = tuple[np.ndarray, np.ndarray, np.ndarray]
"""Players (`PLAYER`), match (one record of `MATCH`), segments (`sim.trajectory.RUN`): what plain Python hands to `entries`."""


class Pitch(NamedTuple):
    """Players, ball, state of play and constants of a bout, and the runs that have been made."""

    players: np.ndarray
    ball: np.void
    play: np.void
    constants: np.void
    segments: np.ndarray


def table(rows: int, of: np.dtype) -> np.ndarray:
    """So many records of zeros; where nothing is compiled, with their fields as attributes."""
    return records(np.zeros(rows, of))


def room_for_runs(rows: int) -> np.ndarray:
    """So many records of `RUN` with anything in them: whoever adds one writes all its fields."""
    return records(np.empty(rows, RUN))


def records_in(table: np.ndarray, field: str | None = None) -> list[Any]:
    """The records of a table from plain Python, or what they have in one `field`: every field by name, to read and to set, as the
    numbers of Python.  (C structures in the table's own memory: NumPy's own access to one number costs several times as much.)"""
    of, offset = (table.dtype, 0) if field is None else table.dtype.fields[field][:2]  # type: ignore[index]  # it has fields
    memory = table.view(np.uint8).data
    return [structure(of).from_buffer(memory, row * table.itemsize + offset) for row in range(len(table))]


@cache
def structure(of: np.dtype) -> Any:
    """The C structure of such records."""
    return np.ctypeslib.as_ctypes_type(of)
