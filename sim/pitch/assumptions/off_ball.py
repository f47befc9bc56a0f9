"""Details of play: players without the ball whose side has it.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter

OFF_BALL: tuple[Parameter, ...] = ()
