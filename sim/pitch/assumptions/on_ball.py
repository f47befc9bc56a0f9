"""Details of play: the player with the ball: how he sees, plays and carries it.  All judgements that no search varies."""

from __future__ import annotations

from sim.parameters import Parameter

ON_BALL: tuple[Parameter, ...] = ()
