"""Details of play: runs and tiring.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter

RUNNING: tuple[Parameter, ...] = ()
