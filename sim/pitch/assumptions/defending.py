"""Details of play: players whose side has not got the ball.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter

DEFENDING: tuple[Parameter, ...] = ()
