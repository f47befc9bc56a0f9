"""Details of play: races to the ball, touches and tackles.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter

RACES: tuple[Parameter, ...] = ()
