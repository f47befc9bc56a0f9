"""Details of play: runs and tiring.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter
from sim.pitch.assumptions.rows import held

RUNNING: tuple[Parameter, ...] = (
    held(
        "flat_out", 0.98, "1", 0.9, 0.995, "share of top speed at which a run holds its speed: the rest takes for ever"
    ),
    held("brake_least", 0.1, "1", 0.0, 0.8, "share of his braking that a player uses who runs with no effort at all"),
    held(
        "push_full",
        1.66,
        "1",
        0.5,
        2.0,
        "the speed wanted that an ordinary run would start to with the full push, over top speed",
    ),
    held("push_least", 0.3, "1", 0.1, 0.6, "least share of that push with which a slow run is started"),
    held(
        "brake_over", 0.5, "1", 0.2, 0.8, "share of an ordinary run that its braking takes, where that is not too hard"
    ),
    held("brake_gentle", 1.6, "m/s2", 0.8, 2.0, "gentlest braking at the end of an ordinary run"),
    held("stop_ahead", 1.0, "s", 0.0, 1.5, "how soon a run must be over a line for a player to pull up before it"),
)
