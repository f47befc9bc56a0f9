"""The table of all evidence: every measurement and direction, ours beside it, inside or outside.

`compare` plays every condition that the tables ask for and holds every line against its criterion; nothing here knows a single
row by name.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from sim.errors import InputError
from sim.evidence import criteria, tables
from sim.evidence.conditions import Condition, constants_of, game_of
from sim.evidence.measures import change, estimate, interval
from sim.evidence.observations import Observations, Question, observe
from sim.evidence.tables import Direction, Part
from sim.experiments.executors import Workers, standing
from sim.experiments.replicate import Progress

SMALL = 6  # the smaller size plays one session in so many
LEAST = 6  # sessions, but never fewer than this
NO_MEASURE = "not measured in this version"
NOTHING = "nothing of the kind happened"
NAN = math.nan


@dataclass(frozen=True)
class Line:
    """One line of the table.  `verdict`: "inside", "outside" or "" (none); `level` is that of the interval, in per cent.

    For a direction `ours` is the change from A to B (relative, or in points), for "below" and "within" the value itself.
    `left_out` is ours with the constants of the fit that did not see the line's study, and its own verdict.
    """

    row: str
    part: str
    kind: str  # "measurement" | "direction"
    mark: str  # a measurement's mark, a direction's strength
    what: str
    unit: str
    published: str
    spread: str
    ours: float
    error: float
    low: float
    high: float
    level: int
    wanted: str
    verdict: str
    left_out: float
    left_out_verdict: str
    sessions: int
    source: str
    note: str


def verdict_word(found: bool | None) -> str:
    """The verdict as the table writes it; nothing where there is none."""
    return "" if found is None else "inside" if found else "outside"


def sessions_of(full: int, size: str) -> int:
    """Sessions of a condition in a table of this size, "full" or "small"."""
    return full if size == "full" else min(full, max(LEAST, -(-full // SMALL)))


def condition_of(part: Part) -> Condition:
    """The condition in which a part is played."""
    return Condition(part.game, part.changes, part.population)


def conditions_of(row: Direction) -> tuple[Condition, Condition]:
    """Conditions A and B of a direction."""
    constants = constants_of(row.assumptions)
    return (
        Condition(row.game_a, row.changes_a, row.population, constants),
        Condition(row.game_b, row.changes_b, row.population, constants),
    )


def measures_of(row: Direction) -> tuple[str, str]:
    """What is measured in A and in B."""
    first, _, second = row.measure.partition(">")
    return first, second or first


class Wanted:
    """Collects what has to be played: sessions and questions of each condition, and the conditions that cannot be."""

    def __init__(self, size: str, constants: Mapping[str, float]):
        self.size, self.constants = size, dict(constants)
        self.conditions: dict[Condition, tuple[int, dict[Question, None]]] = {}
        self.refused: dict[Condition, str] = {}

    def ask(self, condition: Condition, sessions: int, measure: str, scope: str) -> None:
        """Note a question; a game that cannot be loaded is refused, with the first line of why."""
        condition = condition.with_constants(self.constants) if self.constants else condition
        if condition in self.refused:
            return
        try:
            game_of(condition)
        except InputError as error:
            self.refused[condition] = str(error).splitlines()[0]
            return
        before, questions = self.conditions.get(condition, (0, {}))
        questions[measure, scope] = None
        self.conditions[condition] = (max(before, sessions_of(sessions, self.size)), questions)

    def plan(self) -> dict[Condition, tuple[int, tuple[Question, ...]]]:
        """(sessions, questions) of every condition to be played."""
        return {condition: (sessions, tuple(questions)) for condition, (sessions, questions) in self.conditions.items()}


@dataclass(frozen=True)
class Found:
    """Answers by condition; `constants` were laid over every condition's own."""

    size: str
    constants: Mapping[str, float]
    answers: Mapping[Condition, Observations]
    refused: Mapping[Condition, str]

    def values(self, condition: Condition, sessions: int, measure: str, scope: str) -> tuple[list, str]:
        """(per session, why there are none)."""
        condition = condition.with_constants(self.constants) if self.constants else condition
        if condition in self.refused:
            return [], self.refused[condition]
        values = self.answers[condition].get((measure, scope), [])
        return values[: sessions_of(sessions, self.size)], "" if values else NO_MEASURE


