"""Where things stand in the arrays of one bout.

The engine keeps everything that changes in a few float64 arrays, so that the compiled functions see plain numbers:

P   one row a player: abilities, present assignment, small memory (columns below)
M   one plan a player: segment rows of `sim.motion` (the running count is P[:, NSEG])
B   the ball and the state of play (columns below)
C   the constants of `sim.pitch.assumptions`
K   one key a player and stream of `sim.streams`;  N  how many draws each has made
G   executed segments, in the order of `sim.pitch.log.SEGMENT_FIELDS`

Players stand in order of their ids, so the order of a file never matters.
"""

from __future__ import annotations

# --- P, abilities (fixed for the bout)
VMAX, TAU, BRAKE, REACT, REACT_SD, SIGMA, FIRST_TOUCH, PRESS_EFFORT, COMPOSURE, DUEL = range(10)
# --- P, assignment (changed by the rules only)
SIDE, STYLE, ZX0, ZY0, ZX1, ZY1, LIMIT, ROLE, TEAM, SLOT, GX, GY, GW, OPEN, SINCE, SPREAD = range(10, 26)
# --- P, memory
BUSY, DUTY, STRETCH, NSEG, LOGGED, SHAPEX, SHAPEY = range(26, 33)
# --- P, the reserve, and the abilities of a fresh player
CRITICAL, RESERVE_FULL, RECOVERY, RESERVE, LOWEST, FRESH_VMAX, FRESH_SIGMA, FRESH_REACT = range(33, 41)
# --- P, instructions (see `sim.game.model.Role`; DRIVE is effort times WILLING: the day's willingness to run, times fitness)
DRIVE, PRESSING, MARKING, WIN_BACK, WIDTH, DEPTH, TEMPO, FIXED, WILLING = range(41, 50)
# --- P, more of the moment: whether a pass to him is a transfer, and whom he covers (-1: nobody)
AWAY, MAN = range(50, 52)
# --- P, when he changes his mind next, and the picture last taken of all players (`sim.pitch.ground.take_in`)
MIND, SEEN_X, SEEN_Y, SEEN_VX, SEEN_VY = range(52, 57)
# --- P, when the bout is over (s), and how many times over the reserve has been drawn in this session
WHISTLE, DRAWN = range(57, 59)
PLAYER_COLUMNS = 59

# styles
EDGE, FREE, GOAL, WAIT = 0.0, 1.0, 2.0, 3.0
FLOATER = -1.0  # SIDE of a player who is with whoever has the ball
# duties (P[:, DUTY])
NONE, PRESS, COVER, SUPPORT, RACE = 0.0, 1.0, 2.0, 3.0, 4.0

# --- B
(
    MODE,
    BX,
    BY,
    DX,
    DY,
    V0,
    KICKED,
    DECEL,
    HOLDER,
    HOLDING,
    MEANT,
    TX,
    TY,
    ARRIVES,
    PASSER,
    PX0,
    PY0,
    PX1,
    PY1,
    AIM,
    AGX,
    AGY,
    AGW,
    LOST,
    RECEIVED,
    TOUCHES,
    SHARE,
    FRAME_X,
    FRAME_Y,
    LIVE_AT,
    SPACING,
    FIRST,
    SHOOT,
    GRACE,
    AG_SIDEWAYS,
    PACE,
    AG_FACING,  # +1 or -1: which way along its axis the mouth of the attacked goal looks
    SPOT_X,  # where a restart is taken from, while somebody is on his way to take it (far off: nowhere)
    SPOT_Y,
    PARTS,
) = range(40)
BALL_COLUMNS = 40  # and behind them the parts of the ground in play, if it has several (`sim.pitch.border`)
DEAD, HELD, ROLLING = 0.0, 1.0, 2.0
KEEP, HOME, SCORE = 0.0, 1.0, 2.0

SPAN = 24  # rows of a plan
