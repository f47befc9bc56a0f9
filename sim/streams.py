"""Random numbers that depend only on what they are for, never on when they are asked.

There is no generator with a state.  A number is a pure function of a *key* (which seed, session, bout, kind of
decision and player) and a *counter* (the how-manieth draw of that kind).  So players can be reordered, bouts can
be spread over processes and a rule can change the number of draws of one kind without shifting any other: common
random numbers come for nothing.

`bits(key, counter)` is output number `counter` (from 0) of the public-domain generator SplitMix64 started in state
`key` (Steele, Lea & Flood 2014, OOPSLA; finaliser by D. Stafford), reached without stepping through the earlier
ones.  A key is made by putting one word after the other through the same finaliser.

Every draw uses one counter and is monotone in its one uniform number, so two versions of a model that share keys
stay as close as they can.  All functions are compiled for stated types (a key is a large Python integer outside
compiled code), and give the same bits as plain Python (`.py_func`).
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numba.extending import overload

from sim.compiled import njit, square

PURPOSES = {
    "profile": "who the players are: population means and single players (one draw per session)",
    "reaction": "how late a player answers a kick",
    "direction": "bearing error of a pass",
    "weight": "launch-speed error of a pass",
    "choice": "which option the carrier takes",
    "control": "whether and how well an arriving ball is controlled, and how long until it is ready to be played",
    "tackle": "when a presser tries and what comes of it",
    "replan": "when a player next changes his mind unprompted",
    "run": "where and how urgently a player without the ball moves",
    "hold": "how long the carrier keeps the ball",
    "place": "where players and the serving ball stand at a start or restart",
    "intercept": "small arrival noise of whoever races to the ball",
    "shot": "direction and speed error of a shot",
    "keeper": "what the keeper does about a shot",
    "rotation": "who starts in which role, and other draws of the rotation list",
    "day": "good and bad days of a player (one draw per session)",
    "outcome": "whether a pass comes off in the test mode (`sim.pitch.chance`)",
    "pace": "how hard a pass is meant to be struck",
    "aim": "which of several goals is attacked that are equally near",
    "scan": "which opponents a receiver has overlooked, and whether he has seen another area",
    "heavy touch": "whether a ball that is under control is off its receiver's foot",
}
"""What each stream is for.  Order is part of every key: append new streams, never insert or reorder."""

STREAMS = tuple(PURPOSES)
"""Names of the streams; the position of a name is the `stream` argument of `key_of`."""

MASK = 0xFFFFFFFFFFFFFFFF
GOLDEN = np.uint64(0x9E3779B97F4A7C15)
MIX_A = np.uint64(0xBF58476D1CE4E5B9)
MIX_B = np.uint64(0x94D049BB133111EB)
S12, S27, S30, S31 = np.uint64(12), np.uint64(27), np.uint64(30), np.uint64(31)
ONE = np.uint64(1)


def stream_index(name: str) -> int:
    """Position of a named stream, the `stream` argument of `key_of`."""
    return STREAMS.index(name)


@lru_cache(maxsize=4096)
def hash_id(text: str) -> np.uint64:
    """A player's id (or any name) as 64 bits: FNV-1a over its UTF-8 bytes."""
    value = 0xCBF29CE484222325
    for byte in text.encode("utf-8"):
        value = ((value ^ byte) * 0x100000001B3) & MASK
    return np.uint64(value)


# 64-bit arithmetic that wraps: compiled code does so by itself, plain Python needs the mask.
def _word(value):
    return np.uint64(int(value) & MASK)


def _plus(a, b):
    return np.uint64((int(a) + int(b)) & MASK)


def _times(a, b):
    return np.uint64((int(a) * int(b)) & MASK)


@overload(_word)
def _word_compiled(value):
    return lambda value: np.uint64(value)


@overload(_plus)
def _plus_compiled(a, b):
    return lambda a, b: a + b


@overload(_times)
def _times_compiled(a, b):
    return lambda a, b: a * b


@njit("uint64(uint64)", cache=True)
def mix(word):
    """The SplitMix64 finaliser: 64 bits in, 64 well-stirred bits out, one to one."""
    word = _times(word ^ (word >> S30), MIX_A)
    word = _times(word ^ (word >> S27), MIX_B)
    return word ^ (word >> S31)


