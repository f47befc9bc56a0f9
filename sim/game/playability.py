"""Can it be played?  What only the whole game can show, once every name leads somewhere.

Areas that cut across each other, a side of nobody, a phase that nothing leads to, a swap between bibs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import chain, combinations
from typing import Any

from sim.errors import given
from sim.game.actions import (
    ActionSpec,
    AssignAction,
    CloseAction,
    EndAction,
    OpenAction,
    PhaseAction,
    RestartAction,
    ScoreAction,
    StepAction,
    SwapAction,
    TradeAction,
    WindowAction,
    verb_of,
)
from sim.game.aims import aimed_at
from sim.game.borders import lies_in, nested
from sim.game.bounds import FURTHEST_M
from sim.game.carry_on import carry_on_problems
from sim.game.gates import stands_in_play
from sim.game.layout import area_of, lay_out
from sim.game.limits import benches, capped
from sim.game.lines import line_problems
from sim.game.messages import Problem, broken, show
from sim.game.model import Area, Goal
from sim.game.opened import ever_open
from sim.game.opening import HOW_OPENED, opening_problems, opens
from sim.game.partners import partners
from sim.game.resizing import resize_problems
from sim.game.resolve import restarts, start_area, start_phase
from sim.game.roster import roster, sides_of
from sim.game.series import series_problems
from sim.game.spec import GameSpec, PhaseSpec, RuleSpec
from sim.game.swaps import swap_problems, team_problems, together_problems
from sim.game.windows import WINDOWS, ladder_problems, window_problems
from sim.game.zoning import zones_in_play
from sim.geometry import ROUNDING_M, gaps, is_upright

_SHOTS = ("goal", "save", "miss")
UNLOST = ("passes", "transfer", "home", "time", "pass", "carry", "counter")  # nobody has won or lost the ball


def _rules(spec: GameSpec) -> Iterator[tuple[str, str, PhaseSpec, RuleSpec]]:
    """(path, phase name, phase, rule) of every rule."""
    for name, phase in spec.phases.items():
        for rule_name, rule in phase.rules.items():
            yield f"phases.{name}.rules.{rule_name}", name, phase, rule


def _actions(spec: GameSpec) -> Iterator[tuple[str, RuleSpec, ActionSpec]]:
    """(path, rule, action) of every consequence."""
    for path, _, _, rule in _rules(spec):
        for action in rule.do:
            yield f"{path}.do.{verb_of(action)}", rule, action


def _apart(one: Area, other: Area) -> bool:
    return max(gaps(one.bounds, other.bounds)) >= -ROUNDING_M


def _on_one_spot(one: Goal, other: Goal) -> bool:
    """Whether two mouths share more than a post."""
    apart = gaps(one.mouth, other.mouth)
    if max(apart) > ROUNDING_M:
        return False
    if is_upright(one.end) == is_upright(other.end):
        return min(apart) < -ROUNDING_M
    crossing, meeting = abs(one.x - other.x), abs(one.y - other.y)
    if not is_upright(one.end):
        crossing, meeting = meeting, crossing
    return crossing < other.width / 2 - ROUNDING_M and meeting < one.width / 2 - ROUNDING_M


def _ground(spec: GameSpec) -> Iterator[Problem]:
    areas, goals = lay_out(spec)
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
    for first, second in combinations(goals, 2):
        if _on_one_spot(first, second):
            yield Problem(f"goals.{second.name}", f"must stand apart from goals.{first.name} (got the same ground)")
    by_name = {area.name: area for area in areas}
    for goal in goals:
        at = spec.goals[goal.name].at
        if at is not None:
            area = by_name[area_of(at)]
            room = area.width if is_upright(goal.end) else area.length
            if goal.width > room:
                yield broken(
                    f"goals.{goal.name}.width", f"be at most the end it stands on, {room:g} metres", goal.width
                )


def _people(spec: GameSpec) -> Iterator[Problem]:
    sides, everybody = sides_of(spec), roster(spec)
    if len(sides) != 2:
        got = ", ".join(sides) if sides else "none"
        yield Problem("roles", f"must make exactly two sides, floaters not counted (got {got})")
    floaters = sum(spec.roles[place.role].side == "holder" for place in everybody)
    for side, players in sides.items():
        if side == spec.start.side and len(players) + floaters < 2:
            yield broken("start.side", "be a side with at least two players to pass between", side)
    for name in spec.teams:
        if not any(place.team == name for place in everybody):
            yield Problem(f"teams.{name}", "must have players in some role (got none)")
    assigned = {action.assign for _, _, action in _actions(spec) if isinstance(action, AssignAction)}
    if any(capped(player) for player in spec.players.values()):
        assigned |= set(benches(spec))
    for name in spec.roles:
        if name not in assigned and not any(place.role == name for place in everybody):
            yield Problem(f"roles.{name}.players", "must be given, as no rule puts anybody in this role (got nothing)")


def _sent_home(spec: GameSpec) -> Iterator[tuple[str, str]]:
    """(team, path) wherever the file sends players of a team home."""
    everybody = roster(spec)
    assigned = {action.assign for _, _, action in _actions(spec) if isinstance(action, AssignAction)}
    playing = [place.team for place in everybody if spec.roles[place.role].side != "holder"]
    for name, role in spec.roles.items():
        if role.place == "home" and role.style != "goal":
            teams = playing if name in assigned else [place.team for place in everybody if place.role == name]
            yield from ((team, f"roles.{name}.place") for team in teams)
    for name, phase in spec.phases.items():
        if phase.aim == "home":
            yield from ((team, f"phases.{name}.aim") for team in playing if team not in phase.aims)
        yield from (
            (side, f"phases.{name}.aims.{side}")
            for side, aim in phase.aims.items()
            if aim == "home" and side in playing
        )
        for job, words in phase.jobs.items():
            if words.split()[2] == "home" and words.split()[0] != "goal":
                yield from ((place.team, f"phases.{name}.jobs.{job}") for place in everybody if place.role == job)
    for name, restart in spec.restarts.items():
        if restart.area == "home":
            yield from ((team, f"restarts.{name}.area") for team in playing)


def _homes(spec: GameSpec) -> Iterator[Problem]:
    """Whoever is sent home must have one."""
    for team, path in dict(_sent_home(spec)).items():
        if spec.teams[team].home is None:
            yield Problem(f"teams.{team}.home", f"must be given, as {path} is home (got nothing)")


def _path_of_phases(spec: GameSpec) -> Iterator[Problem]:
    """Every phase is reached, and every phase but the first is left again."""
    leads: dict[str, set[str]] = {name: set() for name in spec.phases}
    ends: set[str] = set()
    for _, name, _, rule in _rules(spec):
        leads[name] |= {action.phase for action in rule.do if isinstance(action, PhaseAction)}
        if any(isinstance(action, EndAction) for action in rule.do):
            ends.add(name)
    first = start_phase(spec)
    reached, waiting = set(), [first]
    while waiting:
        here = waiting.pop()
        if here not in reached:
            reached.add(here)
            waiting.extend(leads[here])
    for name in spec.phases:
        if name not in reached:
            yield Problem(f"phases.{name}", f"must be reached from phases.{first} by some rule (got no way in)")
        elif name != first and not leads[name] - {name} and name not in ends:
            yield Problem(f"phases.{name}.rules", "must lead to another phase or end the bout (got no way out)")


def _events(spec: GameSpec) -> Iterator[Problem]:
    """What a rule waits for can happen."""
    opened = {what for _, what in opens(spec)}
    areas = {area.name: area for area in lay_out(spec)[0]}
    for path, name, phase, rule in _rules(spec):
        if rule.on == "home" and "home" not in (phase.aim, *phase.aims.values()):
            yield broken(f"{path}.on", f'go with phases.{name}.aim = "home"', rule.on)
        if rule.on == "foul" and not spec.fouls.share:
            must = "go with fouls.share, the share of tackles that are one, above 0 (fouls.share = 0.1), as now none is"
            yield broken(f"{path}.on", must, rule.on)
        if rule.on == "transfer" and "transfer" not in opened:
            yield broken(f"{path}.on", f"be opened first, {HOW_OPENED['transfer']}", rule.on)
        across = rule.on == "transfer" and rule.from_ is not None and rule.to is not None
        if across and lies_in(areas[given(rule.to)], areas[given(rule.from_)]):
            must = f"lie outside areas.{rule.from_}, as inside it anybody may be played to"
            yield broken(f"{path}.to", must, rule.to)
        if rule.on in _SHOTS and "shoot" not in opened:
            yield broken(f"{path}.on", f"be opened first, {HOW_OPENED['shoot']}", rule.on)
        elif rule.on in (*_SHOTS, "transfer") and rule.by is not None:
            what = "transfer" if rule.on == "transfer" else "shoot"
            if what in opened and what not in ever_open(spec, rule.by):
                yield broken(f"{path}.by", f"be a side to which {what} is opened", rule.by)


def _attackers(spec: GameSpec) -> Iterator[Problem]:
    """The side that starts, if it starts with an attack, has a goal to attack."""
    name = start_phase(spec)
    phase = spec.phases[name]
    if phase.aims.get(spec.start.side, phase.aim) == "goal" and spec.goals and spec.start.side in sides_of(spec):
        if not {goal.attacked_by for goal in spec.goals.values()} & {spec.start.side, "any"}:
            yield broken("start.side", f"be a side with a goal to attack, as phases.{name} asks", spec.start.side)


def _by_bibs(spec: GameSpec) -> list[str]:
    return [name for name, role in spec.roles.items() if role.side == "team"]


def _of_a_side(spec: GameSpec) -> list[str]:
    return [name for name, role in spec.roles.items() if role.side != "holder"]


def _after_a_loss(path: str, rule: RuleSpec) -> Iterator[Problem]:
    if rule.on != "loss":
        yield broken(path, 'stand in a rule with on = "loss"', rule.on)


def _side_meant(path: str, rule: RuleSpec, side: str | None) -> Iterator[Problem]:
    if side in ("winner", "loser") and rule.on not in ("loss", "foul", *WINDOWS):
        must = f"be holder or a side, as on = {show(rule.on)} has no winner and no loser"
        yield broken(path, must, side)


def _score(spec: GameSpec, path: str, rule: RuleSpec, action: ScoreAction) -> Iterator[Problem]:
    yield from _side_meant(f"{path}.to", rule, action.to)


def _open(spec: GameSpec, path: str, rule: RuleSpec, action: OpenAction) -> Iterator[Problem]:
    yield from _side_meant(f"{path}.for", rule, action.for_)


def _close(spec: GameSpec, path: str, rule: RuleSpec, action: CloseAction) -> Iterator[Problem]:
    yield from _side_meant(f"{path}.for", rule, action.for_)


def _restart(spec: GameSpec, path: str, rule: RuleSpec, action: RestartAction) -> Iterator[Problem]:
    to = restarts(spec)[action.restart].to
    if rule.on in UNLOST and to in ("winner", "loser"):
        must = f"be a restart to a side, other or same, as on = {show(rule.on)} has no winner and no loser"
        yield broken(path, must, f"{action.restart}, which goes to the {to}")
    if rule.on == "goal" and to in ("winner", "loser"):
        must = 'be a restart to "other" (the side that conceded), to "same" (the side that scored) or to a side, as on = "goal"'
        yield broken(path, f"{must} has a winner and a loser of two kinds", f"{action.restart}, which goes to the {to}")


def _window(spec: GameSpec, path: str, rule: RuleSpec, action: WindowAction) -> Iterator[Problem]:
    yield from _after_a_loss(path, rule)


def _step(spec: GameSpec, path: str, rule: RuleSpec, action: StepAction) -> Iterator[Problem]:
    yield from _after_a_loss(path, rule)


def _trade(spec: GameSpec, path: str, rule: RuleSpec, action: TradeAction) -> Iterator[Problem]:
    yield from _after_a_loss(path, rule)
    everybody, by_bibs = roster(spec), _by_bibs(spec)
    counts = {team: sum(place.team == team for place in everybody) for team in spec.teams}
    playing = {place.team: counts[place.team] for place in everybody if spec.roles[place.role].side == "team"}
    if len(playing) != 2 or len(set(playing.values())) != 1:
        got = ", ".join(f"{team} {number}" for team, number in counts.items())
        yield Problem(path, f'must have two teams of one size whose roles have side = "team" (got {got})')
    for name in _of_a_side(spec):
        if name not in by_bibs:
            must = f'be left out unless every role has side = "team", as roles.{name} has not'
            yield broken(path, must, action.trade)


def _assign(spec: GameSpec, path: str, rule: RuleSpec, action: AssignAction) -> Iterator[Problem]:
    if action.choose == "passer and receiver" and (action.count or 0) > 2:
        yield broken(f"{path}.count", 'be at most 2 with choose = "passer and receiver"', action.count)
    anybody = list(spec.roles) if action.of == "all" else _of_a_side(spec)
    goes = spec.roles[action.assign].side
    asked = anybody if action.from_ is None else [action.from_]
    leaves = [spec.roles[name].side for name in asked if spec.roles[name].side != goes]
    if leaves:
        which = "" if action.from_ is not None or action.of == "all" else ": say with from which of them change"
        yield broken(path, f"leave players on their own side{which}", f"{leaves[0]} to {goes}")
    everybody = len(roster(spec))
    if action.count is not None and action.count > everybody:
        yield broken(f"{path}.count", f"be at most the number of players, {everybody}", action.count)


PLAYED: dict[type, Callable[[GameSpec, str, RuleSpec, Any], Iterator[Problem]]] = {
    SwapAction: swap_problems,
    ScoreAction: _score,
    OpenAction: _open,
    CloseAction: _close,
    RestartAction: _restart,
    TradeAction: _trade,
    AssignAction: _assign,
    WindowAction: _window,
    StepAction: _step,
}
"""Of the consequences that cannot follow everything: whether this one can."""


def _consequences(spec: GameSpec) -> Iterator[Problem]:
    for path, rule, action in _actions(spec):
        if type(action) in PLAYED:
            yield from PLAYED[type(action)](spec, path, rule, action)


def _points(spec: GameSpec) -> Iterator[Problem]:
    """A bout that ends by points has rules that give some."""
    if any(isinstance(action, ScoreAction) for _, _, action in _actions(spec)):
        return
    for key in ("first_to", "level_seconds"):
        value = getattr(spec.bouts, key)
        if value:
            yield broken(f"bouts.{key}", "be left out where no rule gives points, { score = 1 }", value)


def _clocks(spec: GameSpec) -> Iterator[Problem]:
    styles = {role.style for role in spec.roles.values()}
    for name, restart in restarts(spec).items():
        if restart.from_ == "keeper" and "goal" not in styles:
            yield broken(f"restarts.{name}.from", "be server or line where nobody keeps a goal", restart.from_)
    first = spec.phases[start_phase(spec)]
    if first.ball_in not in ("active", start_area(spec)):
        yield broken("start.area", f"be {first.ball_in}, where the first phase has the ball", start_area(spec))
    if spec.bouts.rotate == "list":
        roles = {team: {place.role for place in roster(spec) if place.team == team} for team in spec.teams}
        if all(len(held) < 2 for held in roles.values()):
            got = show(spec.bouts.rotate)
            yield Problem("bouts.rotate", f"must be none, as no team has two roles to move between (got {got})")


def playability_problems(spec: GameSpec) -> list[Problem]:
    """Every reason why the game as a whole cannot be played."""
    return list(
        chain(
            _ground(spec),
            _people(spec),
            _homes(spec),
            _path_of_phases(spec),
            opening_problems(spec),
            aimed_at(spec),
            together_problems(spec),
            _events(spec),
            _attackers(spec),
            _consequences(spec),
            _clocks(spec),
            _points(spec),
            carry_on_problems(spec),
            series_problems(spec),
            partners(spec),
            team_problems(spec),
            window_problems(spec),
            ladder_problems(spec),
            line_problems(spec),
            stands_in_play(spec),
            resize_problems(spec),
            zones_in_play(spec),
        )
    )
