"""A game as data: the resolved form, which the engine, the words and the pictures all read.

Everything is frozen, in SI units, and complete: nothing here is optional in meaning, and nothing has
to be looked up elsewhere.  People write the short form (`sim.game.spec`); `sim.game.loader` resolves
it.  A game has areas (rectangles on the ground), teams (who wears which bib), roles (what a player does,
apart from the team), phases (what the ball is for just now, and the rules in force) and restarts.

A *side* is whoever shares the ball.  A role says how its players find their side:
``side = "team"`` (their team), ``"holder"`` (whoever has the ball: floaters) or any other word (all
players whose role names that word are one side, whatever their bibs).
"""

from __future__ import annotations

from typing import Literal

from sim.game.counters import Conditions, Counter, Gate
from sim.game.frozen import Frozen
from sim.game.terms import Bouts, Load, Loss, Supply, Win
from sim.game.verbs import Action
from sim.game.zones import Zone
from sim.geometry import Bounds, line_at, rectangle
from sim.shown import Drawn

Style = Literal["edge", "free", "goal", "wait"]
Aim = Literal["keep", "home", "goal", "gates", "passes", "zones"]
End = Literal["west", "east", "south", "north"]
Event = Literal[
    "loss",
    "win",
    "out",
    "passes",
    "wins",
    "transfer",
    "home",
    "goal",
    "save",
    "miss",
    "time",
    "pass",
    "carry",
    "counter",
    "won back",
    "not won back",
    "foul",
]


class Area(Frozen):
    """A rectangle: `length` along x (west to east), `width` along y, centre (`x`, `y`), metres.

    The whole layout is centred on the origin.  `run_off` is the free strip around it, metres.  `out`: a ball over its
    line is out at once ("line"), or is in play for those who stand on the line until it leaves that strip ("run-off").
    """

    name: str
    length: float
    width: float
    x: float
    y: float
    run_off: float
    out: Literal["line", "run-off"] = "line"

    @property
    def run_off_in_play(self) -> float:
        """How far beyond its line those who stand on it may play the ball, metres: the run-off, or nothing."""
        return self.run_off if self.out == "run-off" else 0.0

    @property
    def bounds(self) -> Bounds:
        """(west, south, east, north) in metres."""
        return rectangle(self.x, self.y, self.length, self.width)


class Goal(Frozen):
    """A goal: mouth centre (`x`, `y`), `width` and `height` in metres, on the `end` side of play.

    `attacked_by` is the side that scores in it, or "any".
    """

    name: str
    x: float
    y: float
    width: float
    height: float
    end: End
    attacked_by: str

    @property
    def mouth(self) -> Bounds:
        """The line between the posts: (west, south, east, north) in metres."""
        return line_at(self.end, self.x, self.y, self.width)


class SprintTest(Frozen):
    """Split times (s) of a sprint from standing over distances (m); `offset_seconds` None is to be estimated."""

    metres: tuple[float, ...]
    seconds: tuple[float, ...]
    offset_seconds: float | None = None


class ShuttleTest(Frozen):
    """The last speed of a 30-15 shuttle test, and what its formula asks about the player."""

    speed_kmh: float
    age: float
    weight_kg: float
    sex: Literal["male", "female"]


class Player(Frozen):
    """One player: `id` is written in the file or "TEAM-NUMBER"; the three key abilities or None for the preset's.

    `sprint`, `intermittent_run` (m) and `shuttle` are fitness tests (`sim.fitness`), None where there is none.
    `restricted`: on reduced load; he plays like anybody, but nothing is proposed that may give him more.
    `touches`: his own touch limit, None for that of his role; `never`: roles that he never takes; `tackles`: whether he tackles
    and may be tackled; `most_bouts` and `most_seconds` of play in a session (None: as many as come).
    """

    id: str
    team: str
    number: int
    role: str
    pass_success: float | None = None
    pressing_speed: float | None = None
    recovery: float | None = None
    sprint: SprintTest | None = None
    intermittent_run: float | None = None
    shuttle: ShuttleTest | None = None
    restricted: bool = False
    touches: int | None = None
    never: tuple[str, ...] = ()
    tackles: bool = True
    most_bouts: int | None = None
    most_seconds: float | None = None

    @property
    def has_cap(self) -> bool:
        """Whether there is an end to how much he plays."""
        return self.most_bouts is not None or self.most_seconds is not None


