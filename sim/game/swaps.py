"""Can they change places?  The event says who lost or won the ball, the roles say who may come for whom, teams stay whole."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from sim.errors import any_of
from sim.game.actions import SwapAction, verb_of
from sim.game.messages import Problem, broken, show
from sim.game.roster import roster
from sim.game.spec import GameSpec, RuleSpec
from sim.game.verbs import TEAM, unit_of

NAMES_LOSER = ("loss", "win", "wins", "out", "goal", "save", "miss", "won back", "not won back", "foul")
NAMES_WINNER = ("loss", "win", "wins", "won back", "not won back", "foul")
WITH_PARTNER = ("loser and partner", "winner and partner")
ON_A_SIDE = ("longest in", "pair longest in", "team longest in", "next on the list")


def swaps_of(spec: GameSpec) -> Iterator[tuple[str, SwapAction]]:
    """(path, swap) of every one in the rules."""
    for phase_name, phase in spec.phases.items():
        for rule_name, rule in phase.rules.items():
            for action in rule.do:
                if isinstance(action, SwapAction):
                    yield f"phases.{phase_name}.rules.{rule_name}.do.{verb_of(action)}", action


def _waits(spec: GameSpec, role: str) -> bool:
    """Whether whoever has this role waits in some phase."""
    jobs = [phase.jobs[role].split()[0] for phase in spec.phases.values() if role in phase.jobs]
    return "wait" in [spec.roles[role].style, *jobs]


def swap_problems(spec: GameSpec, path: str, rule: RuleSpec, action: SwapAction) -> Iterator[Problem]:
    """Why the players of one swap cannot be told, or cannot change places."""
    who, known = action.swap, {"loser": NAMES_LOSER, "winner": NAMES_WINNER}
    if who in ON_A_SIDE:
        if action.of is None:
            yield Problem(f"{path}.of", f"must be given with swap = {show(who)} (got nothing)")
    else:
        if action.of is not None:
            yield broken(f"{path}.of", f"be left out with swap = {show(who)}", action.of)
        one = "winner" if who.startswith("winner") else "loser"
        if rule.on not in known[one]:
            yield broken(
                path, f"stand in a rule that knows a {one}: on = {any_of([show(on) for on in known[one]])}", rule.on
            )
    if action.with_ == "winner":
        if who.startswith("winner"):
            yield broken(f"{path}.with", f"be another than the winner with swap = {show(who)}", action.with_)
        elif rule.on not in NAMES_WINNER and (who in ON_A_SIDE or rule.on in NAMES_LOSER):
            must = f"be longest in, next on the list or waiting, as on = {show(rule.on)} has no winner"
            yield broken(f"{path}.with", must, action.with_)
    if action.alone and who not in WITH_PARTNER:
        known_pairs = any_of([show(one) for one in WITH_PARTNER])
        yield broken(f"{path}.alone", f"be left out unless swap = {known_pairs}", action.alone)
    yield from _come(spec, path, action)


def _come(spec: GameSpec, path: str, action: SwapAction) -> Iterator[Problem]:
    """Why nobody can come for them."""
    begun = {place.role for place in roster(spec)}
    if action.from_ is not None:
        for name in action.come_from:
            if spec.roles[name].style == "goal":
                yield broken(f"{path}.from", "be a role that keeps no goal", name)
        if action.with_ == "waiting":
            yield broken(f"{path}.from", 'be left out with with = "waiting"', action.from_)
    elif action.with_ == "waiting" and not any(_waits(spec, role) for role in begun):
        yield broken(f"{path}.with", "go with a role whose players wait", action.with_)
    by_bibs = [name for name, role in spec.roles.items() if role.side == "team"]
    within = action.with_ == "waiting" or action.from_ is not None
    if by_bibs and not within:
        must = f'be left out where roles.{by_bibs[0]}.side = "team", as nobody changes bibs'
        yield broken(path, must, action.swap)
    elif by_bibs:
        coming = action.come_from or [name for name in spec.roles if _waits(spec, name)]
        for name in (name for name in coming if spec.roles[name].side != "team"):
            yield broken(
                path, f'take only roles with side = "team", as nobody changes bibs, and roles.{name} has not', name
            )
            return


def team_problems(spec: GameSpec) -> Iterator[Problem]:
    """Why teams cannot change places as a whole: they are split, or not of one size."""
    swaps = list(swaps_of(spec))
    whole = [path for path, action in swaps if unit_of(action.swap) == TEAM]
    if not whole:
        return
    for path, action in swaps:
        if unit_of(action.swap) != TEAM:
            yield broken(path, f"be of a team, as in {whole[0]}, or teams would be split", action.swap)
    named = {name for _, action in swaps for name in action.come_from}
    counted = [
        place
        for place in roster(spec)
        if spec.roles[place.role].style != "goal" and (spec.roles[place.role].side != "holder" or place.role in named)
    ]
    sizes = Counter(place.team for place in counted)
    if len(set(sizes.values())) > 1 or len(sizes) < 2:
        got = ", ".join(f"{team} {size}" for team, size in sizes.items())
        yield Problem(whole[0], f"must have teams of one size, keepers and floaters not counted (got {got})")
    for team in sizes:
        sides = {spec.roles[place.role].side for place in counted if place.team == team}
        if len(sides) > 1:
            yield Problem(whole[0], f"must have all of teams.{team} on one side (got {any_of(sorted(sides), 'and')})")


def together_problems(spec: GameSpec) -> Iterator[Problem]:
    """A tie-break among winners has somebody to decide about."""
    if spec.win.together != "first" and not any(
        action.with_ == "winner" or action.swap.startswith("winner") for _, action in swaps_of(spec)
    ):
        yield broken("win.together", "be left out where nobody changes places with the winner", spec.win.together)
