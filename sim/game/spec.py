"""The full form of a game: what people write in TOML, with everything said.

Everything with a name is a table keyed by that name, so that every value has a natural dotted path
(``areas.square.length``, ``phases.keep.rules.unlock.count``).  The field descriptions below are the
reference: they travel into the JSON Schema that editors read (`sim.game.schema`).  A file may be shorter
(`sim.game.short_words`): `sim.game.whole` brings it into this form.  Only the shape of a
file and the range of single values are settled here; what one part says about another is settled in
`sim.game.references`, and `sim.game.resolve` makes the resolved `Game`.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from sim.game.actions import ActionSpec
from sim.game.bounds import LONGEST_BOUT_S, MOST_GATES, MOST_OF_ONE, MOST_ZONES
from sim.game.bouts_spec import BoutsSpec
from sim.game.colours import OF_A_COLOUR
from sim.game.counting import ConditionsSpec, CounterSpec, GateSpec
from sim.game.fouls import FoulsSpec
from sim.game.loads import LoadSpec
from sim.game.meanings import what_has_to_happen
from sim.game.model import HOUSE_CLUB, Aim, End, Event, Style
from sim.game.trials import IntermittentRun, ShuttleKey, SprintKey
from sim.game.values import (
    AtWords,
    Centre,
    JobWords,
    Label,
    LossCause,
    Name,
    Pairs,
    PassSuccess,
    Players,
    Population,
    PressingSpeed,
    Recovery,
    SpecTable,
    Text,
    Touches,
    Unlock,
)
from sim.game.zone_spec import ZoneSpec


class AreaSpec(SpecTable):
    """A rectangle on the ground. Give `beside` (with `on`), `within` or `centre` for every area but the first."""

    length: float = Field(gt=0, description="Size from west to east. Unit: the file's. Legal: 2 to 150 m.")
    width: float = Field(gt=0, description="Size from south to north. Unit: the file's. Legal: 2 to 150 m.")
    run_off: float | None = Field(
        default=None,
        ge=0,
        description="Free strip around it. Unit: the file's. Default 2 m where players stand on its lines, else 3 m. Legal 0 to "
        "1000 m.",
    )
    out: Literal["line", "run-off"] | None = Field(
        default=None,
        description="When a ball over its line is out. line: at once; run-off: when it leaves the free strip, or stops there "
        "with nobody on the line to have it: they step back to take it. Default run-off where players stand on its lines and "
        "run_off is at least 0.5 m, else line.",
    )
    beside: Name | None = Field(default=None, description="The area it lies next to.")
    on: End | None = Field(default=None, description="Which side of that area it lies on.")
    gap: float | None = Field(
        default=None, ge=0, description="Free ground between the two. Unit: the file's. Default 0. Legal 0 to 1000 m."
    )
    within: Name | None = Field(default=None, description="The larger area whose middle it is marked out in.")
    centre: Centre = None


class GoalSpec(SpecTable):
    """A goal: `at` an end of an area, or `centre` with `end`."""

    at: AtWords | None = Field(default=None, description='Where it stands: "east end of pitch".')
    distance: float | None = Field(
        default=None, ge=0, description="How far beyond that end. Unit: the file's. Default 0. Legal 0 to 1000 m."
    )
    centre: Centre = None
    end: End | None = Field(default=None, description="Which end of the play it stands at, with `centre`.")
    width: float | None = Field(
        default=None, gt=0, description="Between the posts. Unit: the file's. Default 7.32 m. Legal 0.2 to 150 m."
    )
    height: float | None = Field(
        default=None, gt=0, description="Under the bar. Unit: the file's. Default 2.44 m. Legal 0.2 to 10 m."
    )
    attacked_by: Name = Field(default="any", description='The side that scores in it, or "any".')


class TeamSpec(SpecTable):
    """A set of bibs."""

    population: Population = Field(default="amateur men", description="What kind of players they are.")
    home: Name | None = Field(default=None, description="Its home area, where the rules use one.")
    pass_success: PassSuccess
    pressing_speed: PressingSpeed
    recovery: Recovery
    pairs: Pairs = Field(
        default=[],
        description='Partners, by shirt number or written id: [[1, 2], [3, 4]]. They change together by swap = "loser and '
        'partner", and only by it.',
    )


class RoleSpec(SpecTable):
    """What some players do, whatever their bibs."""

    ladder: list[Annotated[int, Field(ge=1, le=10)]] = Field(
        default=[],
        max_length=MOST_OF_ONE,
        description="What becomes of their touches, step by step, by { step = ... }: [2, 1], each fewer than the one before. In a "
        "new role, and as a bout begins, everybody is at the top again.",
    )
    side: Name = Field(
        description='Who they share the ball with: "team" (their bibs), "holder" (whoever has it: floaters), or any '
        "word (everybody whose role names that word)."
    )
    style: Style = Field(
        description="edge: on the lines; free: anywhere in the place; goal: keeper; wait: stands ready."
    )
    place: Name = Field(
        description='An area, a zone (they keep to it), "active" (where the ball is), "home" (their team\'s), or a goal (style '
        "goal)."
    )
    with_ball: JobWords | None = Field(
        default=None,
        description='Another style and place while their side has the ball: "edge in square". Not of floaters.',
    )
    without_ball: JobWords | None = Field(default=None, description="The same while it has not.")
    touches: Touches = Field(default="free", description='Most touches in a row, 1 to 10, or "free".')
    press: float = Field(
        default=0.5,
        ge=0,
        le=1,
        description="0 hold off to 1 go and win it; from 0.75 a second one joins in. Legal 0 to 1.",
    )
    marking: float = Field(default=0.5, ge=0, le=1, description="0 guard space to 1 stay with a man. Legal 0 to 1.")
    win_back: float = Field(
        default=0.0, ge=0, le=30, description="Seconds after losing it in which all hunt the ball. Legal 0 to 30."
    )
    width: float = Field(
        default=1.0, ge=0.3, le=1.2, description="How wide they spread, south to north; 1 is usual. Legal 0.3 to 1.2."
    )
    depth: float = Field(
        default=1.0, ge=0.3, le=1.2, description="How deep they spread, west to east; 1 is usual. Legal 0.3 to 1.2."
    )
    tempo: float = Field(default=0.5, ge=0, le=1, description="0 be patient to 1 play quickly. Legal 0 to 1.")
    positions: Literal["free", "fixed"] = Field(
        default="free", description="fixed: hold their positions; free: go where they are most use."
    )
    effort: float = Field(default=1.0, ge=0.5, le=1.3, description="How hard they run; 1 is usual. Legal 0.5 to 1.3.")
    tackled: Literal["always", "never", "after a back-pass"] = Field(
        default="always",
        description="Whether opponents may tackle one of them who has the ball. after a back-pass: only if a team-mate has played "
        "it to them (any other ball is in their hands).",
    )
    hands: bool = Field(
        default=True, description="false: of keepers with feet only; a shot they stop is not held, but runs loose."
    )
    players: Players = Field(
        default={},
        description="How many (one team), or by team: { amber = 4 }, or shirt numbers (0 to 99) and ids: { amber = [1, 2] }. "
        "At most 60 in all roles together. "
        "Left out where players only take this role during play.",
    )


class PlayerSpec(SpecTable):
    """What is known of one player, keyed by the player's id (TEAM-NUMBER unless written in a role's list)."""

    number: int | None = Field(default=None, ge=0, le=99, description="Shirt number of a player with a written id.")
    pass_success: PassSuccess
    pressing_speed: PressingSpeed
    recovery: Recovery
    sprint: SprintKey
    intermittent_run: IntermittentRun
    shuttle: ShuttleKey
    restricted: bool = Field(
        default=False,
        description="true: on reduced load. Plays like anybody; no change is proposed that may give this player more to do.",
    )
    touches: Touches | None = Field(
        default=None, description='Most touches in a row, 1 to 10 or "free", where the role allows as many.'
    )
    never: list[Name] = Field(
        default=[],
        max_length=MOST_OF_ONE,
        description="Roles this player never takes: whatever would give one passes over them.",
    )
    tackles: bool = Field(default=True, description="false: tackles nobody and is tackled by nobody.")
    most_bouts: int | None = Field(
        default=None,
        ge=1,
        le=60,
        description="Bouts of a session in which this player plays at most. Needs a role whose players wait. Legal 1 to 60.",
    )
    most_minutes: float | None = Field(
        default=None,
        gt=0,
        le=LONGEST_BOUT_S / 60,
        description="Minutes of a session, on the watch and not waiting, that this player plays at most: then the next of those "
        "who wait comes, at the next dead ball; for one who is restricted, at once. Needs a role whose players wait. Legal above "
        "0, to 120.",
    )


class RuleSpec(ConditionsSpec):
    """When something happens, do these things in order."""

    on: Event = Field(description=what_has_to_happen())
    count: float | None = Field(
        default=None,
        gt=0,
        le=LONGEST_BOUT_S,
        description="passes, wins: the number reached, counted from when the phase began; time: seconds since then; counter: what "
        "the counter has to reach. Legal above 0, to 7200.",
    )
    counter: Name | None = Field(default=None, description="counter: which one.")
    each: bool = Field(
        default=False, description="passes, wins, counter, time: at every multiple, not only the first time."
    )
    causes: list[LossCause] = Field(
        default=[], description="loss: only these causes (misplaced stands in older files; no loss has it)."
    )
    by: Name | None = Field(default=None, description="Only if this side did it (loss: if this side lost it).")
    colour: Name | None = Field(
        default=None,
        description=f"{', '.join(OF_A_COLOUR)}: only if who did it is of this team, on whichever side. The loser of a loss.",
    )
    last_step: bool = Field(
        default=False, description="loss: only if whoever it is charged to is at the foot of his role's ladder."
    )
    do: list[ActionSpec] = Field(min_length=1, max_length=MOST_OF_ONE, description="What follows, in order.")


class PhaseSpec(SpecTable):
    """A stretch of play with one purpose."""

    aim: Aim = Field(
        default="keep",
        description="keep the ball, bring it home, score a goal; play through gates, string passes together, or take it to zones, "
        "as the rules reward it.",
    )
    aims: dict[Name, Aim] = Field(
        default={}, max_length=2, description='By side, where one aims at something else: { slate = "goal" }.'
    )
    ball_in: Name = Field(default="active", description='The area the ball is played in; "active": where it is now.')
    open: list[Unlock] = Field(default=[], description="What is allowed from the start: transfer, shoot, closed zones.")
    open_for: dict[Name, list[Unlock]] = Field(
        default={},
        max_length=2,
        description='By side, what is allowed from the start to it alone: { slate = ["shoot"] }.',
    )
    jobs: dict[Name, JobWords] = Field(
        default={}, max_length=MOST_OF_ONE, description="By role: another style and place, in this phase only."
    )
    rules: dict[Name, RuleSpec] = Field(default={}, max_length=MOST_OF_ONE, description="The rules in force, by name.")


class RestartSpec(SpecTable):
    """How a dead ball comes back."""

    to: Name = Field(description='A side, "other" (than the last to touch it), "same", "loser" or "winner".')
    from_: Literal["server", "line", "keeper", "own end", "gate"] = Field(
        default="server",
        alias="from",
        description="server: beside the area; line: where it went out; keeper; own end: beside the goal at the end of the area "
        "that the side defends; gate: the gate of that key.",
    )
    gate: Name | None = Field(default=None, description="With from = gate: the gate where the ball comes in.")
    seconds: float = Field(default=4.0, ge=0, le=120, description="Until the ball is played in. Legal 0 to 120.")
    area: Name = Field(
        default="active",
        description='An area, "active", "home" (of the side that receives) or "across" (the other of two areas).',
    )
    role: Name | None = Field(
        default=None,
        description="Only a player in this role gets or takes it. Left out, or where nobody in it can: anybody.",
    )
    by: Literal["newcomer", "winner", "loser"] | None = Field(
        default=None,
        description="Who of the side gets or takes it: whoever has just come into a role by a rule (comes out for another, or is "
        "the next of a queue), whoever won it, or whoever lost it. Where that one cannot: anybody.",
    )


class StartSpec(SpecTable):
    """Who has the ball first, in which phase and where."""

    side: Name = Field(description="The side that has the ball first.")
    phase: Name | None = Field(default=None, description="The first phase. Default: the first in the file.")
    area: Name | None = Field(default=None, description="The first area. Default: the phase's, else the first.")
    points: dict[Name, float] = Field(
        default={}, max_length=2, description="Points that sides begin every bout with: { amber = 1 }. Legal 0 to 100."
    )


class SupplySpec(SpecTable):
    """The balls that are ready, and what happens when they are used up."""

    balls: int = Field(default=8, ge=1, le=100, description="Balls ready at the area. Legal 1 to 100.")
    retrieve_seconds: float = Field(
        default=10.0,
        ge=0,
        le=120,
        description="How much longer each new ball takes once they are used up. Legal 0 to 120.",
    )


class WinSpec(SpecTable):
    """What counts as winning the ball."""

    confirm: Literal["touch", "control", "hold", "passes", "gate"] = Field(
        default="control",
        description="What makes a win count: a touch of an opponent, even if it runs on; the ball under control; held; passes; or "
        "a pass through a gate.",
    )
    seconds: float | None = Field(default=None, gt=0, le=30, description="hold: for how long. Legal above 0, to 30.")
    passes: int | None = Field(default=None, ge=1, le=20, description="passes: how many. Legal 1 to 20.")
    gate: Name | None = Field(default=None, description='gate: which one, or "any".')
    together: Literal["first", "longest in", "next on the list"] = Field(
        default="first",
        description="Of two or more who are at the ball as one of them wins it: who changes places as the winner. first: the first "
        "to touch it. Whoever that is, the win is his who touched it first.",
    )
    contested: Literal["goes on", "starts again"] = Field(
        default="goes on",
        description="What becomes of the passes in a row of a side that has the ball back before the others have won it for good.",
    )


class LossSpec(SpecTable):
    """Whom a loss is charged to."""

    charged: Literal["last touch", "passer", "receiver", "nearest"] = Field(
        default="last touch",
        description="Whom a pass is charged to that does not come under control: the last of the side to touch it, who played it, "
        "whom it was meant for, or the nearest of the side. Any other loss: who had the ball.",
    )
    floater: Literal["nobody", "last team-mate"] = Field(
        default="nobody",
        description="Whom a floater's loss is charged to, where anybody changes places for it: nobody, or the last of the side to "
        "touch the ball before him.",
    )


class GameSpec(SpecTable):
    """One possession game."""

    format: Literal[1] = Field(description="Version of this layout: 1.")
    name: Label | None = Field(default=None, description="Short name. Default: the file's.")
    title: Text = Field(description="What the coach calls it.")
    purpose: Text = Field(description="What it is for, in a sentence.")
    club: Text = Field(default=HOUSE_CLUB, description="Whose game it is.")
    units: Literal["metres", "yards"] = Field(default="metres", description="Unit of lengths in this file.")
    hold_limit_seconds: float = Field(
        default=6.0, ge=1, le=60, description="Longest one player may keep the ball before it is lost. Legal 1 to 60."
    )
    between_areas: Literal["first", "out"] = Field(
        default="first",
        description="first: a ball over the line between areas that touch is in play, and one played across a gap belongs to the "
        "first there; out: only a pass played across may leave its area, and it is out if touched or stopped on the way.",
    )
    start: StartSpec = Field(description="How a bout begins.")
    bouts: BoutsSpec = Field(description="Bouts, rests and rotation of a session.")
    areas: dict[Name, AreaSpec] = Field(min_length=1, max_length=MOST_OF_ONE, description="The marked ground, by name.")
    goals: dict[Name, GoalSpec] = Field(default={}, max_length=MOST_OF_ONE, description="The goals, by name.")
    teams: dict[Name, TeamSpec] = Field(min_length=1, max_length=MOST_OF_ONE, description="The sets of bibs, by name.")
    roles: dict[Name, RoleSpec] = Field(min_length=1, max_length=MOST_OF_ONE, description="What players do, by name.")
    players: dict[Label, PlayerSpec] = Field(
        default={}, max_length=MOST_OF_ONE, description="What is known of single players, by id."
    )
    phases: dict[Name, PhaseSpec] = Field(
        min_length=1, max_length=MOST_OF_ONE, description="The stretches of play and their rules, by name."
    )
    restarts: dict[Name, RestartSpec] = Field(
        default={},
        max_length=MOST_OF_ONE,
        description='How a dead ball comes back, by name. Two always exist: "start" (default: the server plays in the side '
        'that starts, in the first area, after 4 s) and "out" (default: the server plays in the other side where the ball '
        "was being played, after 4 s).",
    )
    supply: SupplySpec = Field(default=SupplySpec(), description="The stock of balls.")
    fouls: FoulsSpec = Field(default=FoulsSpec(), description="How many tackles are fouls. Default: none.")
    win: WinSpec = Field(default=WinSpec(), description="When a ball counts as won.")
    loss: LossSpec = Field(default=LossSpec(), description="Who has lost the ball, where it can be said in two ways.")
    load: LoadSpec = Field(
        default=LoadSpec(), description="What is counted as fast and as sharp. Default: as usual for the populations."
    )
    gates: dict[Name, GateSpec] = Field(
        default={}, max_length=MOST_GATES, description="Gaps between two cones to be played through, by name."
    )
    counters: dict[Name, CounterSpec] = Field(
        default={}, max_length=MOST_OF_ONE, description="Counts of your own, by name."
    )
    zones: dict[Name, ZoneSpec] = Field(
        default={}, max_length=MOST_ZONES, description="Lines inside an area: strips, thirds and boxes, by name."
    )