class Team(Frozen):
    """A set of bibs: name, population preset, home area (or None), and the players' ids in order of number.

    The three key abilities are what the file says of the team as a whole: its players are drawn around them.
    `pairs` are the ids of partners, who change roles together.
    """

    name: str
    population: str
    home: str | None = None
    players: tuple[str, ...]
    pass_success: float | None = None
    pressing_speed: float | None = None
    recovery: float | None = None
    pairs: tuple[tuple[str, str], ...] = ()


class Role(Frozen):
    """What a player does, and what the coach asks of him.  `touches` is the touch limit, None for free.

    press       0 contain ... 1 attack the ball; from 0.75 a second player joins the first
    marking     0 guard space ... 1 stay with a man
    win_back_s  so many seconds after a loss everybody hunts the ball at once
    width, depth  of the support, south to north and west to east, over the usual
    tempo       0 patient ... 1 quick
    positions   "fixed": keeps to his own place; "free": goes where he is of most use
    effort      willingness to run over the usual
    ladder      what becomes of `touches`, step by step
    tackled     "always" | "never" | "after a back-pass" (only with a ball that a team-mate has played to him)
    hands       whether a keeper holds a shot that he stops, or it runs loose
    with_ball, without_ball   (style, place) while the side has the ball or has not, None: as always
    """

    name: str
    side: str
    style: Style
    place: str  # an area's name, "active" (where the ball is being kept), "home" (the team's home) or a goal's name (style "goal")
    touches: int | None = None
    press: float = 0.5
    marking: float = 0.5
    win_back_s: float = 0.0
    width: float = 1.0
    depth: float = 1.0
    tempo: float = 0.5
    positions: Literal["free", "fixed"] = "free"
    effort: float = 1.0
    ladder: tuple[int, ...] = ()
    tackled: Literal["always", "never", "after a back-pass"] = "always"
    hands: bool = True
    with_ball: tuple[Style, str] | None = None
    without_ball: tuple[Style, str] | None = None

    @property
    def turns(self) -> bool:
        """Whether its players play elsewhere with the ball than without."""
        return self.with_ball is not None or self.without_ball is not None

    @property
    def posts(self) -> tuple[tuple[str, str], ...]:
        """(style, place) of everywhere its players may be by itself."""
        more = [post for post in (self.with_ball, self.without_ball) if post is not None]
        return ((self.style, self.place), *more)


class Rule(Conditions):
    """When `on` happens in the phase and the guards hold, do the actions in order.

    Guards: `count` (for "passes", "wins", "counter": it has just been reached; for "time": seconds since the phase began),
    `counter` (for "counter": which), `causes` (for "loss": only these causes), `by` (only if the side that did it is this one; for
    "loss" the side that lost it), `colour` (only if the player who did it, for "loss" whom it is charged to, is of this team),
    `each` (for counts and "time": every multiple, not only the first time), `last_step` (for "loss":
    only if the player it is charged to is at the foot of his role's ladder), and the conditions (`from_area` and `to_area` for
    "transfer", all of them for "pass", `to_area` and `by_role` for "carry", `from_area`, `by_role` and `to_role` for "foul").
    """

    name: str
    on: Event
    count: float | None = None
    causes: tuple[str, ...]
    by: str | None = None
    colour: str | None = None
    counter: str | None = None
    last_step: bool = False
    each: bool
    do: tuple[Action, ...]


class Job(Frozen):
    """In a phase, players of `role` stand by `style` in `place` (same words as in `Role`)."""

    role: str
    style: Style
    place: str


