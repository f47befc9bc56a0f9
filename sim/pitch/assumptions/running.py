"""Details of play: runs and tiring.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter
from sim.pitch.assumptions.rows import held

RUNNING: tuple[Parameter, ...] = (
    held(
        "flat_out", 0.98, "1", 0.9, 0.995, "share of top speed at which a run holds its speed: the rest takes for ever"
    ),
    held("brake_least", 0.4, "1", 0.2, 0.8, "share of his braking that a player uses who runs with no effort at all"),
)
