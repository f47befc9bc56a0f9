"""A hundred random games over the whole language: none breaks, and all keep what every bout keeps.

More of them by command: `python -m tests.fuzz --games 2000`.
"""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.fuzz.broken import loaded, scrambled, wild
from tests.fuzz.games import games
from tests.fuzz.holds import FRAMES, as_printed, hold_limit, played, round_trips, same, symmetric, unbroken
from tests.fuzz.run import game_of
from tests.support.games import mirrored

GAMES = 100


@pytest.mark.slow
@settings(max_examples=GAMES, suppress_health_check=list(HealthCheck))
@given(games(), st.integers(0, 999))
def test_any_game_is_played_and_counted_and_nobody_has_the_ball_longer_than_the_limit(short: dict, seed: int):
    game = game_of(short)
    round_trips(game)
    log = unbroken(game, seed)
    as_printed(game, log)
    hold_limit(game, log)
    symmetric(game, seed, log)


@settings(max_examples=GAMES, suppress_health_check=list(HealthCheck))
@given(wild())
def test_any_data_is_a_game_or_is_refused_in_words(several: list[dict]):
    for game in filter(None, map(loaded, several)):  # with any luck still a short one
        unbroken(
            game.model_copy(update={"bouts": game.bouts.model_copy(update={"seconds": min(4.0, game.bouts.seconds)})}),
            1,
        )


@settings(max_examples=GAMES, suppress_health_check=list(HealthCheck))
@given(scrambled())
def test_any_bytes_are_a_game_or_are_refused_in_words(tmp_path_factory, text: bytes):
    file = tmp_path_factory.mktemp("any") / "game.toml"
    file.write_bytes(text)
    loaded(file)


def test_a_bout_on_ground_that_shrinks_has_a_mirror_image():
    """A length and a width are no place: a mirror leaves them as they are."""
    role = {"style": "free", "place": "active"}
    game = game_of(
        {
            "format": 1,
            "title": "Shrinks",
            "purpose": "To be mirrored.",
            "bouts": {"count": 1, "seconds": 40},
            "start": {"side": "amber"},
            "areas": {"meadow": {"length": 5, "width": 4}},
            "teams": {"amber": {"population": "elite men"}, "slate": {"population": "elite men"}},
            "roles": {
                "ranger": role | {"side": "team", "players": {"amber": 1, "slate": 1}},
                "joker": role | {"side": "holder", "players": {"amber": 1}},
            },
            "phases": {
                "dawn": {
                    "aim": "keep",
                    "open": [],
                    "rules": {"whisper": {"on": "win", "do": [{"resize": "meadow", "by": -3.0, "to": 2.8}]}},
                }
            },
        }
    )
    shrunk = [log for log in (played(game, seed) for seed in range(4)) if any(row[2] == "ground" for row in log.events)]
    assert shrunk
    for log in shrunk:
        for frame in FRAMES:
            same(log, played(mirrored(game, *frame), log.seed, frame), *frame)
