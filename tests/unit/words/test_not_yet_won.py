"""A win that waits to be confirmed: who has the ball is told as it is, and a loss with the time since when."""

from __future__ import annotations

import math

import numpy as np

from sim.measures.event_reducer import LoggedEvent
from sim.pitch.log import BoutLog
from sim.words.commentary import happened
from sim.words.not_yet_won import not_yet_won
from sim.words.strip import spells

NAMES = {one: one.replace("-", " ") for one in ("amber-1", "amber-2", "slate-1", "slate-2", "white-1")}
WITH_IT = [
    ("slate-1", "touch"),
    ("slate-1", "release"),
    ("slate-2", "touch"),
    ("slate-2", "receive"),
    ("slate-2", "release"),
]


def told(*rows: tuple[float, str, str, str, str]) -> list[LoggedEvent]:
    """(seconds, kind, player, other, side) after everybody has his role."""
    jobs = [(0.0, "job", name, "", "holder" if name[0] == "w" else name[:-2]) for name in NAMES]
    return [
        LoggedEvent(
            t,
            seq,
            kind,
            player,
            other,
            side,
            "tackle" if kind == "loss" else "",
            "pass",
            9.0,
            0.0,
            0.0,
            "play",
            "one",
            3,
        )
        for seq, (t, kind, player, other, side) in enumerate([*jobs, *rows])
    ]


def confirmed_after(wait: float) -> list[LoggedEvent]:
    """Slate 1 takes it off amber 1 at 4 s, passes to slate 2 at 5 s, and the win counts `wait` later."""
    return told(
        (1.0, "possession", "amber-1", "", "amber"),
        (4.0, "touch", "slate-1", "", "amber"),
        *([
            (4.5, "release", "slate-1", "slate-2", "amber"),
            (5.0, "touch", "slate-2", "", "amber"),
            (5.0, "receive", "slate-2", "slate-1", "amber"),
        ] if wait else []),
        (4.0 + wait, "loss", "amber-1", "slate-1", "amber"),
        (4.0 + wait, "win", "slate-1", "amber-1", "slate"),
        (4.0 + wait, "possession", "slate-1", "", "slate"),
        (9.0, "dead", "", "", "slate"),
    )  # fmt: skip


def log_of(events: list[LoggedEvent]) -> BoutLog:
    return BoutLog("any", 1, 0, 0, 10.0, (), (), (), tuple(tuple(one) for one in events), np.zeros(0))


def held(events: list[LoggedEvent]) -> list[tuple[float, str, str]]:
    return [(one.start_s, one.side, one.player) for one in spells(log_of(events)) if one.state == "held"]


def test_the_strip_gives_the_ball_to_whoever_has_it():
    assert held(confirmed_after(1.0)) == [
        (1.0, "amber", "amber-1"), (4.0, "slate", "slate-1"), (4.5, "slate", "slate-1"), (5.0, "slate", "slate-2"),
    ]  # fmt: skip


def test_a_win_that_counts_at_once_is_told_as_ever():
    found = not_yet_won(confirmed_after(0.0))
    assert (found.side, found.taken, found.since, found.late) == ({}, frozenset(), {}, frozenset())
    assert [text for _, text in happened(confirmed_after(0.0), NAMES)][1:3] == [
        "LOSS: amber 1 loses it for amber, tackled by slate 1", "slate 1 wins it for slate",
    ]  # fmt: skip


def test_the_commentary_tells_of_it_when_it_happens_and_when_it_counts():
    assert [text for _, text in happened(confirmed_after(1.0), NAMES)] == [
        "amber 1 on the ball for amber", "slate 1 has it for slate, not won yet", "slate 1 to slate 2, 9 m",
        "slate 2 has it, not won yet", "LOSS: amber 1 loses it for amber, tackled by slate 1, 1.0 s ago: it is won now",
        "slate 1 wins it for slate", "play stops: ",
    ]  # fmt: skip


def test_a_ball_won_back_before_it_counts_was_never_lost():
    events = told(
        (4.0, "touch", "slate-1", "", "amber"),
        (5.0, "touch", "white-1", "", "amber"),
        (6.0, "contested", "slate-1", "", "amber"),
        (6.0, "touch", "amber-2", "", "amber"),
    )
    found = not_yet_won(events)
    assert [events[at].player for at in found.side] == ["slate-1", "white-1"] and set(found.side.values()) == {"slate"}
    assert found.since == {}


def test_a_touch_that_leaves_the_ball_loose_takes_nothing():
    events = told(
        (4.0, "touch", "slate-1", "", "amber"), (4.0, "deflect", "slate-1", "", "amber"), (6.0, "end", "", "", "")
    )
    assert not_yet_won(events).side == {} and not math.isnan(events[0].t)
