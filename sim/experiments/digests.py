"""A digest of plain values and arrays: under what sessions and runs are kept, and whether they are as they were written."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping

import numpy as np


def digest_of(plain: object, arrays: Mapping[str, np.ndarray] | None = None) -> str:
    """SHA-256 (hexadecimal) of a value as JSON, keys in order, and of arrays by name with their type, shape and bytes.

    Raises `ValueError` for nan, which JSON does not know.
    """
    total = hashlib.sha256(json.dumps(plain, sort_keys=True, allow_nan=False).encode())
    for name, one in sorted((arrays or {}).items()):
        total.update(f"{name} {one.dtype.str} {one.shape} ".encode() + np.ascontiguousarray(one).tobytes())
    return total.hexdigest()