@njit("uint64(int64, int64, int64, int64, uint64)", cache=True)
def key_of(seed, replicate, bout, stream, player_hash):
    """The key of one kind of decision of one player in one bout; draws that last a session use bout 0."""
    key = mix(_plus(_word(seed), GOLDEN))
    key = mix(_plus(key ^ _word(replicate), GOLDEN))
    key = mix(_plus(key ^ _word(bout), GOLDEN))
    key = mix(_plus(key ^ _word(stream), GOLDEN))
    return mix(_plus(key ^ _word(player_hash), GOLDEN))


@njit("uint64(uint64, int64)", cache=True)
def bits(key, counter):
    """Output number `counter` (from 0) of SplitMix64 started in state `key`."""
    return mix(_plus(_word(key), _times(_plus(_word(counter), ONE), GOLDEN)))


@njit("float64(uint64, int64)", cache=True)
def uniform(key, counter):
    """Uniform on (0, 1): an odd multiple of 2^-53, so never 0 or 1, and symmetric about one half."""
    return (float(bits(key, counter) >> S12) + 0.5) * 2.0**-52


@njit("float64(float64)", cache=True)
def normal_quantile(p):
    """Inverse of the standard normal distribution for 0 < p < 1 (Wichura 1988, algorithm AS 241, PPND16)."""
    q = p - 0.5
    if abs(q) <= 0.425:
        r = 0.180625 - q * q
        top = 2.5090809287301226727e3
        for c in (3.3430575583588128105e4, 6.7265770927008700853e4, 4.5921953931549871457e4, 1.3731693765509461125e4,
                  1.9715909503065514427e3, 1.3314166789178437745e2, 3.3871328727963666080e0):  # fmt: skip
            top = top * r + c
        low = 5.2264952788528545610e3
        for c in (2.8729085735721942674e4, 3.9307895800092710610e4, 2.1213794301586595867e4, 5.3941960214247511077e3,
                  6.8718700749205790830e2, 4.2313330701600911252e1, 1.0):  # fmt: skip
            low = low * r + c
        return q * top / low
    r = math.sqrt(-math.log(p if q < 0.0 else 1.0 - p))
    if r <= 5.0:
        r -= 1.6
        top = 7.74545014278341407640e-4
        for c in (2.27238449892691845833e-2, 2.41780725177450611770e-1, 1.27045825245236838258e0,
                  3.64784832476320460504e0, 5.76949722146069140550e0, 4.63033784615654529590e0,
                  1.42343711074968357734e0):  # fmt: skip
            top = top * r + c
        low = 1.05075007164441684324e-9
        for c in (5.47593808499534494600e-4, 1.51986665636164571966e-2, 1.48103976427480074590e-1,
                  6.89767334985100004550e-1, 1.67638483018380384940e0, 2.05319162663775882187e0, 1.0):  # fmt: skip
            low = low * r + c
    else:
        r -= 5.0
        top = 2.01033439929228813265e-7
        for c in (2.71155556874348757815e-5, 1.24266094738807843860e-3, 2.65321895265761230930e-2,
                  2.96560571828504891230e-1, 1.78482653991729133580e0, 5.46378491116411436990e0,
                  6.65790464350110377720e0):  # fmt: skip
            top = top * r + c
        low = 2.04426310338993978564e-15
        for c in (1.42151175831644588870e-7, 1.84631831751005468180e-5, 7.86869131145613259100e-4,
                  1.48753612908506148525e-2, 1.36929880922735805310e-1, 5.99832206555887937690e-1, 1.0):  # fmt: skip
            low = low * r + c
    return -top / low if q < 0.0 else top / low


@njit("float64(uint64, int64)", cache=True)
def normal(key, counter):
    """Standard normal, increasing in the uniform draw of the same key and counter."""
    return normal_quantile(uniform(key, counter))


@njit("float64(uint64, int64)", cache=True)
def exponential(key, counter):
    """Exponential with mean 1, increasing in the uniform draw of the same key and counter."""
    return -math.log1p(-uniform(key, counter))


@njit("UniTuple(float64, 2)(float64, float64)", cache=True)
def lognormal_parameters(mean, sd):
    """(mu, sigma) of the logarithm of a lognormal with this mean (above 0) and standard deviation (0 or more)."""
    variance = math.log1p(square(sd / mean))
    return math.log(mean) - variance / 2.0, math.sqrt(variance)


@njit("float64(uint64, int64, float64, float64)", cache=True)
def lognormal(key, counter, mean, sd):
    """Lognormal with this mean (above 0) and standard deviation (0 or more), in the unit of both."""
    mu, sigma = lognormal_parameters(mean, sd)
    return math.exp(mu + sigma * normal(key, counter))
