"""What a rule does: one small function a verb, looked up by the verb of its action.

Each takes the play (what the engine lets the rules do), the event and the action, which is of its verb's own type
(`sim.game.verbs`).  None of them knows a game.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol

from sim.game.model import Game
from sim.game.verbs import Assign, ChangePhase, Close, EndBout, Open, Reset, Score, Serve, Swap, Trade
from sim.rules.guards import RuleEvent
from sim.rules.rule_state import RuleState


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

    def unlocked(self, what: str) -> None:
        """Tell of what is allowed from now on."""

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


LOST = ("loss", "out", "goal", "save", "miss")  # whoever did it has the ball no more


def side_named(standing: RuleState, word: str, event: RuleEvent) -> str:
    """The side that "holder", "winner", "loser", "other" or a side's own name stands for.

    What has happened decides, even if another rule has already given the next ball to somebody else: a win is the winner's,
    a ball lost or put over the line is the other side's, and whoever shoots has lost it.
    """
    theirs = standing.other_side(event.side)
    holder = theirs if event.kind in ("loss", "out") else event.side
    lost = event.kind in LOST
    words = {
        "holder": holder,
        "other": standing.other_side(holder),
        "winner": theirs if lost else event.side,
        "loser": event.side if lost else theirs,
    }
    return words.get(word, word)


def longest_in(play: Play, candidates: list[int]) -> list[int]:
    """Candidates, the one longest in his role first; ties by lot."""
    return sorted(candidates, key=lambda i: (play.standing.since[i], play.lot(i)))


def pairs(play: Play, candidates: list[int]) -> list[list[int]]:
    """The pairs of partners who are both among the candidates."""
    number = {player.id: i for i, player in enumerate(play.game.players)}
    every = [[number[one], number[other]] for team in play.game.teams for one, other in team.pairs]
    return [pair for pair in every if set(pair) <= set(candidates)]


def pair_of(play: Play, candidates: list[int], i: int) -> list[int]:
    """Player i and his partner, if both are among the candidates."""
    return next(([i, *(one for one in pair if one != i)] for pair in pairs(play, candidates) if i in pair), [])


def longest_pair(play: Play, candidates: list[int]) -> list[int]:
    """The pair that has been in longest together; ties by lot."""
    since = play.standing.since
    ranked = sorted(pairs(play, candidates), key=lambda pair: (max(since[i] for i in pair), play.lot(min(pair))))
    return ranked[0] if ranked else []


def may_take(play: Play, i: int, role: str) -> bool:
    """Whether player i ever takes a role."""
    return role not in play.game.players[i].never


def may_change(play: Play, one: int, other: int) -> bool:
    """Whether two players may exchange their roles."""
    role = play.standing.role
    return may_take(play, one, role[other]) and may_take(play, other, role[one])


def do_open(play: Play, event: RuleEvent, action: Open) -> None:
    """Something is allowed from now on; told once."""
    what = action.what
    if what not in play.standing.open:
        play.standing.open.add(what)
        play.unlocked(what)
        play.roles_changed([])


def do_close(play: Play, event: RuleEvent, action: Close) -> None:
    """Something is no longer allowed."""
    play.standing.open.discard(action.what)
    play.roles_changed([])


def do_score(play: Play, event: RuleEvent, action: Score) -> None:
    """A side gets points."""
    side, points = side_named(play.standing, action.to, event), action.value
    play.standing.score[side] = play.standing.score.get(side, 0.0) + points
    play.standing.tally.reset_by("score")
    play.scored(side, points)


def do_swap(play: Play, event: RuleEvent, action: Swap) -> None:
    """The loser goes in for a defender, or his pair for a pair; with no loser, or nobody to swap with, nothing changes."""
    standing = play.standing
    loser = event.player
    if loser < 0 or standing.side_of(loser) == "holder":
        return
    others = [
        i
        for i in range(len(standing.role))
        if standing.side_of(i) not in (standing.side_of(loser), "holder")
        and standing.job_of(i)[0] not in ("goal", "wait")
        and may_change(play, loser, i)
    ]
    winner = event.other if action.other == "winner" and event.other in others else -1
    if action.who == "loser and partner":
        mates = [i for i in range(len(standing.role)) if standing.side_of(i) == standing.side_of(loser)]
        goers = pair_of(play, mates, loser)
        comers = pair_of(play, others, winner) or longest_pair(play, others)
    else:
        goers = [loser]
        ranked = longest_in(play, [i for i in others if i != winner])
        comers = [winner] if winner >= 0 else ranked[:1]
    if not all(may_change(play, goer, comer) for goer, comer in zip(goers, comers, strict=False)):
        return
    changed = []
    for goer, comer in zip(goers, comers, strict=False):
        mine, theirs = standing.role[goer], standing.role[comer]
        standing.give_role(goer, theirs, play.now)
        standing.give_role(comer, mine, play.now)
        play.swapped(goer, comer)
        changed += [goer, comer]
    play.roles_changed(changed)


def do_trade(play: Play, event: RuleEvent, action: Trade) -> None:
    """All players of the side that lost the ball exchange roles with those of the side that won it, number for number."""
    standing = play.standing
    winners = side_named(play.standing, "winner", event)
    by_number = lambda i: (play.game.players[i].number, play.game.players[i].id)  # noqa: E731
    lost = sorted((i for i in range(len(standing.role)) if standing.side_of(i) == event.side), key=by_number)
    won = sorted((i for i in range(len(standing.role)) if standing.side_of(i) == winners), key=by_number)
    changed = []
    for a, b in zip(lost, won, strict=False):
        mine, theirs = standing.role[a], standing.role[b]
        standing.give_role(a, theirs, play.now)
        standing.give_role(b, mine, play.now)
        play.swapped(a, b)
        changed += [a, b]
    play.roles_changed(changed)


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
    else:
        free = [i for i in pool if action.count is None or i != play.holder()]
        pool = sorted(free, key=lambda i: (play.distance_to_ball(i), play.lot(i)))
    chosen = pool if action.count is None else pool[: action.count]
    changed = [i for i in chosen if standing.role[i] != action.role]
    for i in changed:
        standing.give_role(i, action.role, play.now)
    if action.from_role is not None:
        play.handed.update(changed)
    play.roles_changed(changed)


def do_phase(play: Play, event: RuleEvent, action: ChangePhase) -> None:
    """Another phase begins."""
    play.change_phase(action.what)


def do_restart(play: Play, event: RuleEvent, action: Serve) -> None:
    """The ball is dead until a restart serves it."""
    play.serve(action.what, event)


def do_reset(play: Play, event: RuleEvent, action: Reset) -> None:
    """A count begins again."""
    play.standing.reset(action.what)


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
}
