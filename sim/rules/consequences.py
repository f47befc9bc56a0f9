"""What a rule does: one small function a verb, looked up by the verb of its action.

Each takes the play (what the engine lets the rules do), the event and the action, which is of its verb's own type
(`sim.game.verbs`).  None of them knows a game.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol

from sim.game.model import Game
from sim.game.verbs import (
    Assign,
    ChangePhase,
    Close,
    EndBout,
    Open,
    OpenWindow,
    Reset,
    Resize,
    Score,
    Serve,
    Step,
    Swap,
    Trade,
)
from sim.rules.choosing import by_number, comers, goers, had_turn, longest_in, may_take, on_the_list, side_named
from sim.rules.guards import RuleEvent
from sim.rules.rule_state import RuleState, Window


class Play(Protocol):
    """What the engine offers to the rules."""

    handed: set[int]  # whom this rule has already taken from one role to another

    @property
    def now(self) -> float:
        """Watch time (s)."""
        ...

    @property
    def game(self) -> Game:
        """The game that is played."""
        ...

    @property
    def standing(self) -> RuleState:
        """Where the game stands."""
        ...

    def unlocked(self, what: str, side: str | None) -> None:
        """Tell of what is allowed from now on, to a side or (None) to everybody."""

    def scored(self, side: str, points: float) -> None:
        """Tell of points that a side gets."""

    def swapped(self, goer: int, comer: int) -> None:
        """Tell of two players who exchange roles."""

    def serve(self, restart: str, event: RuleEvent) -> None:
        """The ball is dead until that restart."""

    def change_phase(self, name: str) -> None:
        """That phase begins."""

    def stop(self) -> None:
        """The bout ends."""

    def lot(self, i: int) -> float:
        """A number drawn by player i, to settle a tie."""
        ...

    def distance_to_ball(self, i: int) -> float:
        """Metres from player i to the ball."""
        ...

    def last_pass(self) -> tuple[int, int]:
        """Passer and receiver of the last completed pass, -1 where there is none."""
        ...

    def holder(self) -> int:
        """Who has the ball, -1 if nobody has."""
        ...

    def roles_changed(self, players: list[int]) -> None:
        """These players have new roles, or something is allowed or forbidden now."""

    def opened_window(self, side: str, window: Window) -> None:
        """A side may win the ball back as long as that window is open."""

    def resize(self, area: str, metres: float, to: float) -> None:
        """An area changes its size by so much, until a side has come `to` that."""

    def stepped(self, i: int) -> None:
        """Tell of a player who is on another step of his role's ladder."""


def do_open(play: Play, event: RuleEvent, action: Open) -> None:
    """Something is allowed from now on; told once."""
    side = None if action.to is None else side_named(play.standing, action.to, event)
    if play.standing.allow(action.what, side):
        play.unlocked(action.what, side)
        play.roles_changed([])


def do_close(play: Play, event: RuleEvent, action: Close) -> None:
    """Something is no longer allowed."""
    play.standing.bar(action.what, None if action.to is None else side_named(play.standing, action.to, event))
    play.roles_changed([])


def do_score(play: Play, event: RuleEvent, action: Score) -> None:
    """A side gets points."""
    side, points = side_named(play.standing, action.to, event), action.value
    play.standing.give_points(side, points)
    play.standing.tally.reset_by("score")
    play.scored(side, points)


def do_swap(play: Play, event: RuleEvent, action: Swap) -> None:
    """Some go in for others, number for number; with nobody to go, or nobody to come, nothing changes."""
    going = goers(play, event, action)
    coming = comers(play, event, action, going) if going else []
    exchange(play, going, coming)


def exchange(play: Play, going: list[int], coming: list[int]) -> None:
    """The first of some changes roles with the first of others, the second with the second, and so on."""
    standing, changed = play.standing, []
    for goer, comer in zip(going, coming, strict=False):
        mine, theirs = standing.role[goer], standing.role[comer]
        standing.give_role(goer, theirs, play.now)
        standing.give_role(comer, mine, play.now)
        play.swapped(goer, comer)
        changed += [goer, comer]
    had_turn(play, changed)
    play.roles_changed(changed)


