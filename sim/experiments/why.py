"""`why`: which assumptions and which levers of a game move a measure, and how sure that is.

Assumptions are moved all at once in a screening design (`sim.experiments.screen`): constants of the engine by their spread, and
means of the populations by how little we know of them.  Both runs of a pair play the same sessions, so they have the same
luck and, but for what was moved, the same players.

Levers, a few things a coach can turn, are turned one at a time about the game as it is, over the same sessions too: a step of a
lever is a choice and no doubt, so it has no share in the variance, and one touch instead of two would change what the
assumptions do.

The number itself is that of the game as it is, every assumption at our best guess, over those sessions, as an estimate has it.  The
mean over the design is another: where the number answers more to a constant on one side than on the other, it lies apart.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace

import numpy as np

from sim import __version__
from sim.assumptions import NONE, Assumptions, preset
from sim.errors import InputError
from sim.evidence.published import domains
from sim.experiments.cautions import cautions_for
from sim.experiments.designs import screening_design
from sim.experiments.estimate import population_of
from sim.experiments.everyday import measure_named
from sim.experiments.executors import Workers, too_small
from sim.experiments.knobs import turned
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import Progress, play_batches, sessions_for
from sim.experiments.screen import Index, screened
from sim.experiments.sessions import Batch, SessionPlayer, session_bouts, session_counts
from sim.game.everyday import limited
from sim.game.model import Game
from sim.measures.catalogue import Ratio, can_happen, measures
from sim.measures.session_counts import SessionCounts
from sim.measures.sessions import Sessions, groups_of
from sim.measures.summary import summarise
from sim.measures.thresholds import STRICT, limits_of
from sim.pitch.assumptions import ENGINE
from sim.results import Provenance
from sim.shown import Shown

FORMAT = 3
TURNS = 24  # runs of either end of a lever
STEP = 0.1  # a size is turned by this share either way, by a whole metre at least
Load = Callable[[Sequence[str]], Game]


@dataclass(frozen=True)
class Input:
    """One thing to be moved between `low` and `high`; `place` says where: ("engine", name), ("population", whose, trait)
    or ("lever", knob).  `spread`: half the way; 0 where there is nothing to move."""

    place: tuple[str, ...]
    unit: str
    low: float
    high: float

    @property
    def spread(self) -> float:
        """Half the way."""
        return (self.high - self.low) / 2.0

    @property
    def kind(self) -> str:
        """ "play", "players" or "lever"."""
        return {"engine": "play", "population": "players", "lever": "lever"}[self.place[0]]

    @property
    def name(self) -> str:
        """What the row is called."""
        return " ".join(self.place[1:])


@dataclass(frozen=True)
class Moved:
    """One row: `change` of the measure from `low` to `high`, and the `share` of an assumption in the variance of all of them, each
    with its standard error.  A lever has no share; nor has anything when the whole is not `clear`."""

    __pydantic_config__ = STRICT

    name: str
    kind: str
    unit: str
    low: float
    high: float
    change: float
    change_se: float
    share: float | None
    share_se: float | None


@dataclass(frozen=True)
class Why(Shown):
    """`rows`: the most telling first.  `mean`: of the game as it is, as an estimate has it; `tried`: over all that was tried of the
    assumptions.  `doubt`: standard deviation of the measure by all assumptions together; `clear`: whether that stands out of the
    error of the simulation."""

    __pydantic_config__ = STRICT

    format: int
    game: str
    title: str
    population: str
    measure: str
    scope: str
    unit: str
    mean: float
    tried: float
    seed: int
    bouts: int
    runs: int
    version: str
    changes: tuple[str, ...]
    doubt: float
    clear: bool
    rows: tuple[Moved, ...]
    cautions: tuple[str, ...]
    provenance: Provenance

    def to_json(self) -> str:
        """All fields, in their order; raises `ValueError` for nan."""
        return json.dumps(asdict(self), indent=1, ensure_ascii=False, allow_nan=False)


def why(  # noqa: PLR0913 - the public face: what may be asked for by keyword
    game: Game,
    measure: str,
    scope: str = "game",
    bouts: int = 8,
    seed: int = 1,
    load: Load | None = None,
    workers: Workers = None,
    progress: Progress | None = None,
    changes: Sequence[str] = (),
    assumptions: Assumptions = NONE,
    session: SessionPlayer = session_bouts,
) -> Why:
    """Each run plays whole sessions until at least `bouts` bouts are done.

    `load` makes the game anew with more changes (None: levers are left alone).  Ctrl-C: from the pairs that are finished, if
    they are more than there are assumptions.
    """
    ratio = ratio_of(game, measure, scope)
    check(bouts, seed, workers)
    inputs, levers = inputs_of(game, assumptions), levers_of(game, load) if load else []
    design, size = screening_design([one.spread for one in inputs]), sessions_for(game, bouts)
    batches = [
        Batch(
            game,
            range(pair * size, (pair + 1) * size),
            session_counts,
            session,
            with_values(assumptions, inputs, signs),
        )
        for pair, levels in enumerate(design)
        for signs in (levels, -levels)
    ]
    batches.insert(0, Batch(game, range(TURNS * size), session_counts, session, assumptions))
    runs = len(batches)
    if load is not None:
        batches += [
            Batch(load(turns_of(game, one, sign)), range(TURNS * size), session_counts, session, assumptions)
            for one in levers
            for sign in (-1, 1)
        ]
    found = play_batches(batches, seed, workers, progress)
    values = [run_of(game, ratio, scope, list(one.values()), size) for one in found[1:runs]]
    first, second = np.array(values[::2]), np.array(values[1::2])
    if np.isfinite(first + second).sum() <= sum(one.spread > 0 for one in inputs):
        raise KeyboardInterrupt
    indices = screened(design, first, second)
    rows = [moved(one, index, indices.clear) for one, index in zip(inputs, indices.indices, strict=True)]
    ends = [(batch.game, sessions) for batch, sessions in zip(batches, found, strict=True)][runs:]
    for lever, low, high in zip(levers, ends[::2], ends[1::2], strict=True):
        rows += turned_by(lever, low, high, ratio, scope)
    every = [counts for one in found[1:runs] for counts in one.values()]
    return Why(
        format=FORMAT,
        game=game.name,
        title=game.title,
        population=population_of(game),
        measure=measure,
        scope=scope,
        unit=ratio.unit,
        mean=as_it_is(game, ratio, scope, list(found[0].values())),
        tried=float(np.nanmean(values)),
        seed=seed,
        bouts=sum(counts.bouts for one in found for counts in one.values()),
        runs=2 * indices.pairs,
        version=__version__,
        changes=tuple(changes),
        doubt=indices.sd,
        clear=indices.clear,
        rows=tuple(sorted(rows, key=lambda row: (-abs(row.change), row.name))),
        cautions=cautions_for(
            game, summarise(game, every, evidence=domains()), limits_of(game), len(every), size * (runs - 1)
        ),
        provenance=provenance_of(limits_of(game), assumptions),
    ).about(game)


def run_of(game: Game, ratio: Ratio, scope: str, every: Sequence[SessionCounts], size: int) -> float:
    """The measure in one run; nan for a run that was interrupted, and a refusal where there is nothing to divide by."""
    if len(every) < size:
        return math.nan
    top, bottom = sums_of(game, ratio, scope, every)
    if bottom.sum() <= 0:
        rule = f"{ratio.measure} must come up in every run: ask for more bouts (got a run without any)"
        raise InputError(rule, "--measure")
    return float(top.sum() / bottom.sum())


def as_it_is(game: Game, ratio: Ratio, scope: str, every: Sequence[SessionCounts]) -> float:
    """The measure of the game as it is, every assumption at our best guess."""
    if not every:
        raise KeyboardInterrupt
    return run_of(game, ratio, scope, every, len(every))


def sums_of(game: Game, ratio: Ratio, scope: str, every: Sequence[SessionCounts]) -> tuple[np.ndarray, np.ndarray]:
    """(top, bottom) of the measure by session; their quotient is in its unit."""
    sessions = Sessions(list(every))
    (group,) = [one for one in groups_of(game, sessions) if one.scope == scope]
    return ratio.top(sessions, group) * ratio.scale, ratio.bottom(sessions, group)


def turned_by(lever: Input, low: tuple[Game, dict], high: tuple[Game, dict], ratio: Ratio, scope: str) -> list[Moved]:
    """The row of a lever from the sessions that both of its ends finished, if there are two or more."""
    common = sorted(set(low[1]) & set(high[1]))
    if len(common) < 2:
        return []
    ends = [sums_of(game, ratio, scope, [every[number] for number in common]) for game, every in (low, high)]
    if min(bottom.sum() for _, bottom in ends) <= 0:
        return []
    means = [float(top.sum() / bottom.sum()) for top, bottom in ends]
    off = [(top - mean * bottom) / bottom.mean() for mean, (top, bottom) in zip(means, ends, strict=True)]
    error = float(np.std(off[1] - off[0], ddof=1)) / math.sqrt(len(common))  # of a ratio of sums, linearised
    return [Moved(lever.name, lever.kind, lever.unit, lever.low, lever.high, means[1] - means[0], error, None, None)]


def check(bouts: int, seed: int, workers: Workers) -> None:
    """Refuse what cannot be asked."""
    problems = too_small(bouts=(bouts, 1), seed=(seed, 0), workers=(workers, 1))
    if problems:
        raise InputError(problems)


def scopes_of(game: Game) -> list[str]:
    """The game, its teams and its roles."""
    return ["game", *(f"team:{team.name}" for team in game.teams), *(f"role:{role.name}" for role in game.roles)]


def asked_of(game: Game, measure: str, scope: str) -> tuple[str, str]:
    """(measure, scope) as typed: NAME with a scope, or NAME.ROLE."""
    name, dot, _ = measure.partition(".")
    if dot and scope != "game":
        raise InputError(f"must be given once, after the dot or here (got {measure} and {scope})", "--scope")
    known = [
        (ratio.measure, one)
        for ratio in measures(limits_of(game))
        if can_happen(ratio.needs, game)
        for one in scopes_of(game)
        if one.partition(":")[0] in ratio.scopes
    ]
    if dot or scope == "game":
        return measure_named(measure, game, known, "--measure")
    if scope not in scopes_of(game):
        raise InputError(f"must be one of: {', '.join(scopes_of(game))} (got {scope})", "--scope")
    return measure_named(f"{name}.{scope.partition(':')[2]}", game, known, "--measure")


def ratio_of(game: Game, measure: str, scope: str) -> Ratio:
    """The measure asked for, refused if the game does not have it, or not for that scope."""
    known = {ratio.measure: ratio for ratio in measures(limits_of(game)) if can_happen(ratio.needs, game)}
    if measure not in known:
        raise InputError(f"must name one of: {', '.join(known)} (got {measure})", "--measure")
    fit = [one for one in scopes_of(game) if one.partition(":")[0] in known[measure].scopes]
    if scope not in fit:
        raise InputError(f"must be one of: {', '.join(fit)} for {measure} (got {scope})", "--scope")
    return known[measure]


def inputs_of(game: Game, assumptions: Assumptions = NONE) -> tuple[Input, ...]:
    """The assumptions: constants of the engine, and the means of those who play; each within its range."""
    own = assumptions.constants
    found = []
    for row in ENGINE:
        value = own.get(row.name, row.value)
        ends = max(value - row.spread, row.low), min(value + row.spread, row.high)
        found.append(Input(("engine", row.name), row.unit, *ends))
    for whose in dict.fromkeys(team.population for team in game.teams):
        for name, trait in preset(whose, assumptions).traits.items():
            ends = max(trait.mean - trait.ignorance, trait.kind.low), min(trait.mean + trait.ignorance, trait.kind.high)
            found.append(Input(("population", whose, name), trait.kind.unit, *ends))
    return tuple(found)


def levers_of(game: Game, load: Load) -> list[Input]:
    """Size, touches and passes asked for, where the game can do with either end."""
    length = game.area(game.start_area).length
    step = max(1, round(STEP * length))
    candidates = [Input(("lever", "side"), "m", round(length) - step, round(length) + step)]
    limits = {role.touches for role in limited(game)}
    if len(limits) == 1 and (limit := limits.pop()) is not None:
        candidates.append(Input(("lever", "touches"), "1", max(1, limit - 1), limit + 1))
    counts = {rule.count for phase in game.phases for rule in phase.rules if rule.on == "passes"}
    if len(counts) == 1 and (count := counts.pop()) is not None:
        candidates.append(Input(("lever", "passes"), "1", max(1, count - 1), count + 1))
    return [one for one in candidates if all(accepted(load, turns_of(game, one, sign)) for sign in (-1, 1))]


def accepted(load: Load, changes: Sequence[str]) -> bool:
    """Whether the game can have these changes."""
    try:
        load(changes)
    except InputError:
        return False
    return True


def turns_of(game: Game, one: Input, sign: int) -> list[str]:
    """The changes of the game's file that put a lever at its low or high end."""
    return turned(game, one.place[1], int(one.high if sign > 0 else one.low))


def with_values(assumptions: Assumptions, inputs: Sequence[Input], signs: Sequence[int]) -> Assumptions:
    """These assumptions with constants and means at their low or high ends."""
    engine = dict(assumptions.engine)
    people = {(whose, trait, number): value for whose, trait, number, value in assumptions.populations}
    for one, sign in zip(inputs, signs, strict=True):
        value = one.high if sign > 0 else one.low
        if one.place[0] == "engine" and sign:
            engine[one.place[1]] = value
        elif one.place[0] == "population" and sign:
            _, whose, trait = one.place
            people[whose, trait, "mean"] = value
    populations = tuple(sorted((*key, value) for key, value in people.items()))
    return replace(assumptions, engine=tuple(sorted(engine.items())), populations=populations)


def moved(one: Input, index: Index, clear: bool) -> Moved:
    """From an index, whose effect is that of half the way."""
    shares = (index.share, index.share_se) if clear or one.spread == 0 else (None, None)
    return Moved(one.name, one.kind, one.unit, one.low, one.high, 2 * index.effect, 2 * index.effect_se, *shares)
