"""Words that coaches write for those of the language: what is meant instead, told where they are refused."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, get_args

from sim.errors import nearest

FEW = 6  # words that are seen at a glance

OF_A_PHASE = ("aim", "aims", "open", "open_for", "jobs", "ball_in")
KEYS: Mapping[str, Mapping[str, str]] = {
    "GameSpec": {
        key: f"phases.play.{key}, as it belongs in a phase: play, or what the file calls its own" for key in OF_A_PHASE
    },
    "RoleSpec": {"area": "place", "position": "place", "count": "players", "number": "players"},
    "RuleSpec": {"when": "on", "then": "do"},
    "WinSpec": {
        "goals": "bouts.first_to, which ends a bout",
        "points": "bouts.first_to, which ends a bout",
        "first_to": "bouts.first_to, which ends a bout",
    },
}
"""Keys by the name of the table's model, and the key that is meant."""

ONE_BALL = "there can be one ball in play, and a rule that brings a new one ends it; supply.balls is how many lie ready"
OF_A_COLOUR = "did you mean roles.ROLE.touches, where a colour has a role of its own, or players.ID.touches?"
NOT_PLAYED: Mapping[str, Mapping[str, str]] = {
    "GameSpec": dict.fromkeys(("balls", "balls_in_play", "second_ball"), ONE_BALL),
    "SupplySpec": dict.fromkeys(("in_play", "at_once", "balls_in_play"), ONE_BALL),
    "StartSpec": dict.fromkeys(("balls", "second_ball"), ONE_BALL),
    "PhaseSpec": dict.fromkeys(("balls", "balls_in_play", "second_ball"), ONE_BALL),
    "TeamSpec": {"touches": OF_A_COLOUR},
}
"""Keys that a coach may look for, by the name of the table's model, and why there is no such thing."""

EVENTS: Mapping[str, str] = {
    "lost": "loss",
    "lose": "loss",
    "won": "win",
    "scored": "goal",
    "saved": "save",
    "missed": "miss",
    "passed": "passes",
    "carried": "carry",
}
"""What has happened, as it is said, and the word for it."""


def key_meant(table: str, key: str) -> str | None:
    """The key that is meant by a coach's word, of a table by the name of its model; None where that is not known."""
    return KEYS.get(table, {}).get(key)


def why_not(table: str, key: str) -> str | None:
    """Why there is no such key, where it stands for what cannot be played; None for any other."""
    return NOT_PLAYED.get(table, {}).get(key)


def value_meant(got: Any, known: Sequence[str]) -> str:
    """``; did you mean loss?`` after a word that is none of those known; nothing where none is near or all are seen at once."""
    if not isinstance(got, str):
        return ""
    many = known if len(known) > FEW else ()
    near = [EVENTS[got]] if EVENTS.get(got) in known else nearest(got, many)[:1]
    return f"; did you mean {near[0]}?" if near else ""


def choices(annotation: Any) -> list[str]:
    """The words among which a key chooses; none where it holds anything else."""
    found = get_args(annotation)
    return list(found) if found and all(isinstance(one, str) for one in found) else []
