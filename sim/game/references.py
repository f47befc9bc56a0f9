"""What one part of a game says about another: names that must exist, values that must fit together.

Two passes.  `reference_problems` looks at the short form name by name and can run on a file with holes in it;
`sim.game.playability` then asks whether the whole can be played at all.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import chain
from typing import Any

from sim.errors import any_of, nearest
from sim.game.actions import (
    AssignAction,
    CloseAction,
    OpenAction,
    PhaseAction,
    ResetAction,
    ResizeAction,
    RestartAction,
    ScoreAction,
    SwapAction,
    WindowAction,
    verb_of,
)
from sim.game.area_places import area_problems, metres_problems
from sim.game.bounds import (
    FURTHEST_M,
    HIGHEST_GOAL_M,
    LONGEST_SIDE_M,
    MOST_OF_ONE,
    MOST_PLAYERS,
    NARROWEST_GOAL_M,
)
from sim.game.bouts_spec import BoutsSpec
from sim.game.colours import colour_problems, side_or_colour
from sim.game.counting import STEPS, TOLD_APART, condition_problems, counter_problems, counter_rule_problems
from sim.game.gates import gate_problems, win_problems
from sim.game.layout import area_of
from sim.game.limits import limit_problems
from sim.game.loads import load_problems
from sim.game.messages import Problem, broken, show, unknown
from sim.game.resizing import resize_named
from sim.game.resolve import restarts, turned
from sim.game.restart_places import restart_place_problems
from sim.game.roster import called, head_count, roster, sides_of
from sim.game.spec import GameSpec, RuleSpec, WinSpec
from sim.game.trials import trial_problems
from sim.game.zoning import aim_problems, turning_problems, zone_problems

# A timer that rings at once could keep two phases turning into each other for ever.
SHORTEST_TIMER_S = 1.0
MOST_POINTS = 100.0
RESERVED_SIDES = ("other", "same", "loser", "winner", "any", "holder", "team")
RESERVED_PLACES = ("active", "home")
RESTART_PLACES = (*RESERVED_PLACES, "across")
RESTART_SIDES = ("other", "same", "loser", "winner")
COUNTERS = ("passes", "wins")
NEVER_LOST_BY = {"misplaced"}
"""Causes that older files name and no loss in play has."""


def _reserved(table: str, names: Iterable[str], words: tuple[str, ...]) -> Iterator[Problem]:
    for name in names:
        if name in words:
            yield broken(f"{table}.{name}", f"have another name: {any_of(words, 'and')} are words of the rules", name)


def _names(spec: GameSpec) -> Iterator[Problem]:
    yield from _reserved("areas", spec.areas, RESTART_PLACES)
    yield from _reserved("teams", spec.teams, RESERVED_SIDES)


def _many(spec: GameSpec) -> Iterator[Problem]:
    """More than anybody can lay out or be told: looked at before anything is listed player by player."""
    if (players := head_count(spec)) > MOST_PLAYERS:
        yield broken("roles", f"hold at most {MOST_PLAYERS} players in all", players)
    if (rules := sum(len(phase.rules) for phase in spec.phases.values())) > MOST_OF_ONE:
        yield broken("phases", f"hold at most {MOST_OF_ONE} rules in all", rules)


def _goals(spec: GameSpec, sides: list[str]) -> Iterator[Problem]:
    for name, goal in spec.goals.items():
        path = f"goals.{name}"
        yield from metres_problems(f"{path}.width", goal.width, spec.units, NARROWEST_GOAL_M, LONGEST_SIDE_M)
        yield from metres_problems(f"{path}.height", goal.height, spec.units, NARROWEST_GOAL_M, HIGHEST_GOAL_M)
        yield from metres_problems(f"{path}.distance", goal.distance, spec.units)
        for value in goal.centre or ():
            yield from metres_problems(f"{path}.centre", value, spec.units, -FURTHEST_M)
        if (goal.at is None) == (goal.centre is None):
            got = "nothing" if goal.at is None else "both"
            yield Problem(path, f"must say where it stands by either at or centre (got {got})")
        if goal.at is not None and area_of(goal.at) not in spec.areas:
            yield unknown(f"{path}.at", "an area", area_of(goal.at), spec.areas)
        if goal.centre is not None and goal.end is None:
            yield Problem(f"{path}.end", "must be given with centre (got nothing)")
        if goal.end is not None and goal.centre is None:
            yield broken(f"{path}.end", "be left out where centre is not given", goal.end)
        if goal.distance is not None and goal.at is None:
            yield broken(f"{path}.distance", "be left out where at is not given", goal.distance)
        if goal.attacked_by not in (*sides, "any"):
            yield unknown(f"{path}.attacked_by", "a side", goal.attacked_by, [*sides, "any"])


def _place(spec: GameSpec, path: str, style: str, place: str) -> Iterator[Problem]:
    if style == "goal":
        if place not in spec.goals:
            yield unknown(path, "a goal to keep", place, spec.goals)
    elif style == "edge" and place in spec.zones:
        yield broken(path, "be an area, as nobody stands on the lines of a zone", place)
    elif place not in (*spec.areas, *spec.zones, *RESERVED_PLACES):
        yield unknown(path, "an area", place, [*spec.areas, *spec.zones, *RESERVED_PLACES])


def _roles(spec: GameSpec) -> Iterator[Problem]:
    for name, role in spec.roles.items():
        path = f"roles.{name}"
        if role.side in RESERVED_SIDES and role.side not in ("team", "holder"):
            yield broken(f"{path}.side", 'be "team", "holder" or a word of your own', role.side)
        yield from _place(spec, f"{path}.place", role.style, role.place)
        keeping = [phase.jobs[name].split()[0] for phase in spec.phases.values() if name in phase.jobs]
        if not role.hands and "goal" not in (role.style, *keeping):
            yield broken(f"{path}.hands", "be left out where nobody in the role keeps a goal", role.hands)
        yield from turning_problems(spec, path, role)
        for key, words in turned(role).items():
            if words is not None:
                yield from _place(spec, f"{path}.{key}", *words.split()[::2])
        if not isinstance(role.players, dict):
            if len(spec.teams) > 1:
                yield broken(f"{path}.players", f"say how many of which team ({', '.join(spec.teams)})", role.players)
        else:
            for team in role.players:
                if team not in spec.teams:
                    yield unknown(f"{path}.players.{team}", "a team", team, spec.teams)


def _players(spec: GameSpec) -> Iterator[Problem]:
    seen: dict[str, str] = {}
    numbers: dict[tuple[str, int], str] = {}
    everybody = roster(spec)
    for place in everybody:
        if place.id in seen:
            yield Problem(place.path, f"must list each player once (got {show(place.id)} in {seen[place.id]} and here)")
        elif (place.team, place.number) in numbers:
            yield broken(place.path, f"be a number that nobody else in {place.team} has", place.number)
        seen.setdefault(place.id, place.path)
        numbers.setdefault((place.team, place.number), place.id)
    for name, player in spec.players.items():
        if name not in seen:
            yield unknown(f"players.{name}", "a player", name, seen)
        ordinary = any(place.id == name == f"{place.team}-{place.number}" for place in everybody)
        if player.number is not None and ordinary:
            yield broken(
                f"players.{name}.number", "be left out, as the number stands in the name already", player.number
            )
        team = next((spec.teams.get(place.team) for place in everybody if place.id == name), None)
        yield from trial_problems(f"players.{name}", player, None if team is None else team.population)


def _pairs(spec: GameSpec) -> Iterator[Problem]:
    for name, team in spec.teams.items():
        path, ids, seen = f"teams.{name}.pairs", called(spec, name), []
        for one in chain.from_iterable(team.pairs):
            if one not in ids:
                yield broken(path, f"hold only shirt numbers or names of players of {name}", one)
            elif ids[one] in seen:
                yield broken(path, "hold each player once", one)
            else:
                seen.append(ids[one])


def _side(spec: GameSpec, path: str, side: str | None) -> Iterator[Problem]:
    known = ["holder", "winner", "loser", *sides_of(spec)]
    if side is not None and side not in known:
        yield unknown(path, "a side", side, known)


def _open(spec: GameSpec, path: str, action: OpenAction) -> Iterator[Problem]:
    yield from _side(spec, f"{path}.for", action.for_)


def _close(spec: GameSpec, path: str, action: CloseAction) -> Iterator[Problem]:
    yield from _side(spec, f"{path}.for", action.for_)


def _score(spec: GameSpec, path: str, action: ScoreAction) -> Iterator[Problem]:
    yield from _side(spec, f"{path}.to", action.to)


def _assign(spec: GameSpec, path: str, action: AssignAction) -> Iterator[Problem]:
    for where, role in ((path, action.assign), (f"{path}.from", action.from_)):
        if role is not None and role not in spec.roles:
            yield unknown(where, "a role", role, spec.roles)


def _swap(spec: GameSpec, path: str, action: SwapAction) -> Iterator[Problem]:
    for role in action.come_from:
        if role not in spec.roles:
            yield unknown(f"{path}.from", "a role", role, spec.roles)


def _window(spec: GameSpec, path: str, action: WindowAction) -> Iterator[Problem]:
    if action.of == "passes" and not action.window.is_integer():
        yield broken(path, 'be a whole number with of = "passes"', action.window)
    if not action.floaters and action.of != "passes":
        yield broken(f"{path}.floaters", 'be left out unless of = "passes"', action.floaters)


def _phase(spec: GameSpec, path: str, action: PhaseAction) -> Iterator[Problem]:
    if action.phase not in spec.phases:
        yield unknown(path, "a phase", action.phase, spec.phases)


def _restart(spec: GameSpec, path: str, action: RestartAction) -> Iterator[Problem]:
    if action.restart not in restarts(spec):
        there = unknown(path, "a restart", action.restart, restarts(spec))
        if not nearest(action.restart, restarts(spec)):
            own = f'; one of your own is made by restarts.{action.restart} = {{ to = "other" }})'
            there = Problem(path, f"{there.rule.removesuffix(')')}{own}")
        yield there


def _reset(spec: GameSpec, path: str, action: ResetAction) -> Iterator[Problem]:
    known = [*COUNTERS, STEPS, *spec.counters]
    if action.reset not in known:
        yield unknown(path, "a count", action.reset, known)


NAMED: dict[type, Callable[[GameSpec, str, Any], Iterator[Problem]]] = {
    OpenAction: _open,
    CloseAction: _close,
    ScoreAction: _score,
    AssignAction: _assign,
    PhaseAction: _phase,
    RestartAction: _restart,
    ResetAction: _reset,
    SwapAction: _swap,
    WindowAction: _window,
    ResizeAction: resize_named,
}
"""Of the consequences that name something: whether it is there."""


def _guards(path: str, rule: RuleSpec) -> Iterator[Problem]:
    counted = rule.on in (*COUNTERS, "counter", "time")
    if counted and rule.count is None:
        yield Problem(f"{path}.count", f"must be given for on = {show(rule.on)} (got nothing)")
    if not counted and rule.count is not None:
        yield broken(f"{path}.count", 'be left out unless on = "passes", "wins", "counter" or "time"', rule.count)
    if rule.on in COUNTERS and rule.count is not None and not float(rule.count).is_integer():
        yield broken(f"{path}.count", f"be a whole number for on = {show(rule.on)}", rule.count)
    if rule.on == "time" and rule.count is not None and rule.count < SHORTEST_TIMER_S:
        yield broken(f"{path}.count", f'be at least {SHORTEST_TIMER_S:g} s for on = "time"', rule.count)
    if rule.each and not counted:
        yield broken(f"{path}.each", 'be left out unless on = "passes", "wins", "counter" or "time"', rule.each)
    if rule.last_step and rule.on != "loss":
        yield broken(f"{path}.last_step", 'be left out unless on = "loss"', rule.last_step)
    if rule.causes and rule.on != "loss":
        yield broken(f"{path}.causes", 'be left out unless on = "loss"', rule.causes)
    if rule.causes and set(rule.causes) <= NEVER_LOST_BY:
        yield broken(
            f"{path}.causes", "name a cause that there is (a stray pass is lost by interception or out)", rule.causes
        )
    if rule.by is not None and rule.on == "time":
        yield broken(f"{path}.by", 'be left out where on = "time"', rule.by)


def _crossing(spec: GameSpec, path: str, rule: RuleSpec) -> Iterator[Problem]:
    """What is asked of a pass: from where to where, by whom, through which gate; and of which counter."""
    yield from condition_problems(spec, path, rule, TOLD_APART.get(rule.on, ()), "on")
    yield from counter_rule_problems(spec, path, rule)
    if rule.on == "carry" and rule.to is None:
        yield Problem(f"{path}.to", 'must be given for on = "carry" (got nothing)')
    if rule.on == "transfer" and rule.from_ is not None and rule.from_ == rule.to:
        yield broken(f"{path}.to", "be another area than that of from", rule.to)


def _phases(spec: GameSpec, sides: list[str]) -> Iterator[Problem]:
    for name, phase in spec.phases.items():
        path = f"phases.{name}"
        if phase.ball_in not in (*spec.areas, "active"):
            yield unknown(f"{path}.ball_in", "an area", phase.ball_in, [*spec.areas, "active"])
        yield from aim_problems(spec, f"{path}.aims", phase, sides)
        for role, words in phase.jobs.items():
            if role not in spec.roles:
                yield unknown(f"{path}.jobs.{role}", "a role", role, spec.roles)
            style, _, place = words.split()
            yield from _place(spec, f"{path}.jobs.{role}", style, place)
        for rule_name, rule in phase.rules.items():
            rule_path = f"{path}.rules.{rule_name}"
            yield from _guards(rule_path, rule)
            if rule.by is not None and rule.by not in sides:
                yield side_or_colour(spec, f"{rule_path}.by", rule.by, sides, f'for a colour: colour = "{rule.by}"')
            yield from _crossing(spec, rule_path, rule)
            for action in rule.do:
                if type(action) in NAMED:
                    yield from NAMED[type(action)](spec, f"{rule_path}.do.{verb_of(action)}", action)


def _restarts(spec: GameSpec, sides: list[str]) -> Iterator[Problem]:
    for name, restart in spec.restarts.items():
        if restart.to not in (*sides, *RESTART_SIDES):
            yield unknown(f"restarts.{name}.to", "a side", restart.to, [*sides, *RESTART_SIDES])
        if restart.area not in (*spec.areas, *RESTART_PLACES):
            known = [*spec.areas, *RESTART_PLACES]
            yield unknown(f"restarts.{name}.area", "an area", restart.area, known)
        if restart.area == "across" and len(spec.areas) != 2:
            yield broken(f"restarts.{name}.area", "be an area by name unless there are two", restart.area)
        if restart.role is not None and restart.role not in spec.roles:
            yield unknown(f"restarts.{name}.role", "a role", restart.role, spec.roles)
        yield from restart_place_problems(spec, f"restarts.{name}", restart)


def _start(spec: GameSpec, sides: list[str]) -> Iterator[Problem]:
    start = spec.start
    for name, team in spec.teams.items():
        if team.home is not None and team.home not in spec.areas:
            yield unknown(f"teams.{name}.home", "an area", team.home, spec.areas)
    if start.side not in sides:
        yield unknown("start.side", "a side with players", start.side, sides)
    for side, points in start.points.items():
        if side not in sides:
            yield unknown(f"start.points.{side}", "a side with players", side, sides)
        elif not 0 <= points <= MOST_POINTS:
            yield broken(f"start.points.{side}", f"be 0 to {MOST_POINTS:g}", points)
        elif spec.bouts.first_to is not None and points >= spec.bouts.first_to:
            yield broken(f"start.points.{side}", f"be less than bouts.first_to, {spec.bouts.first_to:g}", points)
    if start.phase is not None and start.phase not in spec.phases:
        yield unknown("start.phase", "a phase", start.phase, spec.phases)
    if start.area is not None and start.area not in spec.areas:
        yield unknown("start.area", "an area", start.area, spec.areas)


def _bouts(bouts: BoutsSpec) -> Iterator[Problem]:
    if (bouts.minutes is None) == (bouts.seconds is None):
        got = "nothing" if bouts.minutes is None else "both"
        yield Problem("bouts", f"must give either minutes or seconds (got {got})")
    if bouts.rest_minutes is not None and bouts.rest_seconds is not None:
        yield Problem("bouts", "must give either rest_minutes or rest_seconds (got both)")


def _win(win: WinSpec) -> Iterator[Problem]:
    for key, confirm in (("seconds", "hold"), ("passes", "passes"), ("gate", "gate")):
        value = getattr(win, key)
        if win.confirm == confirm and value is None:
            yield Problem(f"win.{key}", f"must be given with confirm = {show(confirm)} (got nothing)")
        if win.confirm != confirm and value is not None:
            yield broken(f"win.{key}", f"be left out unless confirm = {show(confirm)}", value)


def reference_problems(spec: GameSpec) -> list[Problem]:
    """Every name that leads nowhere, and every value that its neighbour forbids."""
    if many := list(_many(spec)):
        return many
    sides = list(sides_of(spec))
    return list(
        chain(
            _names(spec),
            area_problems(spec),
            _goals(spec, sides),
            gate_problems(spec),
            win_problems(spec),
            zone_problems(spec),
            counter_problems(spec),
            _roles(spec),
            _players(spec),
            limit_problems(spec),
            _pairs(spec),
            _phases(spec, sides),
            colour_problems(spec),
            _restarts(spec, sides),
            _start(spec, sides),
            _bouts(spec.bouts),
            _win(spec.win),
            load_problems(spec.load, {name: team.population for name, team in spec.teams.items()}),
        )
    )
