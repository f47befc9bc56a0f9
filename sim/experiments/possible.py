"""Whether saved numbers can have come out of the game they name: counts, shapes and ranges.

A checksum tells what was changed by accident; whoever changes numbers on purpose can reckon it anew.  What is left to him must at
least be possible: no negative distance, no minute of play longer than the bout, no session twice.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from sim.measures.event_reducer import COLOUR_POINTS
from sim.measures.session_counts import CELLS, COLUMN, EXPOSURES, PERSONS

MOST_SESSIONS = 10**9  # nobody has played so many
MOST_SPEED_KMH = 50.0  # nobody has run so fast
SLACK = 1e-6  # a share: what adding up in another order may make
SHARES = ("lowest",)  # of persons: a share (0-1) a bout
COUNTED = {"totals": 1, "by_side": 2, "reached": 3, "fired": 2, "runs": 3, "tallies": 3}  # the parts of a key
LESS_THAN_NONE = ("points", COLOUR_POINTS)  # all that can be taken away, or be a fraction


def impossible(about: Mapping[str, Any], numbers: Mapping[str, np.ndarray], names: Mapping[str, tuple]) -> str:
    """Why these sessions cannot have been played, shortly; nothing if they can."""
    game = about["made"]["game"]
    checks = (
        lambda: of_people(game, names),
        lambda: of_shapes(len(about["counters"]), numbers, names),
        lambda: of_sessions(about, numbers, game["bouts"]),
        lambda: of_time(numbers, game["bouts"]["seconds"]),
        lambda: of_counters(about["counters"]),
    )
    for check in checks:
        if why := check():
            return why
    return ""


def of_people(game: Mapping[str, Any], names: Mapping[str, tuple]) -> str:
    """What is wrong with the players and roles."""
    players = [(one["id"], one["team"]) for one in game["players"]]
    if list(zip(names["players"], names["teams"], strict=True)) != players:
        return "its players are not those of its game"
    return (
        "" if list(names["roles"]) == [one["name"] for one in game["roles"]] else "its roles are not those of its game"
    )


def of_shapes(sessions: int, numbers: Mapping[str, np.ndarray], names: Mapping[str, tuple]) -> str:
    """What is wrong with the shapes and types of the arrays."""
    players, roles = len(names["players"]), len(names["roles"])
    shapes = {
        "cells": (sessions, players, roles, len(CELLS)),
        "persons": (sessions, players, len(PERSONS)),
        "heart_pct": (sessions, players),
    }
    if sessions < 1:
        return "it holds no session"
    for name, one in numbers.items():
        kinds = "i" if name in ("replicate", "bouts") else "f"
        if one.dtype.kind not in kinds or one.dtype.itemsize != 8 or one.shape != shapes.get(name, (sessions,)):
            return f"{name} has another shape"
        if not (np.isfinite(one).all() and (one >= 0).all()):
            return f"{name} must be numbers from 0 up"
    return ""


def of_sessions(about: Mapping[str, Any], numbers: Mapping[str, np.ndarray], bouts: Mapping[str, Any]) -> str:
    """What is wrong with the numbers of sessions and bouts."""
    which, asked = numbers["replicate"], about["asked"]
    if len(set(which.tolist())) != len(which) or which.max() >= MOST_SESSIONS:
        return "its sessions are not numbered from 0, each once"
    if type(asked) is not int or not 0 <= asked <= MOST_SESSIONS:
        return "it does not say for how many bouts it was asked"
    counts = set(numbers["bouts"].tolist())
    if counts not in ({bouts["count"]}, {1}) or (numbers["persons"][:, :, 0] != numbers["bouts"][:, None]).any():
        return "its sessions have another number of bouts than its game"
    return ""


def of_time(numbers: Mapping[str, np.ndarray], seconds: float) -> str:
    """What is wrong with times, distances and speeds."""
    longest = numbers["bouts"] * seconds * (1 + SLACK)
    lasted, cells, persons = numbers["duration_s"], numbers["cells"], numbers["persons"]
    if (lasted <= 0).any() or (lasted > longest).any():
        return "its bouts are longer than those of its game, or have no length"
    if (numbers["in_play_s"] > lasted * (1 + SLACK)).any():
        return "the ball was in play for longer than the bouts lasted"
    spent = cells[..., [COLUMN[name] for name in EXPOSURES]].sum(axis=2)
    if (spent > lasted[:, None, None] * (1 + SLACK)).any():
        return "somebody played for longer than the bouts lasted"
    if (cells[..., COLUMN["distance_m"]].sum(axis=2) > lasted[:, None] * MOST_SPEED_KMH / 3.6).any():
        return "somebody ran faster than anybody can"
    if (persons[..., PERSONS.index("peak_kmh")] > numbers["bouts"][:, None] * MOST_SPEED_KMH).any():
        return "somebody ran faster than anybody can"
    if any((persons[..., PERSONS.index(name)] > numbers["bouts"][:, None]).any() for name in SHARES):
        return "somebody had more left than all"
    return ""


def of_counters(every: list) -> str:
    """What is wrong with what is counted by name."""
    for counted in every:
        if set(counted) != set(COUNTED):
            return "it counts other things"
        for name, width in COUNTED.items():
            for *key, n in counted[name]:
                least = None if key[0] in LESS_THAN_NONE else 0
                if len(key) != width or not right(name, key) or type(n) not in (int, float) or not n == n:
                    return f"{name} counts something else"
                if abs(n) > MOST_SESSIONS or (least is not None and (n < least or n != int(n))):
                    return f"{name} must be counts"
            if len({tuple(key) for *key, _ in counted[name]}) != len(counted[name]):
                return f"{name} counts something twice"
    return ""


def right(name: str, key: list) -> bool:
    """Whether a key is of its kind: names, but for the count of a counter, and passes and whether the run was cut."""
    kinds: dict[str, tuple] = {
        "reached": (str, (int, float), str),
        "runs": (str, int, bool),
        "tallies": (str, str, int),
    }
    wanted = kinds.get(name, (str,) * len(key))
    if name == "runs" and (type(key[1]) is bool or key[1] < 0):
        return False
    if name == "tallies" and (type(key[2]) is not int or key[2] < 0):
        return False
    return all(isinstance(one, kind) for one, kind in zip(key, wanted, strict=True))