def ask_all(wanted: Wanted, parts: tuple[Part, ...], rows: tuple[Direction, ...]) -> None:
    """Note the questions of all these parts and directions."""
    for part in parts:
        if part.game:
            wanted.ask(condition_of(part), part.sessions, part.measure, part.scope)
    for row in rows:
        for condition, measure, scope in zip(
            conditions_of(row), measures_of(row), (row.scope_a, row.scope_b), strict=True
        ):
            wanted.ask(condition, row.sessions, measure, scope)


def play_all(
    workers: Workers,
    size: str,
    parts: tuple[Part, ...],
    rows: tuple[Direction, ...] = (),
    constants: Mapping[str, float] | None = None,
    progress: Progress | None = None,
) -> Found:
    """Play what these parts and directions ask for."""
    wanted = Wanted(size, constants or {})
    ask_all(wanted, parts, rows)
    return Found(size, constants or {}, observe(wanted.plan(), workers, progress), wanted.refused)


def part_values(parts: tuple[Part, ...], found: Found) -> dict[str, tuple[float, float, int, str]]:
    """(value, error, sessions, why not) of every part; those made of others come after them."""
    known: dict[str, tuple[float, float, int, str]] = {}
    for part in parts:
        if part.game:
            values, why = found.values(condition_of(part), part.sessions, part.measure, part.scope)
            known[part.part] = (*estimate(part.measure, values), len(values), why)
        else:
            members = part.measure.partition(":")[2].split(",")
            sessions = min((known[name][2] for name in members if name in known), default=0)
            known[part.part] = (*composed(part.measure, known), sessions, "")
    return known


def composed(measure: str, known: Mapping[str, tuple]) -> tuple[float, float]:
    """Value and error of a line made of others' values (independent conditions)."""
    kind, _, rest = measure.partition(":")
    if kind not in ("ratio", "range_over_mean"):
        return NAN, NAN
    pairs = [known[name][:2] for name in rest.split(",")]
    if any(math.isnan(value) for value, _ in pairs):
        return NAN, NAN
    if kind == "ratio":
        (top, top_error), (bottom, bottom_error) = pairs
        if top == 0.0 or bottom == 0.0:
            return NAN, NAN
        return top / bottom, top / bottom * math.hypot(top_error / top, bottom_error / bottom)
    values = [value for value, _ in pairs]
    high, low = (pairs[values.index(pick)][1] for pick in (max(values), min(values)))
    return criteria.range_over_mean(values), math.hypot(high, low) / (sum(values) / len(values))


def part_verdict(
    part: Part, size: str, value: float, known: Mapping, directions: Mapping[str, bool | None]
) -> bool | None:
    """Whether a part is inside; `known` are the values of all parts, `directions` the verdicts of directions."""
    kind, _, rest = part.measure.partition(":")
    if part.rule == "ascending":
        return criteria.ascending([known[name][0] for name in rest.split(",")])
    if kind == "direction":
        return criteria.together([directions[name] for name in rest.split("+")])
    return criteria.within_size(part.rule, size, value, as_number(part.published))


def as_number(text: str) -> float:
    """A published figure; nan where it is none."""
    try:
        return float(text)
    except ValueError:
        return NAN


def direction_line(row: Direction, found: Found) -> tuple[Line, bool | None]:
    """The line of a direction, and its verdict."""
    (condition_a, condition_b), (m_a, m_b) = conditions_of(row), measures_of(row)
    first, why_a = found.values(condition_a, row.sessions, m_a, row.scope_a)
    second, why_b = found.values(condition_b, row.sessions, m_b, row.scope_b)
    if row.sign in ("below", "within"):
        value, error = estimate(m_b, second)
    elif first and second:
        value, error = change((m_a, m_b), first, second, relative=row.sign != "up points")
    else:
        value, error = NAN, NAN
    why = why_a or why_b or (NOTHING if math.isnan(value) else "")
    low, high = interval(value, error, len(second), 0.99)
    reproduced = criteria.reproduced(row.sign, row.size, low, high) if row.counts else None
    published = "" if row.counts else "not settled"
    line = Line(
        row.row, row.row, "direction", row.strength, f"{row.claim} [{row.measure}]", "", published, "", value, error,
        low, high, 99, f"{row.sign} {row.size}", verdict_word(reproduced), NAN, "", len(second), row.source, why,
    )  # fmt: skip
    return line, reproduced


