"""The base of every value of a resolved game."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Frozen(BaseModel):
    """Never changes once it is made, has no unknown fields, and all its numbers are finite."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)
