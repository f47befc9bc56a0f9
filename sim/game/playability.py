"""Can it be played?  What only the whole game can show, once every name leads somewhere.

Areas that cut across each other, a side of nobody, a phase that nothing leads to, a swap between bibs.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain, combinations

from sim.game.actions import (
    AssignAction,
    CloseAction,
    EndAction,
    OpenAction,
    PhaseAction,
    RestartAction,
    ScoreAction,
    SwapAction,
    TradeAction,
    verb_of,
)
from sim.game.borders import lies_in, nested
from sim.game.bounds import FURTHEST_M
from sim.game.carrying import carrying
from sim.game.layout import lay_out
from sim.game.messages import Problem, broken, show
from sim.game.model import Area, Goal
from sim.game.partners import partners
from sim.game.resolve import restarts, start_area, start_phase
from sim.game.roster import roster, sides_of
from sim.game.spec import (
    GameSpec,
)

_TOUCHING_M = 1e-6
_SHOTS = ("goal", "save", "miss")
_HOW_OPENED = {
    what: f'by open = ["{what}"] in a phase or {{ open = "{what}" }} in a rule' for what in ("transfer", "shoot")
}
_UNLOST = ("passes", "transfer", "home", "time")  # nobody has won or lost the ball


def _rules(short: GameSpec) -> Iterator[tuple]:
    """(path, phase name, phase, rule) of every rule."""
    for name, phase in short.phases.items():
        for rule_name, rule in phase.rules.items():
            yield f"phases.{name}.rules.{rule_name}", name, phase, rule


def _actions(short: GameSpec) -> Iterator[tuple]:
    """(path, rule, action) of every consequence."""
    for path, _, _, rule in _rules(short):
        for action in rule.do:
            yield f"{path}.do.{verb_of(action)}", rule, action


def _apart(one: Area, other: Area) -> bool:
    w, s, e, n = one.bounds
    west, south, east, north = other.bounds
    slack = _TOUCHING_M
    return e <= west + slack or east <= w + slack or n <= south + slack or north <= s + slack


def _mouth(goal: Goal) -> tuple[float, float, float, float]:
    """(west, south, east, north) of the line between the posts."""
    along = goal.width / 2
    dx, dy = (0.0, along) if goal.end in ("west", "east") else (along, 0.0)
    return goal.x - dx, goal.y - dy, goal.x + dx, goal.y + dy


def _on_one_spot(one: Goal, other: Goal) -> bool:
    """Whether two mouths share more than a post."""
    w, s, e, n = _mouth(one)
    west, south, east, north = _mouth(other)
    across, along = min(e, east) - max(w, west), min(n, north) - max(s, south)
    if min(across, along) < -_TOUCHING_M:
        return False
    if (one.end in ("west", "east")) == (other.end in ("west", "east")):
        return max(across, along) > _TOUCHING_M
    crossing = abs(one.x - other.x) if one.end in ("west", "east") else abs(one.y - other.y)
    meeting = abs(one.y - other.y) if one.end in ("west", "east") else abs(one.x - other.x)
    return crossing < other.width / 2 - _TOUCHING_M and meeting < one.width / 2 - _TOUCHING_M


def _ground(short: GameSpec) -> Iterator[Problem]:
    areas, goals = lay_out(short)
    for one, other in combinations(areas, 2):
        if not (_apart(one, other) or nested(one, other)):
            rule = f"must lie apart from areas.{one.name} or wholly within it (got an overlap)"
            yield Problem(f"areas.{other.name}", rule)
    for table, laid in (("areas", areas), ("goals", goals)):
        off, furthest = max(((max(abs(one.x), abs(one.y)), one.name) for one in laid), default=(0.0, ""))
        if off > FURTHEST_M:
            rule = (
                f"must lie within {FURTHEST_M:g} metres of the middle of all areas (got {furthest}, {off:g} metres off)"
            )
            yield Problem(table, rule)
            break
    for one, other in combinations(goals, 2):
        if _on_one_spot(one, other):
            yield Problem(f"goals.{other.name}", f"must stand apart from goals.{one.name} (got the same ground)")
    by_name = {area.name: area for area in areas}
    for goal in goals:
        at = short.goals[goal.name].at
        if at is not None:
            area = by_name[at.split()[3]]
            room = area.width if goal.end in ("west", "east") else area.length
            if goal.width > room:
                yield broken(
                    f"goals.{goal.name}.width", f"be at most the end it stands on, {room:g} metres", goal.width
                )


def _people(short: GameSpec) -> Iterator[Problem]:
    sides, everybody = sides_of(short), roster(short)
    if len(sides) != 2:
        got = ", ".join(sides) if sides else "none"
        yield Problem("roles", f"must make exactly two sides, floaters not counted (got {got})")
    floaters = sum(short.roles[place.role].side == "holder" for place in everybody)
    for side, players in sides.items():
        if side == short.start.side and len(players) + floaters < 2:
            yield broken("start.side", "be a side with at least two players to pass between", side)
    for name in short.teams:
        if not any(place.team == name for place in everybody):
            yield Problem(f"teams.{name}", "must have players in some role (got none)")
    assigned = {action.assign for _, _, action in _actions(short) if isinstance(action, AssignAction)}
    for name in short.roles:
        if name not in assigned and not any(place.role == name for place in everybody):
            yield Problem(f"roles.{name}.players", "must be given, as no rule puts anybody in this role (got nothing)")


def _homes(short: GameSpec) -> Iterator[Problem]:
    """Whoever is sent home must have one."""
    everybody = roster(short)
    needed: dict[str, str] = {}
    assigned = {action.assign for _, _, action in _actions(short) if isinstance(action, AssignAction)}
    playing = [place.team for place in everybody if short.roles[place.role].side != "holder"]
    for name, role in short.roles.items():
        if role.place == "home" and role.style != "goal":
            teams = playing if name in assigned else [place.team for place in everybody if place.role == name]
            needed |= {team: f"roles.{name}.place" for team in teams}
    for name, phase in short.phases.items():
        if phase.aim == "home":
            needed |= {team: f"phases.{name}.aim" for team in playing}
        for role, words in phase.jobs.items():
            if words.split()[2] == "home" and words.split()[0] != "goal":
                needed |= {place.team: f"phases.{name}.jobs.{role}" for place in everybody if place.role == role}
    for name, restart in short.restarts.items():
        if restart.area == "home":
            needed |= {team: f"restarts.{name}.area" for team in playing}
    for team, path in needed.items():
        if short.teams[team].home is None:
            yield Problem(f"teams.{team}.home", f"must be given, as {path} is home (got nothing)")


def _path_of_phases(short: GameSpec) -> Iterator[Problem]:
    """Every phase is reached, and every phase but the first is left again."""
    leads: dict[str, set[str]] = {name: set() for name in short.phases}
    ends: set[str] = set()
    for _, name, _, rule in _rules(short):
        leads[name] |= {action.phase for action in rule.do if isinstance(action, PhaseAction)}
        if any(isinstance(action, EndAction) for action in rule.do):
            ends.add(name)
    first = start_phase(short)
    reached, waiting = set(), [first]
    while waiting:
        here = waiting.pop()
        if here not in reached:
            reached.add(here)
            waiting.extend(leads[here])
    for name in short.phases:
        if name not in reached:
            yield Problem(f"phases.{name}", f"must be reached from phases.{first} by some rule (got no way in)")
        elif name != first and not leads[name] - {name} and name not in ends:
            yield Problem(f"phases.{name}.rules", "must lead to another phase or end the bout (got no way out)")


def _opens(short: GameSpec) -> Iterator[tuple[str, str]]:
    """(path, what) wherever something is allowed."""
    for name, phase in short.phases.items():
        for what in phase.open:
            yield f"phases.{name}.open", what
    for path, _, action in _actions(short):
        if isinstance(action, OpenAction):
            yield path, action.open


def _closes(short: GameSpec) -> Iterator[tuple[str, str]]:
    """(path, what) wherever something is no longer allowed."""
    for path, _, action in _actions(short):
        if isinstance(action, CloseAction):
            yield path, action.close


def _aims(short: GameSpec) -> Iterator[Problem]:
    for path, what in chain(_opens(short), _closes(short)):
        if what == "transfer" and len(short.areas) < 2:
            yield broken(path, "be left out where there is only one area", what)
        if what == "shoot" and not short.goals:
            yield broken(path, "be left out where there are no goals", what)
    for name, phase in short.phases.items():
        if phase.aim == "goal" and not short.goals:
            yield broken(f"phases.{name}.aim", "be keep or home where there are no goals", phase.aim)
    opened = {what for _, what in _opens(short)}
    areas, _ = lay_out(short)
    for path, name, phase, rule in _rules(short):
        if rule.on == "home" and phase.aim != "home":
            yield broken(f"{path}.on", f'go with phases.{name}.aim = "home"', rule.on)
        if rule.on == "transfer" and "transfer" not in opened:
            yield broken(f"{path}.on", f"be opened first, {_HOW_OPENED['transfer']}", rule.on)
        if rule.from_ is not None and rule.to is not None:
            inner, outer = (next(area for area in areas if area.name == name) for name in (rule.to, rule.from_))
            if lies_in(inner, outer):
                yield broken(
                    f"{path}.to", f"lie outside areas.{rule.from_}, as inside it anybody may be played to", rule.to
                )
        if rule.on in _SHOTS and "shoot" not in opened:
            yield broken(f"{path}.on", f"be opened first, {_HOW_OPENED['shoot']}", rule.on)
    attackers = {goal.attacked_by for goal in short.goals.values()}
    for name, phase in short.phases.items():
        if phase.aim == "goal" and name == start_phase(short) and short.goals:
            for side in sides_of(short):
                if side == short.start.side and not attackers & {side, "any"}:
                    yield broken("start.side", f"be a side with a goal to attack, as phases.{name} asks", side)


def _consequences(short: GameSpec) -> Iterator[Problem]:
    by_bibs = [name for name, role in short.roles.items() if role.side == "team"]
    of_a_side = [name for name, role in short.roles.items() if role.side != "holder"]
    everybody = roster(short)
    for path, rule, action in _actions(short):
        if isinstance(action, SwapAction):
            if rule.on != "loss":
                yield broken(path, 'stand in a rule with on = "loss"', rule.on)
            if by_bibs:
                yield broken(
                    path, f'be left out where roles.{by_bibs[0]}.side = "team", as nobody changes bibs', action.swap
                )
        if isinstance(action, ScoreAction) and action.to in ("winner", "loser") and rule.on != "loss":
            yield broken(
                f"{path}.to", f"be holder or a side, as on = {show(rule.on)} has no winner and no loser", action.to
            )
        if isinstance(action, RestartAction) and rule.on in _UNLOST:
            to = restarts(short)[action.restart].to
            if to in ("winner", "loser"):
                rule_text = f"be a restart to a side, other or same, as on = {show(rule.on)} has no winner and no loser"
                yield broken(path, rule_text, f"{action.restart}, which goes to the {to}")
        if isinstance(action, TradeAction):
            if rule.on != "loss":
                yield broken(path, 'stand in a rule with on = "loss"', rule.on)
            counts = {team: sum(place.team == team for place in everybody) for team in short.teams}
            playing = {place.team: counts[place.team] for place in everybody if short.roles[place.role].side == "team"}
            if len(playing) != 2 or len(set(playing.values())) != 1:
                got = ", ".join(f"{team} {number}" for team, number in counts.items())
                yield Problem(path, f'must have two teams of one size whose roles have side = "team" (got {got})')
            for name in of_a_side:
                if name not in by_bibs:
                    yield broken(
                        path, f'be left out unless every role has side = "team", as roles.{name} has not', action.trade
                    )
        if isinstance(action, AssignAction):
            if action.choose == "passer and receiver" and (action.count or 0) > 2:
                yield broken(f"{path}.count", 'be at most 2 with choose = "passer and receiver"', action.count)
            anybody = list(short.roles) if action.of == "all" else of_a_side
            goes = short.roles[action.assign].side
            asked = anybody if action.from_ is None else [action.from_]
            leaves = [short.roles[name].side for name in asked if short.roles[name].side != goes]
            if leaves:
                which = "" if action.from_ is not None or action.of == "all" else ": say with from which of them change"
                yield broken(path, f"leave players on their own side{which}", f"{leaves[0]} to {goes}")
            if action.count is not None and action.count > len(everybody):
                yield broken(f"{path}.count", f"be at most the number of players, {len(everybody)}", action.count)


def _clocks(short: GameSpec) -> Iterator[Problem]:
    styles = {role.style for role in short.roles.values()}
    for name, restart in restarts(short).items():
        if restart.from_ == "keeper" and "goal" not in styles:
            yield broken(f"restarts.{name}.from", "be server or line where nobody keeps a goal", restart.from_)
    first = short.phases[start_phase(short)]
    if first.ball_in not in ("active", start_area(short)):
        yield broken("start.area", f"be {first.ball_in}, where the first phase has the ball", start_area(short))
    if short.bouts.rotate == "list":
        roles = {team: {place.role for place in roster(short) if place.team == team} for team in short.teams}
        if all(len(held) < 2 for held in roles.values()):
            got = show(short.bouts.rotate)
            yield Problem("bouts.rotate", f"must be none, as no team has two roles to move between (got {got})")


def sense(short: GameSpec) -> list[Problem]:
    """Every reason why the game as a whole cannot be played."""
    return list(
        chain(
            _ground(short),
            _people(short),
            _homes(short),
            _path_of_phases(short),
            _aims(short),
            _consequences(short),
            _clocks(short),
            carrying(short),
            partners(short),
        )
    )
