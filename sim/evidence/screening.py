"""Which constants matter: all or some, moved together one spread up and down from what is in force, in a two-level design."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from sim.evidence.evaluations import Evaluations
from sim.evidence.fitting import Constant, in_force, known, promising
from sim.evidence.targets import shares
from sim.experiments.designs import effects, plackett_burman

MOST = 10  # constants that are searched


@dataclass(frozen=True)
class Screened:
    """One constant: root of the summed squared effects, weighted as in the loss, and the effect of one spread on each part (in
    gaps)."""

    name: str
    weight: float
    effects: dict[str, float]

    def most(self, many: int) -> list[tuple[str, float]]:
        """The parts that it moves most, with the effect."""
        return sorted(self.effects.items(), key=lambda one: -abs(one[1]))[:many]


def screen(evaluations: Evaluations, constants: Sequence[Constant]) -> list[Screened]:
    """First the ten with which the fit promises to come furthest, in that order, then the others, the most telling first.

    A constant that cannot go a whole spread goes as far as its limits allow, and its effect is stated for a whole one.
    """
    counted = shares()
    reach = [(max(one.z_now - 1.0, one.limits[0]), min(one.z_now + 1.0, one.limits[1])) for one in constants]
    design = plackett_burman(len(constants))
    results = []
    for run in design:
        z = [high if level > 0 else low for (low, high), level in zip(reach, run, strict=True)]
        gaps = evaluations.gaps({one.name: one.value(at) for one, at in zip(constants, z, strict=True)})
        results.append([known(gaps[part]) for part in counted])
    half = np.array([(high - low) / 2.0 for low, high in reach])
    slopes = effects(design, np.array(results)) / half[:, None]
    here = evaluations.mean_gaps(in_force(constants))
    weight = np.array(list(counted.values()))
    screened = [
        Screened(one.name, math.sqrt(float((weight * row**2).sum())), dict(zip(counted, map(float, row), strict=True)))
        for one, row in zip(constants, slopes, strict=True)
    ]
    first = promising(here, {one.name: one.effects for one in screened}, constants, counted, MOST)
    return sorted(screened, key=lambda one: (first.index(one.name) if one.name in first else MOST, -one.weight))


def as_csv(screened: Sequence[Screened]) -> str:
    """One row a constant: its weight, and its effect on each part in gaps."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["constant", "weight", *screened[0].effects])
    for one in screened:
        writer.writerow([one.name, f"{one.weight:.4g}", *(f"{effect:.4g}" for effect in one.effects.values())])
    return out.getvalue()


def read(path: Path) -> list[Screened]:
    """A screening that was written, in its order."""
    with path.open(encoding="utf-8", newline="") as file:
        _, _, *parts = next(rows := csv.reader(file))
        return [
            Screened(name, float(weight), dict(zip(parts, map(float, effects), strict=True)))
            for name, weight, *effects in rows
        ]
