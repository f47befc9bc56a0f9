"""Where the game stands: roles, phase, what is open, counters, score.  Changed by the rules, read by the engine."""

from __future__ import annotations

from dataclasses import dataclass, field

from sim.game.family import APART
from sim.game.model import Game, Phase, Role
from sim.game.zones import HOLDER, OTHER
from sim.rules.stints import Stint
from sim.rules.tally import Tally


@dataclass(eq=False)
class Window:
    """For how long a side may win the ball back that it has lost: `length` seconds, or passes of the others (`passes` left), those
    from and to floaters counted or not."""

    length: float
    passes: int | None
    loser: int
    winner: int
    cause: str
    floaters: bool = True


@dataclass
class RuleState:
    """The rule book's view of one bout.

    `role[i]` and `since[i]` belong to player i (order of `game.players`); `side` is the side in possession; `passes` its
    completed passes, `wins` the wins of each side, `tally` the game's own counters; `fired` the rules on passes and wins, and for
    which side, that have fired and wait for their count to begin again; `last_gate` the gate that the last pass of each side
    through any gate went through; `windows` those that are open, by the side that may win the ball back; `step[i]` where player i
    stands on the ladder of his role (0: at its top); `turn[i]` how late he stands on the list (0: he has had no turn); `done` who
    has had all the bouts or minutes he may play, `leaving` those of them who still play, and why they leave at
    the next dead ball, `stints` what everybody has had who may play so much at most; `playing` the side that plays the ball, if
    only until its win is confirmed.
    """

    game: Game
    role: list[str]
    since: list[float]
    phase: Phase
    area: str
    side: str
    phase_began: float = 0.0
    open: set[str] = field(default_factory=set)
    open_for: set[tuple[str, str]] = field(default_factory=set)  # (what, side), of what is open to that side alone
    passes: int = 0
    wins: dict[str, int] = field(default_factory=dict)
    score: dict[str, float] = field(default_factory=dict)
    colours: dict[str, float] = field(default_factory=dict)  # points by team: of whichever side it was on
    fired: set[tuple[str, str]] = field(default_factory=set)
    last_gate: dict[str, str] = field(default_factory=dict)  # by side
    tally: Tally = field(init=False, repr=False)
    sides_now: list[str] = field(init=False, repr=False)  # of each player, as his role has it
    windows: dict[str, Window] = field(default_factory=dict)
    playing: str = ""
    step: list[int] = field(init=False)
    turn: list[int] = field(init=False)
    done: set[int] = field(default_factory=set)
    leaving: dict[int, str] = field(default_factory=dict)
    stints: dict[int, Stint] = field(default_factory=dict)
    roles: dict[str, Role] = field(init=False, repr=False)  # of the game, by name
    homes: dict[str, str | None] = field(init=False, repr=False)  # home area of every team

    def __post_init__(self) -> None:
        self.roles = {role.name: role for role in self.game.roles}
        self.tally = Tally(self.game.counters)
        self.homes = {team.name: team.home for team in self.game.teams}
        self.step, self.turn = [0] * len(self.role), [0] * len(self.role)
        self.sides_now = [self.side_in(i, role) for i, role in enumerate(self.role)]

    def side_in(self, i: int, role: str) -> str:
        """The side of player i in a role."""
        side = self.roles[role].side
        return self.game.players[i].team if side == "team" else side

    def side_of(self, i: int) -> str:
        """The side of player i: "holder" for floaters."""
        return self.sides_now[i]

    def job_of(self, i: int) -> tuple[str, str]:
        """(style, place) of player i in the present phase."""
        name = self.role[i]
        for job in self.phase.jobs:
            if job.role == name:
                return job.style, job.place
        role = self.roles[name]
        post = None if not role.turns else role.with_ball if self.side_of(i) == self.playing else role.without_ball
        return post or (role.style, role.place)

    def waits_in(self, role: str) -> bool:
        """Whether whoever has a role waits in the present phase."""
        job = next((job for job in self.phase.jobs if job.role == role), None)
        return (self.roles[role] if job is None else job).style == "wait"

    def always_waits(self, role: str) -> bool:
        """Whether whoever has a role waits whatever the phase."""
        jobs = [job.style for phase in self.game.phases for job in phase.jobs if job.role == role]
        return self.roles[role].style == "wait" and set(jobs) <= {"wait"}

    def plays(self, side: str) -> bool:
        """Whether anybody of a side is in play in some phase ("holder": floaters; they need not be)."""
        mine = [role for i, role in enumerate(self.role) if self.side_of(i) == side and not self.always_waits(role)]
        return bool(mine) or side == "holder"

    def touches_of(self, i: int) -> int | None:
        """The touch limit of player i on his step of the ladder, None for free."""
        role, step = self.roles[self.role[i]], self.step[i]
        return role.ladder[step - 1] if step else role.touches

    def shut_to(self, i: int) -> tuple[str, ...]:
        """The zones that are closed to player i now."""
        if not self.game.zones:
            return ()
        side = self.side_of(i)
        words = {side, self.role[i], HOLDER if side in (HOLDER, self.playing) else OTHER}
        mine = self.playing if side == HOLDER else side
        return tuple(
            one.name for one in self.game.zones if words & set(one.closed_to) and not self.is_open(one.name, mine)
        )

    def is_open(self, what: str, side: str) -> bool:
        """Whether something is allowed to a side just now."""
        return what in self.open or (what, side) in self.open_for

    def allow(self, what: str, side: str | None) -> bool:
        """Something is allowed to a side, or (None) to everybody; whether it was not before."""
        if what in self.open or (what, side) in self.open_for:
            return False
        if side is None:
            self.open.add(what)
        else:
            self.open_for.add((what, side))
        return True

    def bar(self, what: str, side: str | None) -> None:
        """Something is no longer allowed to a side, whatever is to the other; or (None) to nobody."""
        others = set() if side is None else self.sides() - {side}
        left = {(what, one) for one in others if self.is_open(what, one)}
        self.open.discard(what)
        self.open_for = {one for one in self.open_for if one[0] != what} | left

    def on_last_step(self, i: int) -> bool:
        """Whether player i (-1: nobody) has a role with a ladder and stands at its foot."""
        return i >= 0 and 0 < len(self.roles[self.role[i]].ladder) == self.step[i]

    def give_points(self, side: str, points: float) -> None:
        """A side gets points, and so does every colour that plays for it just then, keepers and those who wait apart."""
        self.score[side] = self.score.get(side, 0.0) + points
        playing = range(len(self.role))
        for team in {self.game.players[i].team for i in playing if self.side_of(i) == side and self.in_play(i)}:
            self.colours[team] = self.colours.get(team, 0.0) + points

    def in_play(self, i: int) -> bool:
        """Whether player i is in play: he does not wait and keeps no goal."""
        return self.job_of(i)[0] not in APART

    def sides(self) -> set[str]:
        """All sides that hold the ball in their own name."""
        return {self.side_of(i) for i in range(len(self.role))} - {"holder"}

    def other_side(self, side: str) -> str:
        """The side that opposes `side` (the first by name where there are several)."""
        others = sorted(self.sides() - {side})
        return others[0] if others else side

    def place_of(self, i: int, place: str) -> str:
        """The area (or goal) name that "active" and "home" stand for, for player i."""
        if place == "active":
            return self.area
        if place == "home":
            home = self.game.team(self.game.players[i].team).home
            return home if home is not None else self.area
        return place

    def home_of(self, side: str) -> str | None:
        """The home area of a side that is a team, else None."""
        return self.homes.get(side)

    def enter_phase(self, name: str, t: float) -> None:
        """Phase `name` begins at t (s): its counters at 0, open what it opens, the ball where it has it."""
        self.phase = self.game.phase(name)
        self.phase_began = t
        self.open_first()
        self.passes, self.wins, self.fired = 0, {}, set()  # what a phase counts begins with it
        self.tally.reset_by("phase")
        self.windows.clear()
        if self.phase.ball_in != "active":
            self.area = self.phase.ball_in

    def open_first(self) -> None:
        """Just what the phase opens is allowed."""
        self.open = set(self.phase.open)
        self.open_for = {(what, side) for side, more in self.phase.open_for for what in more}

    def give_role(self, i: int, role: str, t: float) -> None:
        """Player i has this role from t (s) on; who has it already goes on having it."""
        if self.role[i] != role:
            self.role[i], self.sides_now[i] = role, self.side_in(i, role)
            self.since[i] = t
            self.step[i] = 0

    def new_possession(self, side: str) -> None:
        """Side `side` has the ball anew: passes are counted from 0 (wins go on)."""
        if side != self.side:
            self.tally.reset_by("loss", self.side)
        self.side = side
        self.reset("passes")

    def reset(self, counter: str) -> None:
        """Counter "passes" or "wins", or one of the game's own, begins again, and so do the rules that wait for it."""
        if counter == "passes":
            self.passes = 0
        elif counter == "wins":
            self.wins.clear()
        else:
            self.tally.reset(counter)
        if self.fired:
            counting = {rule.name for rule in self.phase.rules if rule.on == counter}
            self.fired = {(name, side) for name, side in self.fired if name not in counting}
