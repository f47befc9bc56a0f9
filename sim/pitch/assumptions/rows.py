"""How a row of the engine's table is written: a judgement of ours, which has no source."""

from __future__ import annotations

from sim.parameters import Parameter


def judgement(name: str, value: float, unit: str, low: float, high: float, note: str) -> Parameter:
    """A judgement with the range we would defend; we are unsure of it by a quarter of that range."""
    return Parameter(name, value, unit, (high - low) / 4.0, low, high, "judgement", note)


def held(name: str, value: float, unit: str, low: float, high: float, note: str) -> Parameter:
    """A judgement that may be replaced between low and high, and that no search or screening varies (spread 0)."""
    return Parameter(name, value, unit, 0.0, low, high, "judgement", note)
