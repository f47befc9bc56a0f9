"""What the long form of a check came to: played by command, kept in `tests/evidence/kept` beside a digest of all it hangs on."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from sim import provenance
from sim.evidence import banded

FOLDER = Path(__file__).resolve().parents[1] / "evidence" / "kept"


def digest() -> str:
    """A digest of engine, measures, evidence games and shipped games."""
    root = FOLDER.parents[2]
    games = [*(root / "scenarios").glob("*.toml"), *(root / "sim" / "evidence" / "games").glob("*.toml")]
    return banded.digest("sim.evidence.measures", [], games)


def keep(name: str, asked: Any, found: Mapping[str, Any]) -> None:
    """Write what the long form of `tests/evidence/test_NAME.py` was asked and came to."""
    FOLDER.mkdir(exist_ok=True)
    text = json.dumps({"engine": provenance.engine(), "digest": digest(), "asked": asked} | dict(found), indent=1)
    (FOLDER / f"{name}.json").write_text(text + "\n", encoding="utf-8")


def kept(name: str) -> dict[str, Any]:
    """What it came to."""
    return json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))


def require_fresh(name: str, asked: Any) -> None:
    """Fail where it was played by another engine, with other games, or was asked something else."""
    again = f"play it again: python -m tests.evidence.test_{name}"
    assert (FOLDER / f"{name}.json").exists(), again
    found = kept(name)
    assert (found["digest"], found["asked"]) == (digest(), json.loads(json.dumps(asked))), again
