"""What `tally` answers: every count of every evening against the forecast, and what would make the leading one usual."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from types import MappingProxyType

from sim.assumptions import OwnData
from sim.experiments.cautions import FEW_SESSIONS, STOPPED
from sim.experiments.last_line import LINE
from sim.experiments.replicate import Replication
from sim.game.model import Game
from sim.own_counts.explanations import Explained, explain
from sim.own_counts.forecast import Forecast, bouts_needed
from sim.own_counts.tally import Row, as_planned, counted, evenings
from sim.own_counts.verdict import Judged, Verdict, judge

FORMAT = 1


@dataclass(frozen=True)
class Planned:
    """A forecast that was kept at `made` (UTC), before the evening it is for."""

    made: str
    forecast: Forecast


NO_PLANS: Mapping[str, Planned] = MappingProxyType({})


@dataclass(frozen=True)
class EveningJudged:
    """The counts of one day; `changed`: what was changed in bouts that are left out, by bout (None: not numbered).

    `planned`: when the forecast was kept that these are judged by, where that was before they were counted ("": it was not).
    """

    day: str
    judged: tuple[Judged, ...]
    changed: tuple[tuple[int | None, str], ...]
    planned: str = ""


@dataclass(frozen=True)
class Answer:
    """`sessions` and `bouts` of the last evening's forecast, by the program `version` and `engine`; the earliest evening first.

    `explained`: of the leading count of the last evening, where it lies outside the usual range.  `own_data`: how much of the
    user's own counts the forecast was learned from.
    """

    format: int
    game: str
    version: str
    engine: str
    seed: int
    sessions: int
    bouts: int
    evenings: tuple[EveningJudged, ...]
    cautions: tuple[str, ...]
    explained: tuple[Explained, ...] = ()
    own_data: OwnData | None = None

    @property
    def leading(self) -> Judged | None:
        """The first count of the last evening that could be judged."""
        return leading(self.evenings[-1].judged)

    def to_json(self) -> str:
        """Strict JSON, in the order of the fields."""
        plain = asdict(self)
        for evening in plain["evenings"]:
            for one in evening["judged"]:
                one["verdict"] = one["verdict"].value
        return json.dumps(plain, indent=1, ensure_ascii=False, allow_nan=False)


def leading(judged: Sequence[Judged]) -> Judged | None:
    """The first that could be judged."""
    return next((one for one in judged if one.verdict is not Verdict.NOT_JUDGED), None)


def bouts_for(game: Game, rows: Sequence[Row]) -> int:
    """Bouts that a session of the forecast must have for every count of these rows to be held against it."""
    every = [one for own in evenings(rows).values() for one in counted(as_planned(own))]
    return max((bouts_needed(game, one.minutes, one.clock) for one in every), default=game.bouts.count)


def answered(
    game: Game,
    rows: Sequence[Row],
    found: Forecast,
    wanted: int = 0,
    planned: Mapping[str, Planned] = NO_PLANS,
    own_data: OwnData | None = None,
) -> Answer:
    """Every count against the forecast, for which so many sessions were `wanted`; nothing is explained yet.

    Evenings that were `planned` (by day) are held against their own forecast.
    """
    told = []
    for day, own in evenings(rows).items():
        plan = planned.get(day)
        by = found if plan is None else plan.forecast
        judged = tuple(judge(by, one) for one in counted(as_planned(own)))
        changed = tuple((row.bout, row.changed) for row in own if row.changed)
        told.append(EveningJudged(day, judged, changed, "" if plan is None else plan.made))
    made = found.made
    return Answer(
        FORMAT,
        game.title,
        str(made["version"]),
        found.engine,
        int(made["seed"]),
        found.sessions,
        found.bouts,
        tuple(told),
        cautions_of(found, wanted),
        own_data=own_data,
    )


def cautions_of(found: Forecast, wanted: int) -> tuple[str, ...]:
    """What must be said with an answer from this forecast; the general line comes last."""
    told = []
    if found.sessions < wanted:
        told.append(f"{STOPPED}: {found.sessions} of {wanted} sessions were finished.")
    if found.sessions < FEW_SESSIONS:
        told.append(f"Only {found.sessions} sessions played: take the ranges as rough.")
    return (*told, LINE)


def with_reasons(found: Answer, game: Game, bouts: int, run: Replication) -> Answer:
    """The answer with what would make its leading count usual, where that lies outside its range; the game is played for it."""
    one = found.leading
    if one is None or one.verdict not in (Verdict.UNUSUAL, Verdict.EDGE):
        return found
    return replace(found, explained=tuple(explain(game, one.what, one.above, bouts, run)))
