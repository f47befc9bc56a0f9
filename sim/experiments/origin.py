"""Where the numbers of a plan come from: versions, the engine, constants, speed bands; as plain data, for JSON."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from typing import Any

from sim import __version__
from sim.experiments.provenance import provenance_of
from sim.game.model import Game
from sim.measures.thresholds import limits_of

FORMAT = 1
"""Of the JSON of an evening and of a week; whatever changes its layout raises it."""


def origin_of(seed: int, games: Iterable[Game]) -> dict[str, Any]:
    """`format`, `version`, `seed` and the `provenance` of an answer; `thresholds` there stand by game, as each may have its own."""
    every = list(games)
    made = asdict(provenance_of(limits_of(every[0])))
    thresholds = {game.name: asdict(limits_of(game)) for game in every}
    return {"format": FORMAT, "version": __version__, "seed": seed, "provenance": made | {"thresholds": thresholds}}


def as_json(data: Mapping[str, Any]) -> str:
    """Strict JSON: keys as they stand, undefined as null, never NaN."""
    return json.dumps(data, indent=1, ensure_ascii=False, allow_nan=False)
