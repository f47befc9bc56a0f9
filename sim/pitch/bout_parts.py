"""What is remembered of a bout from one moment to the next, by what it is about; and its layout."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from sim.game.borders import ground, lies_in
from sim.game.model import Aim, Area, Game, Goal, Phase
from sim.game.sought import places_asked
from sim.game.zones import HOLDER, OTHER
from sim.geometry import covers
from sim.pitch.clock import Spell
from sim.rules.rule_state import RuleState


class Charge(NamedTuple):
    """How a side has lost the ball, or will have if an opponent is the next to control it, and whom that is charged to (-1:
    nobody)."""

    cause: str = ""  # "": an interception, if it comes to that
    player: int = -1
    passer: int = -1  # who played the pass that is on its way (-1: it is none), and for whom it was meant
    receiver: int = -1


NO_CHARGE = Charge()


@dataclass(slots=True)
class PendingWin:
    """A win that waits to be confirmed."""

    side: str  # that had the ball
    winner: int
    charge: Charge
    passes: int = 0  # completed since


@dataclass(slots=True)
class Crossing:
    """A pass on its way from one area to another."""

    start: str
    end: str
    landed: bool = False  # it has been touched in the area it was played to


@dataclass(slots=True)
class Possession:
    """Whose ball it is."""

    toucher: int  # who touched the ball last (-1: nobody yet)
    touching_side: str  # and for which side
    controlled_in: str  # the area where the ball was last under control
    charge: Charge = NO_CHARGE
    last_pass: tuple[int, int] = (-1, -1)  # passer and receiver
    last_of_side: int = -1  # who of the side in possession, floaters apart, touched it last since it has the ball
    pending: PendingWin | None = None
    loss_noted: Phase | None = None  # the loss being settled is already in the log: in which phase it happened
    just_won: bool = False  # an opponent has just taken the ball, and no rule has heard of where
    crossing: Crossing | None = None
    crossed: bool = False  # the ball has been played across in this phase
    together: tuple[int, ...] = ()  # who of the side that won it last were at the ball then


@dataclass(slots=True)
class Carrier:
    """Who has the ball under control, beyond what the arrays say of him."""

    first_time: bool = False  # he plays it with his first touch
    look_at: float = 0.0  # when he looks up next (s)
    in_play: bool = False  # he had the ball on the ground in play when last seen, and that ground is the same
    target: Goal | None = None  # the goal he goes for
    inside: frozenset[str] = frozenset()  # the areas he had the ball in when last seen, where anybody asks


@dataclass(slots=True)
class Struck:
    """A pass on its way, as far as only its beginning and its way tell."""

    areas: frozenset[str]  # it was played from
    role: str  # of the passer
    first_time: bool
    had_from: int  # who had given him the ball (-1: nobody)
    gates: list[str]  # it has gone through


@dataclass(slots=True)
class Watch:
    """The stopwatch of counters of seconds."""

    side: str | None = None  # for whom it runs (None: it stands)
    read_at: float = 0.0  # s


@dataclass(slots=True)
class PlayClock:
    """The clock of a bout that stands while the ball is dead: seconds played until it was started, and since when it runs."""

    played: float = 0.0
    since: float | None = None


@dataclass(slots=True)
class Flight:
    """The moving ball, beyond what the arrays say of it."""

    fresh: bool = True  # it has just been struck: nobody has tried for it and missed
    barred: int = 0  # who may not have it next: a bit a player
    speed: float = 0.0  # m/s with which it came to whoever got to it last
    shot: bool = False  # it is a shot at goal
    whistle_due: bool = False  # time is up, and only this shot is waited for
    struck: Struck | None = None
    offside: int = 0  # who was offside as the pass was struck: a bit a player


class Called(NamedTuple):
    """A restart that has been called: which side gets the ball, from where, at what time, and from which spot (None: any)."""

    to: str
    source: str
    due: float
    spot: tuple[float, float] | None


@dataclass(slots=True)
class Restart:
    """Balls out of play."""

    balls: int  # that lie ready
    played: int = 0  # balls that have come into play
    role: str | None = None  # only a player in it takes the next one, where there is one
    by: tuple[int, ...] | None = None  # only one of these does, where he can (None: anybody)
    taker: int = -1  # who takes it (-1: the server will choose)
    spot: tuple[float, float] = (0.0, 0.0)  # where the ball went dead
    called: Called | None = None  # what is waited for
    called_at: float = 0.0
    sizes: dict[str, tuple[float, float]] = field(default_factory=dict)  # of areas, from the next dead ball on (m)


@dataclass(frozen=True, slots=True)
class Spells:
    """For how long moments that have been booked are valid."""

    ball: Spell  # as long as the ball's state lasts
    tackle: Spell  # the attempt that is awaited
    timers: Spell  # those of the present phase
    win: Spell  # the one that waits to be confirmed
    watch: Spell  # until the stopwatch is read again
    clock: Spell  # until the clock of the bout is stopped


@dataclass(frozen=True, slots=True)
class Layout:
    """What of the game does not change in a bout, but for areas that are marked out anew."""

    lies_in: frozenset[tuple[str, str]]  # which area (first) lies in which (second)
    grounds: dict[str, tuple[Area, ...]]  # the areas that form one ground with each
    sides: dict[str, int]  # the number of each side in the arrays
    tells_apart: bool  # a rule or a counter tells passes, carries, wins or touches apart
    spares: bool  # a role may not be tackled, or not always
    area_of: dict[str, str]  # the area of each area and zone
    turns: bool  # who has the ball changes where somebody plays
    seeks: bool  # a side plays through gates, or a rule rewards it for bringing the ball to a zone or an area inside another


def tells_deeds(game: Game) -> bool:
    """Whether a rule tells passes or carries apart."""
    return any(rule.on in ("pass", "carry") for phase in game.phases for rule in phase.rules)


def aims_at(aims: set[Aim], game: Game) -> bool:
    """Whether any side aims at one of these."""
    return any(aims & phase.all_aims for phase in game.phases)


def grounds_of(game: Game) -> dict[str, tuple[Area, ...]]:
    """The areas that form one ground with each."""
    first = game.between_areas == "first"
    return {one.name: ground(game.areas, one.name) if first else (one,) for one in game.areas}


def layout_of(game: Game, standing: RuleState) -> Layout:
    """The layout of a game whose players have the roles they begin with."""
    names = {standing.side_of(i) for i in range(len(game.players))} | {game.start_side}
    names |= {role.side for role in game.roles if role.side not in ("team", "holder")}
    inside = [(zone.name, area) for zone in game.zones for area in game.areas if covers(area.bounds, zone.bounds)]
    areas = sorted(inside, key=lambda one: -one[1].length * one[1].width)  # of several the smallest
    return Layout(
        frozenset((one.name, other.name) for one in game.areas for other in game.areas if lies_in(one, other))
        | {(name, area.name) for name, area in inside},
        grounds_of(game),
        {name: k for k, name in enumerate(sorted(names)) if name != "holder"},
        bool(game.counters) or game.win.confirm == "gate" or tells_deeds(game),
        any(role.tackled != "always" for role in game.roles),
        {area.name: area.name for area in game.areas} | {name: area.name for name, area in areas},
        any({HOLDER, OTHER} & set(zone.closed_to) for zone in game.zones) or any(role.turns for role in game.roles),
        any(places_asked(game, phase) for phase in game.phases) or aims_at({"gates"}, game),
    )
