"""Game files with something changed in them at random: wild values, missing and doubled words, bytes out of place."""

from __future__ import annotations

import copy
import datetime

import tomli_w
from hypothesis import strategies as st

from sim.game.loader import load_game, to_resolved
from tests.fuzz.games import games
from tests.fuzz.run import game_of

WILD = [
    -1, 0, 1, 2, 3, 60, 61, 99, 100, 10**10, 2**63, 10**400, -(10**30), 0.0, -0.0, 1e-300, 0.5, 1e9, 1e308,
    float("inf"), float("nan"), True, False, "", "a",
    "any", "team", "holder", "free", "active", "home", "x" * 5000, "\x1b[2J", "\u202eabc",
    "two words", "../up",
    "edge in meadow", "west end of meadow", [], [[]], [1, 2], [1e308, -1e308], ["a", 1], {}, {"a": 1}, {"end": "bout"},
    [{"end": "bout"}], [{"end": "bout", "score": 1}], datetime.date(2026, 1, 1), datetime.time(1, 2),
]  # fmt: skip
BYTES = [b"[" * 40, b"a." * 40, b'"', b"'''", b"=", b"\n", b"9" * 5000, b"\x00", b""]
KEYS = [
    "name",
    "centre",
    "players",
    "to",
    "from",
    "of",
    "end",
    "count",
    "beside",
    "within",
    "\x1b[31m",
    "x" * 200,
    "a b",
    "",
    ".",
]


def places(value, path: tuple = ()) -> list[tuple]:
    """The path of everything in plain data."""
    inside = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [(*path, key) for key, _ in inside] + [one for key, each in inside for one in places(each, (*path, key))]


@st.composite
def wild(draw, forms=("short", "resolved"), times: int = 3) -> list[dict]:
    """A game in either form so many times, each with one to three things in it changed: drawing the game takes longest."""
    data = draw(games())
    if draw(st.sampled_from(forms)) == "resolved":
        data = to_resolved(game_of(data))
    return [changed(draw, copy.deepcopy(data)) for _ in range(times)]


def changed(draw: st.DrawFn, data: dict) -> dict:
    """The data with one to three things in it changed."""
    for _ in range(draw(st.integers(1, 3))):
        path = draw(st.sampled_from(places(data)))
        here = data
        for part in path[:-1]:
            here = here[part]
        how = draw(st.sampled_from(["set", "set", "set", "drop", "add", "move"]))
        if how == "drop":
            del here[path[-1]]
        elif how == "add" and isinstance(here[path[-1]], dict):
            here[path[-1]][draw(st.sampled_from(KEYS))] = copy.deepcopy(draw(st.sampled_from(WILD)))
        elif how == "move":
            other = data
            for part in draw(st.sampled_from(places(data))):
                other = other[part]
            here[path[-1]] = copy.deepcopy(other)
        else:
            here[path[-1]] = copy.deepcopy(draw(st.sampled_from(WILD)))
        if not data:
            break
    return data


@st.composite
def scrambled(draw) -> bytes:
    """The bytes of a game file with some of them doubled, dropped or replaced."""
    text = bytearray(tomli_w.dumps(draw(games())).encode())
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        stop = min(len(text), start + draw(st.integers(0, 30)))
        new = draw(st.binary(max_size=6) | st.sampled_from(BYTES))
        text[start:stop] = new * draw(st.sampled_from([1, 1, 2]))
    return bytes(text)


def loaded(data):
    """What a file is, whatever it holds: a game, or a refusal that a person can read (any other end is what is looked for)."""
    from sim.errors import InputError

    try:
        return load_game(data)
    except InputError as refusal:
        lines = str(refusal).splitlines()
        assert 1 <= len(lines) <= 21
        assert all(line.isprintable() for line in lines), lines
        assert max(map(len, lines)) < 3000, lines
        return None
