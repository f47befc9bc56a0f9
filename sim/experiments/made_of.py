"""What sessions are made of: whoever finds some of the same kind may put them together with his own."""

from __future__ import annotations

import json
from dataclasses import asdict
from typing import Any

from sim import __version__
from sim.experiments.provenance import Provenance
from sim.game.model import Game
from sim.measures.thresholds import limits_of

FORMAT = 3
LIBRARIES = ("numba", "numpy", "simpy")
Made = dict[str, Any]


def made_of(game: Game, seed: int, provenance: Provenance) -> Made:
    """All that a session's numbers hang on besides its number, as JSON would give it back."""
    made = {
        "format": FORMAT,
        "version": __version__,
        "engine": provenance.engine,
        "libraries": {name: provenance.libraries[name] for name in LIBRARIES},
        "seed": seed,
        "game": game.model_dump(mode="json"),
        "parameters": dict(provenance.parameters) | {one.name: one.value for one in provenance.assumptions},
        "thresholds": asdict(limits_of(game)),
    }
    return json.loads(json.dumps(made))
