"""Can roles carry on from one bout to the next?  Only where the next bout can begin with the roles of the whistle."""

from __future__ import annotations

from collections.abc import Iterator

from sim.game.actions import AssignAction, SwapAction, TradeAction, verb_of
from sim.game.limits import capped
from sim.game.messages import Problem, broken, show
from sim.game.resolve import phase as resolved
from sim.game.resolve import start_phase
from sim.game.roster import roster
from sim.game.spec import GameSpec
from sim.game.ways import roles_in, ways_back

CARRY_ON, START_ANEW = "carry on", "start anew"


def _decided_in_play(spec: GameSpec, begun: set[str]) -> Iterator[str]:
    """Where a rule lets play decide which players with sides by bibs stand where at the start: the ball may begin with others."""
    jobs = spec.phases[start_phase(spec)].jobs
    stands = {
        name: jobs[name].split()[::2] if name in jobs else [role.style, role.place]
        for name, role in spec.roles.items()
        if role.side == "team" and name in begun
    }
    if len({tuple(words) for words in stands.values()}) > 1:
        yield from (f"players.{name}" for name, player in spec.players.items() if capped(player))
    for phase_name, phase in spec.phases.items():
        for rule_name, rule in phase.rules.items():
            for action in rule.do:
                match action:
                    case TradeAction():
                        together = set(stands)
                    case SwapAction() if action.with_ == "waiting" or action.from_ is not None:
                        together = set(stands)
                    case AssignAction() if action.of != "all" or action.count is not None:
                        sources = {action.from_} if action.from_ is not None else set(stands)
                        together = sources | {action.assign} if action.assign in stands else set()
                    case _:
                        continue
                if len({tuple(stands[name]) for name in together if name in stands}) > 1:
                    yield f"phases.{phase_name}.rules.{rule_name}.do.{verb_of(action)}"


def carry_on_problems(spec: GameSpec) -> Iterator[Problem]:
    """Why the roles of the whistle cannot be those of the next start."""
    bouts = spec.bouts
    if bouts.rotate == "list":
        if bouts.roles is not None:
            yield broken("bouts.roles", 'be left out where rotate is "list": the list alone decides', bouts.roles)
        return
    if bouts.count == 1 or bouts.roles == START_ANEW:
        return
    phases, first = [resolved(name, one) for name, one in spec.phases.items()], start_phase(spec)
    begin = {place.role for place in roster(spec)}
    got = f"(got {show(CARRY_ON)})"
    used = roles_in(phases, first, begin)[first]
    for path in dict.fromkeys(_decided_in_play(spec, used)):
        why = f"sides go by bibs, and {path} lets play decide who stands where"
        yield Problem("bouts.roles", f"must be {show(START_ANEW)}: {why} {got}")
    for name, ways in ways_back(phases, first, begin).items():
        for role, back in ways.items():
            if len(back) > 1:
                why = f"phases.{name} sends {role} back to two roles, {' and '.join(sorted(back))}"
            elif not back <= used or not back:
                why = f"no rule of phases.{name} brings {role} back to a role of phases.{first}"
            else:
                continue
            yield Problem("bouts.roles", f"must be {show(START_ANEW)}: {why} {got}")
