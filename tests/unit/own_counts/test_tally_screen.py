"""What `tally` says: one small screen whatever the answer, in words of the touchline."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from sim.game.loader import load_game
from sim.own_counts.answer import answered, bouts_for
from sim.own_counts.explanations import PASSING, PRESSING, RESTARTS, Explained, ranked
from sim.words.commands import Given
from sim.words.tally_screen import tally_in_words
from tests.support.screens import holds
from tests.unit.own_counts.byhand import chance, forecast, row

GAME = load_game("tight-square")
FOUND = forecast(chance(5.5, 200, seed=4), wins=chance(4.4, 200, seed=5), longest_run=chance(20.0, 200, seed=6))
GIVEN = Given("tally", "tight-square", question=(("--minutes", "8"), ("--losses", 14)), played=GAME)
SLOWER = Explained(RESTARTS, True, 4.0, 7.0, 18.4, 13, 23, True)
BETTER = Explained(PASSING, True, 0.963, 0.993, 19.8, 14, 25, False)


def screen(*rows, explained=(), found=FOUND, details=False) -> str:
    told = replace(answered(GAME, rows, found), explained=tuple(explained))
    return tally_in_words(told, GAME, GIVEN, details)


@pytest.mark.parametrize(
    ("losses", "minutes", "said"),
    [
        (22, 8.0, ["22 losses in eight minutes on the watch: usual.", "Next: plan with the forecast"]),
        (
            8,
            8.0,
            ["unusual, fewer than forecast.", "so few come less than one night in 40", "overload why tight-square"],
        ),
        (40, 8.0, ["unusual, more than forecast.", "so many come less than one night in 40"]),
        (
            5,
            2.0,
            [
                "5 losses in two minutes on the watch: cannot tell, little was counted.",
                "Next time count longer: about",
                "minutes more of the one evening, all handed in together, would tell.",
            ],
        ),
        (14, 8.0, ["cannot tell, it could still be luck.", "Next time count longer: if it stays like this, about"]),
    ],
)
def test_the_answer_comes_first_and_says_what_next(losses: int, minutes: float, said: list[str]):
    text = screen(row(losses, minutes))
    holds(text)
    assert all(one in " ".join(text.split()) for one in said), text
    assert "Forecast: about" in text and "(usually" in text


def test_too_few_sessions_are_said_and_how_to_have_more():
    text = screen(row(3), found=forecast(chance(5.5, 20)))
    holds(text)
    assert "too few sessions were played" in " ".join(text.split()) and "--losses 14 --bouts 800" in text


def test_why_more_minutes_are_not_told_depends_on_why():
    rare = np.zeros((400, 4))
    rare[np.arange(30), np.arange(30) % 4] = 1  # never two in a session: luck alone
    runs = forecast(chance(5.5, 200), longest_run=chance(3.0, 200, seed=6))
    for found, counts, said in (
        (runs, {"longest_run": 6}, "is not reckoned for a longest run: count losses beside it."),
        (
            forecast(chance(5.0, 400, spread=0.6, seed=8)),
            {"losses": 20},
            "However long you count, it may just be your players",
        ),
        (forecast(rare), {"losses": 0}, "More than 10 hours of one evening would be needed to tell"),
    ):
        text = screen(row(counts=counts), found=found)
        holds(text)
        assert said in " ".join(text.split()), text


def test_what_would_have_to_be_true():
    one = screen(row(14), explained=ranked([BETTER, SLOWER], 14))
    holds(one)
    assert "It would be usual with slower restarts (7 s, not 4)." in one
    softer = Explained(PRESSING, False, 3.8, 3.5, 19.6, 15, 24, False)
    none = screen(row(8), explained=ranked([BETTER, softer], 8))
    assert "No one thing makes it usual. Nearest: softer pressing (13 km/h to the ball, not 14)" in " ".join(
        none.split()
    )
    worse = [replace(BETTER, up=False, after=0.933, mean=25.0)]
    assert "Neither passing, pressing nor restarts alone" in screen(row(8), explained=worse)
    both = screen(row(14), explained=[SLOWER, replace(BETTER, usual=True)])
    assert "restarts (7 s, not 4) or better passing (99 of 100 simple passes come off, not 96)" in " ".join(
        both.split()
    )


def test_other_counts_and_other_evenings_stand_beside():
    rows = [
        row(counts={"losses": 20}, day="2026-11-07"),
        row(2, 2.0, bout=2, changed="one touch"),
        row(counts={"losses": 21, "wins": 6, "longest_run": 30}),
    ]
    text = screen(*rows)
    holds(text, 16)
    running = " ".join(text.split())
    assert "6 balls won: unusual, fewer than forecast; about" in running and "7 Nov 2026: 20 losses, usual." in running
    assert "Left out, because it was changed on the grass: bout 2 (one touch)." in running
    details = screen(*rows, details=True)
    assert details.startswith(text) and "Forecast from 200 sessions (seed 1" in details


def test_nothing_is_judged_where_nothing_was_as_planned():
    text = screen(row(changed="one touch"))
    holds(text)
    assert "Every bout was changed on the grass" in text
    assert "a longest run is held against whole bouts" in screen(row(minutes=7.0, counts={"longest_run": 9}))


def test_the_json_is_strict_and_whole():
    plain = json.loads(answered(GAME, [row(14)], FOUND).to_json())
    (one,) = plain["evenings"][0]["judged"]
    assert one["verdict"] == "cannot tell: at the edge" and one["what"]["count"] == 14
    assert (plain["sessions"], plain["bouts"], plain["engine"]) == (200, 800, "e" * 12)


def test_a_forecast_is_as_long_as_the_longest_evening():
    assert bouts_for(GAME, [row(minutes=8.0)]) == GAME.bouts.count == 4
    assert bouts_for(GAME, [row(minutes=6.0, bout=1), row(minutes=5.0, bout=2)]) == 6
    assert bouts_for(GAME, [row(minutes=6.0, day="2026-11-01"), row(minutes=5.0)]) == 4
    assert bouts_for(GAME, [row(minutes=6.0, clock="rolling")]) == 6
    assert bouts_for(GAME, [row(minutes=60.0, changed="another game")]) == 4
