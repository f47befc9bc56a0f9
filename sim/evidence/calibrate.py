"""The calibration anyone can rerun: at most eight constants, searched so that the fitted rows fit, and what that leaves open.

Everything is played by typical players with common random numbers, so that two sets of constants differ by the
constants alone; the reference table is then made with drawn players and fresh constants.  Every evaluation is kept in a
checkpoint (`calibration.json`), by its constants: an interrupted run picks up where it was, and the refits that leave out a
study use the same evaluations.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path

import numpy as np

from sim.errors import InputError
from sim.evidence import criteria
from sim.evidence.conditions import TYPICAL_PLAYERS, Condition
from sim.evidence.fitting import Constant, Fit, Profile, known, profile, promising, search
from sim.evidence.observations import Question, observe
from sim.evidence.reference_table import digest
from sim.evidence.table import Found, condition_of, part_values
from sim.evidence.tables import Part, mark_of, parts, rows_of
from sim.experiments.designs import effects, plackett_burman
from sim.experiments.digests import digest_of
from sim.experiments.executors import Workers

MOST = 8
CHECKPOINT = "calibration.json"
SESSIONS, PASSING_SESSIONS = 4, 16  # an condition, of distances and of passes: about 5 s an evaluation on two cores
STUDIES = ("M01 M02 M03", "M04 M05 M06 M07 M08 M09 M29", "M36 M37 M38 M39")
Keep = Callable[[str], None]
Told = Callable[[int, float], None]


def fitted_parts() -> tuple[Part, ...]:
    """All parts of fitted measurements, played by typical players."""
    return tuple(
        replace(part, changes=(*part.changes, TYPICAL_PLAYERS), sessions=sessions_for(part)) if part.game else part
        for part in parts()
        if mark_of(part) == "fitted"
    )


def sessions_for(part: Part) -> int:
    """Sessions of a part in every evaluation: passes need more than distances."""
    return PASSING_SESSIONS if part.measure.startswith(("completion", "reception_to_pass")) else SESSIONS


def scale_of(part: Part) -> tuple[float, float] | None:
    """(published, size) in the part's own unit; None where no number is to be met."""
    if part.rule == "percent":
        return float(part.published), float(part.published) * float(part.size) / 100
    if part.rule == "absolute":
        return float(part.published), float(part.size)
    if part.rule == "band":
        low, high = criteria.ends(part.size)
        return (low + high) / 2, (high - low) / 2
    return None


def loss_rows(left_out: Sequence[str] = ()) -> dict[str, list[str]]:
    """The parts with a number to meet, by row; rows that speak of a measurement left out are gone."""
    found: dict[str, list[str]] = {}
    for part in fitted_parts():
        if scale_of(part) is not None and not set(rows_of(part)) & set(left_out):
            found.setdefault(part.row, []).append(part.part)
    return found


def engine_constants() -> tuple[Constant, ...]:
    """Every constant of the engine that has a spread, in the order of its table, with its default before the first fit."""
    from sim.pitch.assumptions import BEFORE_FIT, ENGINE

    return tuple(
        Constant(one.name, BEFORE_FIT.get(one.name, one.value), one.spread, one.low, one.high)
        for one in ENGINE
        if one.spread > 0
    )


def plausible(evaluations: object) -> bool:
    """Whether these are numbers of parts that there are, by sets of constants that there are."""
    names, parts_ = {one.name for one in engine_constants()}, {one.part for one in fitted_parts()}
    if not isinstance(evaluations, dict):
        return False
    try:
        return all(
            set(json.loads(key)) <= names
            and all(type(one) is float and math.isfinite(one) for one in json.loads(key).values())
            and set(values) <= parts_
            and all(type(one) in (int, float) and math.isfinite(one) for one in values.values())
            for key, values in evaluations.items()
        )
    except (ValueError, AttributeError, TypeError, RecursionError):
        return False


class Evaluations:
    """Ours for every fitted part by set of constants: remembered, and written down after each new one."""

    def __init__(
        self,
        play: Callable[[Mapping[str, float]], dict[str, float]],
        keep: Keep | None = None,
        told: Told | None = None,
    ):
        self.play, self.keep, self.told = play, keep, told
        self.digest = digest()
        self.known: dict[str, dict[str, float]] = {}
        self.fresh = 0
        self.seconds = 0.0

    def key(self, constants: Mapping[str, float]) -> str:
        """A set of constants as the checkpoint names it: JSON, six digits."""
        return json.dumps({name: float(f"{value:.6g}") for name, value in sorted(constants.items())})

    def gaps(self, constants: Mapping[str, float]) -> dict[str, float]:
        """(ours - published) / size by part, played where it is not known yet; nan where ours is undefined."""
        key = self.key(constants)
        if key not in self.known:
            import time

            start = time.monotonic()
            self.known[key] = self.play(json.loads(key))
            self.seconds = time.monotonic() - start
            self.fresh += 1
            if self.keep is not None:
                self.keep(self.as_json())
            if self.told is not None:
                self.told(len(self.known), self.seconds)
        ours = self.known[key]
        found = {}
        for part in fitted_parts():
            scale = scale_of(part)
            if scale is not None:
                value = ours.get(part.part)
                found[part.part] = math.nan if value is None else (value - scale[0]) / scale[1]
        return found

    def as_json(self) -> str:
        """The checkpoint, with its checksum."""
        whole = {"digest": self.digest, "sessions": [SESSIONS, PASSING_SESSIONS], "evaluations": self.known}
        return json.dumps(whole | {"check": digest_of(whole)}, indent=0, allow_nan=False)

    def resume(self, text: str) -> bool:
        """Take up a checkpoint; False (and nothing taken) if it is of another engine or size.  Refuses what is no checkpoint,
        and one that is not as it was written."""
        try:
            data = json.loads(text)
            right = data.pop("check") == digest_of(data) and set(data) == {"digest", "sessions", "evaluations"}
        except (ValueError, AttributeError, KeyError, TypeError, RecursionError):
            right = False
        if not right or not plausible(data["evaluations"]):
            raise InputError(
                f"{CHECKPOINT} must be as a calibration wrote it (got one that is changed or broken)", "--save"
            )
        if (data["digest"], data["sessions"]) != (self.digest, [SESSIONS, PASSING_SESSIONS]):
            return False
        self.known = data["evaluations"]
        return True


