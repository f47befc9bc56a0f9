"""The calibration anyone can rerun: at most ten constants, searched so that measurements, bands and tracking fit in one loss.

The fit proposes; `sim.evidence.luck` says by a rule set beforehand whether it is more than luck.  What each fitted study looks like
to a fit that did not see it is found by refits.  All of it goes on from a checkpoint (`sim.evidence.evaluations`).
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass
from functools import partial
from typing import Any

from sim.evidence import playing
from sim.evidence.evaluations import SEEDS, Evaluations
from sim.evidence.fitting import Constant, Fit, Profile, in_force, profile, search
from sim.evidence.luck import Luck, luck_of
from sim.evidence.screening import MOST, Screened
from sim.evidence.targets import STUDIES, WEIGHTS, rows_by_kind, shares, targets
from sim.experiments.executors import Workers

FRESH_SEED = 1001  # the first that the fit has not seen
MOST_NAMED = 3  # parts named as the reason why a constant was chosen


@dataclass(frozen=True)
class Chosen:
    """A constant that was searched: what it means, the value in force, and why it (the parts it moves most, in gaps a spread)."""

    name: str
    meaning: str
    unit: str
    before: float
    spread: float
    moves: dict[str, float]


@dataclass(frozen=True)
class Refit:
    """A fit that did not see one study: its constants, and the gaps of what it did not see."""

    fit: Fit
    gaps: dict[str, float]


@dataclass(frozen=True)
class Calibration:
    """All that a calibration found; gaps with the values in force and with the fitted ones, `left_out` by study."""

    chosen: tuple[Chosen, ...]
    fit: Fit
    gaps_before: dict[str, float]
    gaps: dict[str, float]
    profile: Profile
    left_out: dict[str, Refit]
    luck: Luck

    @property
    def constants(self) -> tuple[str, ...]:
        """Their names."""
        return tuple(one.name for one in self.chosen)


def player_of(workers: Workers) -> Callable[[Mapping[str, float], int], dict[str, float]]:
    """Plays a set of constants on a seed with these workers."""
    return partial(playing.play, workers=workers)


def chosen_of(constants: Sequence[Constant], screened: Sequence[Screened]) -> tuple[Chosen, ...]:
    """What is known of each constant beforehand; one that was not screened has no reason but that it was named."""
    from sim.pitch.assumptions import ENGINE

    rows, moves = {row.name: row for row in ENGINE}, {one.name: dict(one.most(MOST_NAMED)) for one in screened}
    return tuple(
        Chosen(one.name, rows[one.name].note, rows[one.name].unit, one.now, one.spread, moves.get(one.name, {}))
        for one in constants
    )


def calibrate(
    evaluations: Evaluations,
    constants: Sequence[Constant],
    budget: int,
    fresh: int,
    screened: Sequence[Screened] = (),
    studies: Sequence[str] = STUDIES,
) -> Calibration:
    """Fit to everything, look about the optimum, refit without each study in turn (half the budget each), and play the values in
    force and the fitted ones on so many fresh seeds."""
    if len(constants) > MOST:
        raise ValueError(f"at most {MOST} constants are searched (got {len(constants)})")
    fit = search(evaluations.gaps, constants, shares(), budget, SEEDS)
    about = profile(evaluations.gaps, constants, shares(), fit, SEEDS[0])
    left_out = {}
    for study in studies:
        less = search(evaluations.gaps, constants, shares(without=study), budget // 2, SEEDS)
        gaps = evaluations.mean_gaps(less.values)
        left_out[study] = Refit(less, {part: gaps[part] for part in shares(only=study)})
    before, seeds = in_force(constants), range(FRESH_SEED, FRESH_SEED + fresh)
    pairs = [(evaluations.gaps(before, seed), evaluations.gaps(fit.values, seed)) for seed in seeds]
    return Calibration(
        chosen_of(constants, screened),
        fit,
        evaluations.mean_gaps(before),
        evaluations.mean_gaps(fit.values),
        about,
        left_out,
        luck_of(seeds, [one for one, _ in pairs], [one for _, one in pairs]),
    )


def plain(value: Any) -> Any:
    """As JSON has it: undefined is null."""
    if isinstance(value, float) and math.isnan(value):
        return None
    if isinstance(value, Mapping):
        return {key: plain(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain(one) for one in value]
    return value


def as_json(found: Calibration) -> str:
    """`fit.json`: what played, the calibration, the weights and rows of the loss, and what the rule of `sim.evidence.luck` says."""
    from sim import __version__
    from sim.provenance import engine

    mean, error = found.luck.difference
    whole = (
        {"version": __version__, "engine": engine()}
        | asdict(found)
        | {
            "weights": dict(WEIGHTS),
            "rows": rows_by_kind(),
            "verdict": {"difference": mean, "error": error, "taken": found.luck.taken},
        }
    )
    return json.dumps(plain(whole), indent=1, allow_nan=False) + "\n"


def left_out_json(found: Calibration) -> str:
    """What `overload evidence` reads to show each published study as seen by the fit that did not see it."""
    measured = {name for one in targets() if one.kind not in found.left_out for name in one.about}
    studies = {study: one.fit.values for study, one in found.left_out.items() if set(study.split()) & measured}
    return json.dumps(studies, indent=1) + "\n"
