"""Nobody has the ball longer than the hold limit, the time to bring it under control included."""

from __future__ import annotations

import pytest

from sim.game.loader import load_game
from sim.pitch.engine import play_bout
from sim.players import draw_roster

ROUNDING_S = 1e-9


@pytest.mark.parametrize("limit", [1.0, 1.5])
def test_no_release_comes_later_than_the_limit(limit: float):
    game = load_game("even-keep-ball", [f"hold_limit_seconds={limit}", "bouts.minutes=4"])
    held = []
    for seed in range(3):
        since = None
        for t, _, kind, player, _, _, cause, *_ in play_bout(game, draw_roster(game, seed, 0), seed).events:
            if kind in ("receive", "possession"):
                since = (player, t) if since is None or since[0] != player else since
            elif kind in ("release", "loss", "dead", "deflect"):
                if kind == "release" and since is not None:
                    held.append(t - since[1])
                since = None
            elif kind == "tackle" and cause != "beaten":  # poked loose: whoever has it next holds it anew
                since = None
    assert len(held) > 150
    assert max(held) <= limit + ROUNDING_S
    assert max(held) > 0.9 * limit  # the limit is felt
