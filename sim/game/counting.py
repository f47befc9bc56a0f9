"""Gates, counters and what is asked of a pass, as people write them, and whether it all fits together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Literal

from pydantic import Field

from sim.errors import any_of
from sim.game.counters import ANY_GATE, Conditions, Counted, Reset, Way
from sim.game.messages import Problem, broken, show, unknown
from sim.game.values import Centre, Name, SpecTable

TOLD_APART = {
    "pass": ("from", "to", "by_role", "to_role", "through", "other_gate", "first_time", "not_back"),
    "carry": ("to", "by_role"),
    "transfer": ("from", "to"),
    "foul": ("from", "by_role", "to_role"),
}
"""By the event of a rule: which conditions have a meaning."""
COUNTED_APART = {"passes": TOLD_APART["pass"], "wins": ("by_role",), "touches": ("by_role",)}
"""By what a counter counts: which conditions have a meaning."""
STEPS = "steps"  # what a rule may set back beside counts: where everybody stands on the ladder of touches
SHORTEST_S = 1.0  # of a count of seconds: as for the timers of a phase
IN_A_ROW = (
    "passes",
    "touches",
    "seconds",
)  # counted for a side these begin anew as it loses the ball, unless it is said


class ConditionsSpec(SpecTable):
    """What has to be true of a pass (some also of a carry, a transfer, a win or a touch)."""

    from_: Name | None = Field(
        default=None,
        alias="from",
        description="transfer, pass: only if played from this area (pass: or zone); foul: only in this area or zone.",
    )
    to: Name | None = Field(
        default=None,
        description="transfer: only if played to this area; pass: only if received in it (or in this zone); carry: the area or "
        "zone it is carried into.",
    )
    by_role: Name | None = Field(
        default=None,
        description="pass, carry, foul; counters of passes, wins, touches: only if a player in this role did it.",
    )
    to_role: Name | None = Field(
        default=None, description="pass: only if a player in this role received it; foul: only if one was fouled."
    )
    through: Name | None = Field(default=None, description='pass: only if it went through this gate, or "any".')
    other_gate: bool = Field(
        default=False,
        description="pass, with through: not through the gate that the side's last pass through any gate went through.",
    )
    first_time: bool = Field(default=False, description="pass: only if played with the first touch.")
    not_back: bool = Field(
        default=False, description="pass: only if not straight back to the player the passer had it from."
    )


class CounterSpec(ConditionsSpec):
    """A count of your own, for rules with on = "counter"."""

    of: Counted = Field(
        description="passes: completed; wins: balls won; touches: of the ball; balls: brought into play; seconds: with the "
        "ball in play (and in the side's possession, where each side has its own count)."
    )
    start: int = Field(default=0, ge=0, le=1000, description="What it begins with. Legal 0 to 1000.")
    resets: list[Reset] | None = Field(
        default=None,
        description="What sets it back to start: loss (its side loses the ball; of one count for both, either), out (the ball "
        "goes out), score (points are given), phase (a phase begins). [] never. Default loss for passes, touches and seconds of "
        "a side, else never.",
    )
    scope: Literal["side", "bout"] = Field(
        default="side", description="side: each side has its own count; bout: one count for both."
    )


class GateSpec(SpecTable):
    """A gap between two cones on the ground: `within` an area (in its middle) or at its `centre`."""

    within: Name | None = Field(default=None, description="The area in whose middle it stands.")
    centre: Centre = None
    width: float = Field(
        default=2.0, gt=0, description="Between the cones. Unit: the file's. Default 2. Legal 0.5 to 150 m."
    )
    way: Way = Field(default="west-east", description="Along which way a ball goes through it, in either direction.")


def conditions_of(spec: ConditionsSpec) -> dict[str, Any]:
    """What is asked, by the names of `sim.game.counters.Conditions`."""
    renamed = {"from_area": "from_", "to_area": "to"}
    return {name: getattr(spec, renamed.get(name, name)) for name in Conditions.model_fields}


def resets_of(spec: CounterSpec) -> tuple[Reset, ...]:
    """What sets a counter back: as written, else as is usual for what it counts."""
    if spec.resets is not None:
        return tuple(dict.fromkeys(spec.resets))
    return ("loss",) if spec.of in IN_A_ROW and spec.scope == "side" else ()


def asked(spec: ConditionsSpec) -> dict[str, Any]:
    """The conditions that are written, by their keys."""
    found = {("from" if key == "from_" else key): getattr(spec, key) for key in ConditionsSpec.model_fields}
    return {key: value for key, value in found.items() if value not in (None, False)}


def condition_problems(
    spec: Any, path: str, one: ConditionsSpec, meant: tuple[str, ...], unless: str
) -> Iterator[Problem]:
    """Conditions that mean nothing here, lead nowhere or rule each other out; `unless`: where they would mean something, by key."""
    written = asked(one)
    for key, value in written.items():
        if key not in meant:
            yield broken(f"{path}.{key}", f"be left out unless {unless_of(key, unless)}", value)
    zones = spec.zones if unless == "of" or meant != TOLD_APART["transfer"] else {}
    places = {**spec.areas, **zones}
    known: Mapping[str, Mapping] = {
        "from": places, "to": places, "by_role": spec.roles, "to_role": spec.roles, "through": spec.gates,
    }  # fmt: skip
    where = "an area or a zone" if zones else "an area"
    named = {"from": where, "to": where, "by_role": "a role", "to_role": "a role", "through": "a gate"}
    for key, names in known.items():
        value = written.get(key)
        if value is None or key not in meant or (key == "through" and value == ANY_GATE and names):
            continue
        if value not in names:
            yield unknown(f"{path}.{key}", named[key], value, [*names, *([ANY_GATE] if key == "through" else [])])
    if one.other_gate and one.through is None and "through" in meant:
        yield broken(f"{path}.other_gate", "be left out where through is not given", True)
    if one.other_gate and one.through is not None and len(spec.gates) == 1:
        yield broken(f"{path}.other_gate", "be left out where there is only one gate", True)


def unless_of(key: str, counted: str) -> str:
    """Where a condition has a meaning: ``on = "pass" or "carry"``, or of a counter, ``of = "passes"``."""
    table, word = (COUNTED_APART, "of") if counted == "of" else (TOLD_APART, "on")
    order = ("transfer", "pass", "carry", "foul") if word == "on" else tuple(COUNTED_APART)
    return f"{word} = {any_of([show(one) for one in order if key in table[one]])}"


def counter_problems(spec: Any) -> Iterator[Problem]:
    """What is wrong with the counters and with the rules that ask for one."""
    for name, counter in spec.counters.items():
        path = f"counters.{name}"
        if name in ("passes", "wins", STEPS):
            yield broken(path, "have another name: passes, wins and steps are words of the rules", name)
        meant = COUNTED_APART.get(counter.of, ())
        yield from condition_problems(spec, path, counter, meant, "of")
    heard = {rule.counter for phase in spec.phases.values() for rule in phase.rules.values()}
    for name in spec.counters:
        if name not in heard:
            yield Problem(f"counters.{name}", 'must be asked for by a rule with on = "counter" (got none)')


def _at_once(spec: Any, path: str, rule: Any, of: str) -> Iterator[Problem]:
    """A ball that is served is a ball, and its first touch a touch: a new one for it at once would be one for ever."""
    for action in rule.do:
        restart = spec.restarts.get(getattr(action, "restart", None))
        if restart is not None and restart.seconds < SHORTEST_S:
            must = f"be a restart after at least {SHORTEST_S:g} s, as a served ball counts among the {of}"
            yield broken(f"{path}.do.restart", must, f"{action.restart}, after {restart.seconds:g} s")


def counter_rule_problems(spec: Any, path: str, rule: Any) -> Iterator[Problem]:
    """What is wrong with the counter a rule asks for."""
    if rule.on != "counter":
        if rule.counter is not None:
            yield broken(f"{path}.counter", 'be left out unless on = "counter"', rule.counter)
        return
    if rule.counter is None:
        yield Problem(f"{path}.counter", 'must be given for on = "counter" (got nothing)')
        return
    if rule.counter not in spec.counters:
        yield unknown(f"{path}.counter", "a counter", rule.counter, spec.counters)
        return
    counter = spec.counters[rule.counter]
    if rule.count is not None and not rule.each and rule.count <= counter.start:
        yield broken(f"{path}.count", f"be more than counters.{rule.counter}.start, {counter.start}", rule.count)
    if rule.count is not None and counter.of != "seconds" and not float(rule.count).is_integer():
        yield broken(f"{path}.count", f"be a whole number, as {rule.counter} counts {counter.of}", rule.count)
    if rule.count is not None and counter.of == "seconds" and rule.count < SHORTEST_S:
        yield broken(f"{path}.count", f"be at least {SHORTEST_S:g} s, as {rule.counter} counts seconds", rule.count)
    if counter.of in ("touches", "balls"):
        yield from _at_once(spec, path, rule, counter.of)
    if rule.by is not None and counter.scope == "bout":
        yield broken(f"{path}.by", f"be left out, as counters.{rule.counter} is one count for both sides", rule.by)
