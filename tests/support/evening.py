"""Evenings made by hand, and what their games give without being played."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from sim.game.model import Game
from sim.planning.band import NO_BAND, Band
from sim.planning.block import Block
from sim.planning.block_loads import PLACE, BlockLoads, places_of, posts_of
from sim.planning.session_file import Evening, Ground, Part
from sim.squads.squad import Person, Squad

SIX = tuple(Person(i, f"P{i}", level=float(i)) for i in range(1, 7))
SHORT = Block("tight-square", bouts=3, work_s=120, rest_s=60, explain_s=60)


def evening(*blocks: Block, people: tuple[Person, ...] = SIX, band: Band = NO_BAND, **more: Any) -> Evening:
    parts = tuple(Part(f"b{i}", block) for i, block in enumerate(blocks, 1))
    found = Evening("Tonight", "", 75.0, Ground(40.0, 30.0), None, None, None, Squad(people), band, parts, "e.toml")
    return replace(found, **more)


def fake(game: Game, metres: float = 100.0, sessions: int = 4) -> BlockLoads:
    """Loads without playing: so many metres a bout for the player at place 0, a metre more for each place after him."""
    places = places_of(game)
    loads = np.zeros((sessions, len(places), len(PLACE)))
    loads[:, :, PLACE["session_distance_m"]] = game.bouts.count * (metres + np.arange(len(places)))
    loads[:, :, PLACE["session_distance_m"]] += np.arange(sessions)[:, None]
    loads[:, :, PLACE["time_s"]] = game.bouts.count * game.bouts.seconds
    loads[:, :, PLACE["session_load_estimate"]] = 50.0
    return BlockLoads(
        game, places, posts_of(game), loads, np.ones(sessions), np.full(sessions, 60.0), np.full(sessions, 60.0)
    )
