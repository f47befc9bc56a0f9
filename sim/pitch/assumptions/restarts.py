"""Details of play: dead balls and where players stand.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter

RESTARTS: tuple[Parameter, ...] = ()