def do_trade(play: Play, event: RuleEvent, action: Trade) -> None:
    """All players of the side that lost the ball exchange roles with those of the side that won it, number for number."""
    standing = play.standing
    winners = side_named(play.standing, "winner", event)
    everybody, number = range(len(standing.role)), lambda i: by_number(play, i)
    lost = sorted((i for i in everybody if standing.side_of(i) == event.side), key=number)
    won = sorted((i for i in everybody if standing.side_of(i) == winners), key=number)
    exchange(play, lost, won)


def do_assign(play: Play, event: RuleEvent, action: Assign) -> None:
    """Give a role to some players of a side, chosen as the action says; a rule takes nobody on from role to role twice."""
    standing = play.standing
    everybody = range(len(standing.role))
    if action.who == "all":
        pool = list(everybody)
    else:
        side = side_named(play.standing, action.who, event)
        pool = [i for i in everybody if standing.side_of(i) == side]
    if action.from_role is not None:
        pool = [i for i in pool if standing.role[i] == action.from_role and i not in play.handed]
    pool = [i for i in pool if may_take(play, i, action.role)]
    if action.other == "passer and receiver":
        pool = [i for i in play.last_pass() if i in pool]
    elif action.other == "longest in":
        pool = longest_in(play, pool)
    elif action.other == "next on the list":
        pool = on_the_list(play, pool)
    else:
        free = [i for i in pool if action.count is None or i != play.holder()]
        pool = sorted(free, key=lambda i: (play.distance_to_ball(i), play.lot(i)))
    chosen = pool if action.count is None else pool[: action.count]
    changed = [i for i in chosen if standing.role[i] != action.role]
    for i in changed:
        standing.give_role(i, action.role, play.now)
    if action.from_role is not None:
        play.handed.update(changed)
    if action.other == "next on the list":
        had_turn(play, chosen)
    play.roles_changed(changed)


def do_phase(play: Play, event: RuleEvent, action: ChangePhase) -> None:
    """Another phase begins."""
    play.change_phase(action.what)


def do_restart(play: Play, event: RuleEvent, action: Serve) -> None:
    """The ball is dead until a restart serves it."""
    play.serve(action.what, event)


def do_reset(play: Play, event: RuleEvent, action: Reset) -> None:
    """A count begins again, or everybody is back at the top of the ladder."""
    standing = play.standing
    if action.what != "steps":
        standing.reset(action.what)
        return
    for i in [i for i, step in enumerate(standing.step) if step]:
        standing.step[i] = 0
        play.stepped(i)
    play.roles_changed([])


def do_window(play: Play, event: RuleEvent, action: OpenWindow) -> None:
    """The side that has lost the ball may win it back within so long; a window of its own that is open already begins anew."""
    passes = int(action.length) if action.unit == "passes" else None
    window = Window(action.length, passes, event.player, event.other, event.cause, action.floaters)
    play.standing.windows[event.side] = window
    play.opened_window(event.side, window)


def do_step(play: Play, event: RuleEvent, action: Step) -> None:
    """Who has lost the ball, or his whole side, goes a step down the ladder of the role; whoever is at its foot stays there."""
    standing = play.standing
    if action.who == "loser":
        falling = [event.player] if event.player >= 0 else []
    else:
        falling = [i for i in range(len(standing.role)) if standing.side_of(i) == event.side]
    falling = [i for i in falling if standing.step[i] < len(standing.roles[standing.role[i]].ladder)]
    for i in falling:
        standing.step[i] += 1
        play.stepped(i)
    if falling:
        play.roles_changed([])


def do_resize(play: Play, event: RuleEvent, action: Resize) -> None:
    """An area grows or shrinks, from the next dead ball on."""
    play.resize(action.what, action.metres, action.to)


def do_end(play: Play, event: RuleEvent, action: EndBout) -> None:
    """The bout is over."""
    play.stop()


VERBS: dict[str, Callable[[Play, RuleEvent, Any], None]] = {
    "open": do_open,
    "close": do_close,
    "score": do_score,
    "swap": do_swap,
    "trade": do_trade,
    "assign": do_assign,
    "phase": do_phase,
    "restart": do_restart,
    "reset": do_reset,
    "end": do_end,
    "window": do_window,
    "step": do_step,
    "resize": do_resize,
}
