"""How large anything in a game file may be, and what a name may be made of.

The bounds keep out what no pitch, no session and no person can be, with room beyond what anybody plays.  They are checked where
the value is (`sim.game.values`, `sim.game.spec`), on the whole of the file before anything is built (`sim.game.intake`) or,
where the unit of the file matters, in `sim.game.references` and `sim.game.playability`.
"""

from __future__ import annotations

# Ground, in metres: from a step and a half each way to a little more than the longest pitch.
SHORTEST_SIDE_M, LONGEST_SIDE_M = 2.0, 150.0
FURTHEST_M = 1000.0  # any coordinate, gap, distance or run-off: all of a training ground
NARROWEST_GOAL_M = 0.2  # two cones a ball's width apart
HIGHEST_GOAL_M = 10.0
MOST_GATES = 20
MOST_CHANGE_M = 50.0  # of the size of an area at once
MOST_ZONES = 20
MOST_LIMITS = 100  # whom zones are closed to, and numbers in them, in all
SHORTEST_ZONE_M = 1.0  # a step: less is a line
# People: sixty are the three squads of one evening; the engine keeps who is barred from a ball in a word of 64 bits.
MOST_PLAYERS = 60
HIGHEST_SHIRT = 99
LONGEST_NAME = 40  # a column of a table
LONGEST_TEXT = 400  # a title or a purpose: some sentences
LONGEST_BOUT_S = 7200.0
LONGEST_BY_WATCH = 4.0  # times its length, of a bout whose clock stands while the ball is dead
LONGEST_WINDOW = 120.0  # to win the ball back: seconds, or passes of the others
# The file.
MOST_OF_ONE = 200  # areas, roles, rules and all other entries of one table or list
LARGEST_FILE = 1_000_000  # bytes
DEEPEST = 20  # the deepest word of the language lies eight deep
MOST_DIGITS = 15  # whole numbers up to here are exact everywhere

# What a text must be, by the pattern that it did not match.
NAME, LABEL, LINE = (
    r"^[A-Za-z0-9][A-Za-z0-9_-]*$",
    r"^[^ /\\\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069]"
    r"([^/\\\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069]*"
    r"[^ /\\\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069])?$",
    r"^[^\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069]*$",
)
PATTERNS = {
    NAME: "a name of letters, digits, - and _, without spaces",
    LABEL: "a name of printable characters, without / and \\, no space at its ends",
    LINE: "one line of printable characters",
}
