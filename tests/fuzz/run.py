"""Playing many random games, one after the other, and what is found told at the end."""

from __future__ import annotations

import time
import traceback
from collections import Counter
from collections.abc import Callable
from typing import Any

from hypothesis import HealthCheck, Phase, assume, given, seed, settings
from hypothesis import strategies as st

from sim.errors import InputError
from sim.game.loader import load_game
from sim.game.model import Game
from tests.fuzz.games import games
from tests.fuzz.holds import as_printed, hold_limit, round_trips, symmetric, unbroken

CHECKS = {
    "round trip": lambda game, number, log: round_trips(game),
    "as printed": lambda game, number, log: as_printed(game, log),
    "hold limit": lambda game, number, log: hold_limit(game, log),
    "symmetry": symmetric,
}
"""Beside the bout itself, which comes first."""


def game_of(short: dict) -> Game:
    """The game, or no example where the loader refuses it."""
    try:
        return load_game(short)
    except InputError:
        assume(False)
        raise


def found_in(check: Callable[[Game, int, Any], None], *given_to: Any) -> str | None:
    """Where a check failed, or None."""
    try:
        check(*given_to)
    except Exception as error:  # whatever it is, it is what is looked for
        last = traceback.extract_tb(error.__traceback__)[-1]
        return f"{type(error).__name__} in {last.name}, line {last.lineno}: {last.line}"
    return None


def search(count: int, first: int, tell: Callable[[str], None]) -> tuple[Counter, dict[str, tuple[dict, int]]]:
    """Play `count` games; returns how often what was found, and the smallest game (as text) that shows it."""
    found, shown, played = Counter(), {}, Counter()
    began = time.perf_counter()

    @seed(first)
    @settings(
        max_examples=count,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(games(), st.integers(0, 999))
    def one(short: dict, number: int) -> None:
        played["drawn"] += 1
        game = game_of(short)
        played["played"] += 1
        logs = []
        problems = [found_in(lambda: logs.append(unbroken(game, number)))]
        problems += [found_in(check, game, number, logs[0]) for check in CHECKS.values()] if logs else []
        for problem in filter(None, problems):
            found[problem] += 1
            if problem not in shown or len(str(short)) < len(str(shown[problem][0])):
                shown[problem] = (short, number)
        if played["played"] % 100 == 0:
            tell(
                f"{played['played']} games of {played['drawn']} drawn, {time.perf_counter() - began:.0f} s, {found.total()} found"
            )

    one()
    tell(
        f"{played['played']} games of {played['drawn']} drawn, {time.perf_counter() - began:.0f} s, {found.total()} found"
    )
    return found, shown