def lines_of(found: Found, left_out: Mapping[str, Found] | None = None) -> list[Line]:
    """All lines; `left_out` by measurement: what was found with the fit that did not see its study."""
    directed = [direction_line(row, found) for row in tables.directions()]
    verdicts = {line.row: verdict for line, verdict in directed}
    by_id = {one.id: one for one in tables.measurements()}
    known = part_values(tables.parts(), found)
    blind = {study: part_values(tables.parts(), one) for study, one in (left_out or {}).items()}
    lines = []
    for part in tables.parts():
        about = by_id[tables.rows_of(part)[0]]
        value, error, sessions, why = known[part.part]
        low, high = interval(value, error, sessions, 0.95)
        other, other_verdict = NAN, ""
        if about.id in blind:
            other = blind[about.id][part.part][0]
            size = part.size_left_out or part.size
            other_verdict = verdict_word(part_verdict(part, size, other, blind[about.id], verdicts))
        name = f"{about.quantity}, {about.format}" if part.part == part.row else f"{part.part.partition(' ')[2]}"
        lines.append(
            Line(
                part.row,
                part.part,
                "measurement",
                tables.mark_of(part),
                name or part.part,
                about.unit,
                part.published,
                about.spread,
                value,
                error,
                low,
                high,
                95,
                f"{part.rule} {part.size}".strip(),
                verdict_word(part_verdict(part, part.size, value, known, verdicts)),
                other,
                other_verdict,
                sessions,
                about.source,
                "; ".join(one for one in (why, part.note) if one),
            )  # fmt: skip
        )
    return lines + [line for line, _ in directed]


@dataclass(frozen=True)
class Count:
    """How many rows have a verdict, and how many of them are inside."""

    inside: int
    assessed: int


def rows_verdicts(lines: list[Line]) -> dict[str, str]:
    """The verdict of every row: outside when one of its parts is."""
    found: dict[str, list[bool | None]] = {}
    for line in lines:
        found.setdefault(line.row, []).append({"inside": True, "outside": False}.get(line.verdict))
    return {row: verdict_word(criteria.together(verdicts)) for row, verdicts in found.items()}


def count(lines: list[Line], kind: str, marks: tuple[str, ...]) -> Count:
    """Rows of a kind with one of these marks: inside, and with a verdict."""
    verdicts = rows_verdicts(lines)
    rows = {line.row for line in lines if line.kind == kind and line.mark in marks}
    return Count(sum(verdicts[row] == "inside" for row in rows), sum(verdicts[row] != "" for row in rows))


def compare(
    size: str = "full",
    workers: Workers = None,
    progress: Progress | None = None,
    left_out: Mapping[str, Mapping[str, float]] | None = None,
) -> list[Line]:
    """Play everything and hold it against the criteria.

    `left_out`: by study (its measurements joined by spaces), the constants of its refit.
    """
    with standing(workers) as executor:
        found = play_all(executor, size, tables.parts(), tables.directions(), progress=progress)
        blind: dict[str, Found] = {}
        for study, constants in (left_out or {}).items():
            own = tuple(part for part in tables.parts() if set(tables.rows_of(part)) <= set(study.split()))
            again = play_all(executor, size, own, constants=constants, progress=progress)
            everything = Found(size, constants, _filled(again.answers, constants), again.refused)
            blind |= {number: everything for number in study.split()}
        return lines_of(found, blind)


def _filled(answers: Mapping[Condition, Observations], constants: Mapping[str, float]) -> dict[Condition, Observations]:
    """With nothing for the conditions of other studies."""
    empty: dict[Condition, Observations] = {
        condition_of(part).with_constants(constants): {} for part in tables.parts() if part.game
    }
    return empty | dict(answers)