class Phase(Frozen):
    """A stretch of play with one purpose.

    `aim`: keep the ball, bring it home, score, or what rules reward (gates, passes, zones); `aims`: of sides that aim at something
    else.  `ball_in`: the area the ball is played in ("active" keeps the current one).  `open`: what is allowed from its start,
    `open_for`: to one side alone.  `jobs` override the roles' own style and place here.
    """

    name: str
    aim: Aim
    ball_in: str
    open: tuple[str, ...]
    jobs: tuple[Job, ...]
    rules: tuple[Rule, ...]
    aims: tuple[tuple[str, Aim], ...] = ()
    open_for: tuple[tuple[str, tuple[str, ...]], ...] = ()

    def aim_of(self, side: str) -> Aim:
        """What a side aims at with the ball."""
        return dict(self.aims).get(side, self.aim) if self.aims else self.aim

    @property
    def opened(self) -> set[str]:
        """What is allowed from its start, if only to one side."""
        return {*self.open, *(what for _, more in self.open_for for what in more)}

    def may_from_the_start(self, what: str, side: str) -> bool:
        """Whether something is allowed to a side from its start."""
        return what in self.open or what in dict(self.open_for).get(side, ())

    @property
    def all_aims(self) -> set[Aim]:
        """What anybody aims at."""
        return {self.aim, *dict(self.aims).values()}


class Restart(Frozen):
    """How a dead ball comes back: to which side, from where, after how many seconds.

    `to`: a side, "other" (than the last to touch it), "same", "loser", "winner".  `source`: "server" (beside the area), "line"
    (where it went out), "keeper", "own end" (beside the goal at the end that the side defends), "gate" (`gate`).  `area`: where (an
    area, "active", "home" of the receiving side, or "across": the other of two).  `role`: only a player in this role gets or takes
    it, where there is one who can (None: anybody); `by`: only the "newcomer" (whoever has just come into a role by a rule), the
    "winner" or the "loser".
    """

    name: str
    to: str
    source: Literal["server", "line", "keeper", "own end", "gate"]
    seconds: float
    area: str
    role: str | None = None
    by: Literal["newcomer", "winner", "loser"] | None = None
    gate: str | None = None


HOUSE_CLUB = "Quillhaven"
"""Whose a game is that does not say so: not printed."""
AFTER_A_GOAL = "goal"
"""The restart after a goal, where a game has one of that name; else it is "start"."""


class Game(Frozen, Drawn):
    """One possession game, complete and resolved."""

    format: int
    name: str
    title: str
    purpose: str
    club: str
    family: str  # what the rules make it (`sim.game.family`)
    start_side: str
    start_phase: str
    start_area: str
    hold_limit_s: float  # E22: longest a carrier may keep it before it counts as a rule fault
    between_areas: Literal[
        "first", "out"
    ]  # a ball over the line between areas: first to reach it, or out (`sim.game.borders`)
    areas: tuple[Area, ...]
    goals: tuple[Goal, ...]
    teams: tuple[Team, ...]
    players: tuple[Player, ...]  # sorted by id
    roles: tuple[Role, ...]
    phases: tuple[Phase, ...]
    restarts: tuple[Restart, ...]  # always holds one named "start" and one named "out"
    supply: Supply
    bouts: Bouts
    win: Win
    load: Load = Load()
    gates: tuple[Gate, ...] = ()
    counters: tuple[Counter, ...] = ()
    start_points: tuple[tuple[str, float], ...] = ()  # by side, where a bout does not begin at nothing
    loss: Loss = Loss()
    zones: tuple[Zone, ...] = ()
    foul_share: float = 0.0  # of all tackles

    def area(self, name: str) -> Area:
        """The area of that name; StopIteration where there is none."""
        return next(area for area in self.areas if area.name == name)

    def place(self, name: str) -> Area | Zone:
        """The area or the zone of that name."""
        return next(one for one in self.places if one.name == name)

    @property
    def places(self) -> tuple[Area | Zone, ...]:
        """All areas, then all zones."""
        return (*self.areas, *self.zones)

    def role(self, name: str) -> Role:
        """The role of that name."""
        return next(role for role in self.roles if role.name == name)

    def phase(self, name: str) -> Phase:
        """The phase of that name."""
        return next(phase for phase in self.phases if phase.name == name)

    def restart(self, name: str) -> Restart:
        """The restart of that name."""
        return next(restart for restart in self.restarts if restart.name == name)

    @property
    def after_goal(self) -> str:
        """The restart after a goal that no rule gives the next ball for."""
        return AFTER_A_GOAL if any(one.name == AFTER_A_GOAL for one in self.restarts) else "start"

    def team(self, name: str) -> Team:
        """The team of that name."""
        return next(team for team in self.teams if team.name == name)
