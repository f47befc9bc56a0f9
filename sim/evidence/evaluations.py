"""Sets of constants that were played, each with its seed: remembered, and written to a checkpoint after each new one."""

from __future__ import annotations

import json
import math
import time
from collections.abc import Callable, Mapping
from dataclasses import asdict

from sim.errors import InputError
from sim.evidence import playing
from sim.evidence.conditions import SEED
from sim.evidence.fitting import Constant
from sim.evidence.targets import gaps_of, targets
from sim.experiments.digests import digest_of

CHECKPOINT = "calibration.json"
SEEDS = tuple(range(SEED, SEED + 4))
"""On which sets of constants are compared; designs are played on the first."""
Play = Callable[[Mapping[str, float], int], dict[str, float]]
"""(constants, seed) -> ours by part"""
Keep = Callable[[str], None]
Told = Callable[[int, float], None]


def engine_constants() -> tuple[Constant, ...]:
    """Every constant of the engine that has a spread, in the order of its table; pulled to what it was before the first fit."""
    from sim.pitch.assumptions import BEFORE_FIT, ENGINE

    return tuple(
        Constant(one.name, BEFORE_FIT.get(one.name, one.value), one.spread, one.low, one.high, one.value)
        for one in ENGINE
        if one.spread > 0
    )


def plausible(evaluations: object) -> bool:
    """Whether these are numbers of parts that there are, by seeds and sets of constants that there are."""
    names, parts = {one.name for one in engine_constants()}, {one.part for one in targets()}
    if not isinstance(evaluations, dict):
        return False
    try:
        for key, values in evaluations.items():
            seed, constants = json.loads(key)
            if type(seed) is not int or not set(constants) <= names or not set(values) <= parts:
                return False
            if not all(type(one) is float and math.isfinite(one) for one in constants.values()):
                return False
            if not all(type(one) in (int, float) and math.isfinite(one) for one in values.values()):
                return False
    except (ValueError, AttributeError, TypeError, RecursionError):
        return False
    return True


def key_of(constants: Mapping[str, float], seed: int) -> str:
    """A set of constants and its seed as the checkpoint names them: JSON, six digits."""
    return json.dumps([seed, {name: float(f"{value:.6g}") for name, value in sorted(constants.items())}])


class Evaluations:
    """Ours for every part by set of constants and seed."""

    def __init__(self, play: Play, keep: Keep | None = None, told: Told | None = None):
        self.play, self.keep, self.told = play, keep, told
        self.digest, self.size = playing.digest(), asdict(playing.SIZE)
        self.known: dict[str, dict[str, float]] = {}

    def gaps(self, constants: Mapping[str, float], seed: int = SEED) -> dict[str, float]:
        """The gap of every part, played where it is not known yet; nan where ours is undefined."""
        key = key_of(constants, seed)
        if key not in self.known:
            start = time.monotonic()
            self.known[key] = self.play(json.loads(key)[1], seed)
            if self.keep is not None:
                self.keep(self.as_json())
            if self.told is not None:
                self.told(len(self.known), time.monotonic() - start)
        return gaps_of(self.known[key])

    def mean_gaps(self, constants: Mapping[str, float]) -> dict[str, float]:
        """The gap of every part, averaged over `SEEDS`."""
        seen = [self.gaps(constants, seed) for seed in SEEDS]
        return {part: sum(gaps[part] for gaps in seen) / len(seen) for part in seen[0]}

    def as_json(self) -> str:
        """The checkpoint, with its checksum."""
        whole = {"digest": self.digest, "size": self.size, "evaluations": self.known}
        return json.dumps(whole | {"check": digest_of(whole)}, indent=0, allow_nan=False)

    def resume(self, text: str) -> bool:
        """Take up a checkpoint; False (and nothing taken) if it is of another engine or size.  Refuses what is no checkpoint,
        and one that is not as it was written."""
        try:
            data = json.loads(text)
            right = data.pop("check") == digest_of(data) and set(data) == {"digest", "size", "evaluations"}
        except (ValueError, AttributeError, KeyError, TypeError, RecursionError):
            right = False
        if not right or not plausible(data["evaluations"]):
            raise InputError(
                f"{CHECKPOINT} must be as a calibration wrote it (got one that is changed or broken)", "--save"
            )
        if (data["digest"], data["size"]) != (self.digest, self.size):
            return False
        self.known = data["evaluations"]
        return True
