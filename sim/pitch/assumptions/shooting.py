"""Details of play: shots, and keepers.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter

SHOOTING: tuple[Parameter, ...] = ()