def player_of(workers: Workers) -> Callable[[Mapping[str, float]], dict[str, float]]:
    """Plays all fitted parts with these constants: values by part, those that are not defined left out."""
    wanted_parts = fitted_parts()
    conditions: dict[tuple[Condition, int], dict[Question, None]] = {}
    for part in wanted_parts:
        if part.game:
            conditions.setdefault((condition_of(part), part.sessions), {})[part.measure, part.scope] = None

    def play(constants: Mapping[str, float]) -> dict[str, float]:
        plan = {
            condition.with_constants(constants): (sessions, tuple(questions))
            for (condition, sessions), questions in conditions.items()
        }
        values = part_values(wanted_parts, Found("full", constants, observe(plan, workers), {}))
        return {name: value for name, (value, *_) in values.items() if not math.isnan(value)}

    return play


@dataclass(frozen=True)
class Screened:
    """One constant of the screening run: root of the summed squared effects, and the effect on each part (in gaps)."""

    name: str
    weight: float
    effects: dict[str, float]


def screen(evaluations: Evaluations, constants: Sequence[Constant]) -> list[Screened]:
    """All constants one spread up and down together in a two-level design: first the eight with which the fit promises to come
    furthest, in that order, then the others, the most telling first."""
    design = plackett_burman(len(constants))
    rows = loss_rows()
    names = [part for of_row in rows.values() for part in of_row]
    weight = np.array([1.0 / len(of_row) for of_row in rows.values() for _ in of_row])
    results = []
    for run in design:
        gaps = evaluations.gaps({one.name: one.value(float(level)) for one, level in zip(constants, run, strict=True)})
        results.append([known(gaps[name]) for name in names])
    found = effects(design, np.array(results))
    middle = dict(zip(names, np.mean(results, axis=0), strict=True))
    screened = [
        Screened(
            one.name, float(math.sqrt((weight * row**2).sum())), {n: float(e) for n, e in zip(names, row, strict=True)}
        )
        for one, row in zip(constants, found, strict=True)
    ]
    first = promising(middle, {one.name: one.effects for one in screened}, constants, rows, MOST)
    return sorted(screened, key=lambda one: (first.index(one.name) if one.name in first else MOST, -one.weight))


@dataclass(frozen=True)
class Calibration:
    """All that a calibration found; `left_out` by study, each with its own fit."""

    constants: tuple[str, ...]
    fit: Fit
    gaps_default: dict[str, float]
    gaps: dict[str, float]
    profile: Profile
    left_out: dict[str, Fit]


def calibrate(
    evaluations: Evaluations, constants: Sequence[Constant], budget: int, studies: Sequence[str] = STUDIES
) -> Calibration:
    """Fit to all fitted rows, look about the optimum, and refit without each study in turn (half the budget each)."""
    if len(constants) > MOST:
        raise ValueError(f"at most {MOST} constants are searched (got {len(constants)})")
    rows = loss_rows()
    fit = search(evaluations.gaps, constants, rows, budget)
    about = profile(evaluations.gaps, constants, rows, fit)
    left_out = {}
    for study in studies:
        less = loss_rows(study.split())
        left_out[study] = search(evaluations.gaps, constants, less, max(budget // 2, len(constants) + 3))
    default = {one.name: one.default for one in constants}
    return Calibration(
        tuple(one.name for one in constants),
        fit,
        evaluations.gaps(default),
        evaluations.gaps(fit.values),
        about,
        left_out,
    )


def as_json(found: Calibration) -> str:
    """Undefined gaps are null."""

    def plain(value):
        if isinstance(value, float) and math.isnan(value):
            return None
        if isinstance(value, dict):
            return {key: plain(one) for key, one in value.items()}
        if isinstance(value, (list, tuple)):
            return [plain(one) for one in value]
        return value

    return json.dumps(plain(asdict(found)), indent=1, allow_nan=False) + "\n"


def left_out_json(found: Calibration) -> str:
    """What `overload evidence` reads to show each fitted study as seen by the fit that did not see it."""
    return json.dumps({study: fit.values for study, fit in found.left_out.items()}, indent=1) + "\n"


def screening_csv(screened: Sequence[Screened]) -> str:
    """One row a constant: its weight, and its effect on each part in gaps."""
    names = list(screened[0].effects)
    lines = [",".join(["constant", "weight", *(f'"{name}"' for name in names)])]
    lines += [",".join([one.name, f"{one.weight:.4g}", *(f"{one.effects[n]:.4g}" for n in names)]) for one in screened]
    return "\n".join(lines) + "\n"


def read_screening(path: Path) -> list[str]:
    """Names of a screening run that was written, in its order."""
    return [line.split(",")[0] for line in path.read_text(encoding="utf-8").splitlines()[1:]]
