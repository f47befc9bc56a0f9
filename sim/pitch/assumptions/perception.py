"""Details of play: what players see, and how they value a lane.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter

PERCEPTION: tuple[Parameter, ...] = ()
