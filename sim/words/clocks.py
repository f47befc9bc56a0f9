"""The two clocks as they are said: every figure stands on one of them."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

ROLLING, WATCH = "with the ball rolling", "on the watch"
CLOCKS: Mapping[str, str] = MappingProxyType({"in play": ROLLING, "watch": WATCH})
"""By what machines call them."""
