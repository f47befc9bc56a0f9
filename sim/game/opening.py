"""What a game opens and closes: playing across and shooting, where the ground has a place for it and something changes."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain

from sim.game.actions import CloseAction, OpenAction, PhaseAction, verb_of
from sim.game.messages import Problem, broken, show, unknown
from sim.game.roster import sides_of
from sim.game.spec import GameSpec
from sim.game.zoning import open_problems

HOW_OPENED = {
    what: f'by open = ["{what}"] in a phase or {{ open = "{what}" }} in a rule' for what in ("transfer", "shoot")
}


def _done(spec: GameSpec) -> Iterator[tuple[str, str, OpenAction | CloseAction]]:
    """(path, phase in which it holds, action) of whatever rules open and close: in another phase, if they have begun one."""
    for name, phase in spec.phases.items():
        for rule_name, rule in phase.rules.items():
            here = name
            for action in rule.do:
                if isinstance(action, PhaseAction):
                    here = action.phase
                if isinstance(action, (OpenAction, CloseAction)):
                    yield f"phases.{name}.rules.{rule_name}.do.{verb_of(action)}", here, action


def opens(spec: GameSpec) -> Iterator[tuple[str, str]]:
    """(path, what) wherever something is allowed."""
    for name, phase in spec.phases.items():
        for what in phase.open:
            yield f"phases.{name}.open", what
        for side, more in phase.open_for.items():
            yield from ((f"phases.{name}.open_for.{side}", what) for what in more)
    for path, _, action in _done(spec):
        if isinstance(action, OpenAction):
            yield path, action.open


def _closes(spec: GameSpec) -> Iterator[tuple[str, str]]:
    """(path, what) wherever something is no longer allowed."""
    for path, _, action in _done(spec):
        if isinstance(action, CloseAction):
            yield path, action.close


def _placed(spec: GameSpec) -> Iterator[Problem]:
    """Nothing is allowed, or forbidden, that the ground has no place for."""
    for path, what in chain(opens(spec), _closes(spec)):
        yield from open_problems(spec, path, what)
        if what == "transfer" and len(spec.areas) < 2:
            yield broken(path, "be left out where there is only one area", what)
        if what == "shoot" and not spec.goals:
            yield broken(path, "be left out where there are no goals", what)


def _open_already(spec: GameSpec) -> Iterator[Problem]:
    """Nothing is opened that is open from the start of the phase and that no rule closes there."""

    def may(here: str, action: OpenAction) -> bool:
        phase = spec.phases[here]
        return action.open in phase.open or action.open in phase.open_for.get(action.for_ or "", ())

    closed = {(here, action.close) for _, here, action in _done(spec) if isinstance(action, CloseAction)}
    for path, here, action in _done(spec):
        if not isinstance(action, OpenAction) or (here, action.open) in closed:
            continue
        if may(here, action) and action.open not in spec.phases[here].open:
            must = f"open what is closed to {action.for_} until then: phases.{here}.open_for says otherwise"
            yield broken(path, must, f"{action.open}, which is open to {action.for_} from the start")
        elif may(here, action):
            rest = show([what for what in spec.phases[here].open if what != action.open])
            must = f"open what is closed until then: with phases.{here}.open = {rest} it is"
            yield broken(path, must, f"{action.open}, which is open from the start")


def _for_one_side(spec: GameSpec) -> Iterator[Problem]:
    """What is open to one side alone is open to a side there is, is not open to everybody, and is of use to it."""
    sides = list(sides_of(spec))
    for name, phase in spec.phases.items():
        for side, more in phase.open_for.items():
            path = f"phases.{name}.open_for.{side}"
            if side not in sides:
                yield unknown(path, "a side", side, sides)
                continue
            for what in more:
                if what in phase.open:
                    yield broken(path, f"be left out, as phases.{name}.open opens it to both sides", what)
                yield from _of_use(spec, path, what, name, side)
    for path, here, action in _done(spec):
        if isinstance(action, OpenAction) and action.for_ in sides:
            yield from _of_use(spec, f"{path}.for", action.open, here, str(action.for_))


def _of_use(spec: GameSpec, path: str, what: str, phase: str, side: str) -> Iterator[Problem]:
    """Shots are opened to a side that goes for goal and has one to attack."""
    if what != "shoot":
        return
    if spec.phases[phase].aims.get(side, spec.phases[phase].aim) != "goal":
        yield broken(path, f"be a side that goes for goal, by phases.{phase}.aim or aims", side)
    elif not {goal.attacked_by for goal in spec.goals.values()} & {side, "any"}:
        yield broken(path, "be a side with a goal to attack", side)


def opening_problems(spec: GameSpec) -> Iterator[Problem]:
    """What is wrong with what the game opens and closes."""
    yield from _placed(spec)
    yield from _for_one_side(spec)
    yield from _open_already(spec)
