"""The short form of a game: what people write in TOML.

Everything with a name is a table keyed by that name, so that every value has a natural dotted path
(``areas.square.length``, ``phases.keep.rules.unlock.count``).  The field descriptions below are the
reference: they travel into the JSON Schema that editors read (`sim.game.schema`).  Only the shape of a
file and the range of single values are settled here; what one part says about another is settled in
`sim.game.check`, and `sim.game.resolve` makes the resolved `Game`.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal, get_args

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Discriminator,
    Field,
    StringConstraints,
    Tag,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError

from sim.game.model import Aim, End, Event, Style
from sim.populations import HEADLINE, KINDS, POPULATIONS

STYLES = get_args(Style)

Name = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]*$")]
Text = Annotated[str, StringConstraints(min_length=1)]
Unlock = Literal["transfer", "shoot"]
Counter = Literal["passes", "wins"]
Population = Literal[tuple(POPULATIONS)]
Family = Literal["overload keep-ball", "transfer", "role swap", "break-away", "even with goals", "even keep-ball"]
LossCause = Literal["interception", "tackle", "miscontrol", "misplaced", "out", "time limit", "rule fault", "shot"]


def _whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _touches(value: Any) -> Any:
    if value == "free" or (_whole(value) and 1 <= value <= 10):
        return value
    raise PydanticCustomError("rule", 'must be "free" or a whole number from 1 to 10')


def _listing(value: Any) -> bool:
    """A team's share of a role: how many, or a list of shirt numbers and written ids."""
    if _whole(value):
        return value >= 1
    return isinstance(value, list) and bool(value) and all(_whole(one) or isinstance(one, str) for one in value)


def _players(value: Any) -> Any:
    if isinstance(value, dict) and value and all(isinstance(team, str) and _listing(value[team]) for team in value):
        return value
    if not isinstance(value, dict) and _listing(value):
        return value
    raise PydanticCustomError(
        "rule", "must be a number of players from 1, a list of shirt numbers and ids, or a table of these by team"
    )


def _job(value: Any) -> Any:
    words = value.split() if isinstance(value, str) else []
    if len(words) == 3 and words[0] in STYLES and words[1] in ("in", "of", "at"):
        return value
    raise PydanticCustomError("rule", 'must read "STYLE in PLACE" with a style of edge, free, goal, wait')


def _at(value: Any) -> Any:
    words = value.split() if isinstance(value, str) else []
    if len(words) == 4 and words[0] in get_args(End) and words[1:3] == ["end", "of"]:
        return value
    raise PydanticCustomError("rule", 'must read "SIDE end of AREA" with a side of west, east, south, north')


_LISTING_SCHEMA = {
    "anyOf": [
        {"type": "integer", "minimum": 1},
        {"type": "array", "minItems": 1, "items": {"anyOf": [{"type": "integer"}, {"type": "string"}]}},
    ]
}
Touches = Annotated[
    int | str,
    BeforeValidator(_touches),
    WithJsonSchema({"anyOf": [{"const": "free"}, {"type": "integer", "minimum": 1, "maximum": 10}]}),
]
Players = Annotated[
    Any,
    BeforeValidator(_players),
    WithJsonSchema({"anyOf": [*_LISTING_SCHEMA["anyOf"], {"type": "object", "additionalProperties": _LISTING_SCHEMA}]}),
]
JobWords = Annotated[
    str,
    BeforeValidator(_job),
    WithJsonSchema({"type": "string", "pattern": "^(edge|free|goal|wait) (in|of|at) [A-Za-z0-9][A-Za-z0-9_-]*$"}),
]
AtWords = Annotated[
    str,
    BeforeValidator(_at),
    WithJsonSchema({"type": "string", "pattern": "^(west|east|south|north) end of [A-Za-z0-9][A-Za-z0-9_-]*$"}),
]


def _headline(key: str, meaning: str, unit: str, typical) -> Any:
    """The type of a headline value: optional, with its legal range and what is typical of each population."""
    kind = next(kind for kind in KINDS if kind.name == HEADLINE[key])
    words = "; ".join(f"{name} {typical(preset)}" for name, preset in POPULATIONS.items())
    legal = f"Legal {kind.low:g} to {kind.high:g}"
    description = f"{meaning} Unit: {unit}. {legal}. Typical: {words}. Left out: drawn from the population."
    return Annotated[float | None, Field(default=None, ge=kind.low, le=kind.high, description=description)]


def _mean(key: str):
    """What the typical player of a population has."""
    return lambda preset: f"about {preset.trait(HEADLINE[key]).mean:g}"


PassSuccess = _headline(
    "pass_success",
    "Share of unpressed 10 m ground passes, nobody else within 10 m, that a standing receiver controls; not match "
    "completion.",
    "share",
    lambda preset: preset.pass_success_words,
)
PressingSpeed = _headline(
    "pressing_speed",
    "Mean speed over 8 m from standing when closing an opponent down, reaction and slowing at the end left out; never "
    "above what the player's sprint allows.",
    "m/s",
    _mean("pressing_speed"),
)
Recovery = _headline(
    "recovery",
    "Standing rest after which half of the hard-running reserve is back.",
    "seconds",
    _mean("recovery"),
)


class Short(BaseModel):
    """Base of the short form: frozen, strict types, no unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, allow_inf_nan=False)


class ShortArea(Short):
    """A rectangle on the ground. Give `beside` (with `on`), `within` or `centre` for every area but the first."""

    length: float = Field(gt=0, description="Size from west to east. Unit: the file's. Legal: above 0, to 150 m.")
    width: float = Field(gt=0, description="Size from south to north. Unit: the file's. Legal: above 0, to 150 m.")
    run_off: float | None = Field(
        default=None, ge=0, description="Free strip around it. Unit: the file's. Default 3 m."
    )
    beside: Name | None = Field(default=None, description="The area it lies next to.")
    on: End | None = Field(default=None, description="Which side of that area it lies on.")
    gap: float | None = Field(
        default=None, ge=0, description="Free ground between the two. Unit: the file's. Default 0."
    )
    within: Name | None = Field(default=None, description="The larger area whose middle it is marked out in.")
    centre: list[float] | None = Field(
        default=None, min_length=2, max_length=2, description="Its centre [x, y]: x to the east, y to the north."
    )


class ShortGoal(Short):
    """A goal: `at` an end of an area, or `centre` with `end`."""

    at: AtWords | None = Field(default=None, description='Where it stands: "east end of pitch".')
    distance: float | None = Field(
        default=None, ge=0, description="How far beyond that end. Unit: the file's. Default 0."
    )
    centre: list[float] | None = Field(default=None, min_length=2, max_length=2, description="Mouth centre [x, y].")
    end: End | None = Field(default=None, description="The end of play it closes, with `centre`.")
    width: float | None = Field(default=None, gt=0, description="Between the posts. Unit: the file's. Default 7.32 m.")
    height: float | None = Field(default=None, gt=0, description="Under the bar. Unit: the file's. Default 2.44 m.")
    attacked_by: Name = Field(default="any", description='The side that scores in it, or "any".')


class ShortTeam(Short):
    """A set of bibs."""

    population: Population = Field(default="amateur men", description="The preset its players are drawn from.")
    home: Name | None = Field(default=None, description="Its home area, where the rules use one.")
    pass_success: PassSuccess
    pressing_speed: PressingSpeed
    recovery: Recovery


class ShortRole(Short):
    """What some players do, whatever their bibs."""

    side: Name = Field(
        description='Who they share the ball with: "team" (their bibs), "holder" (whoever has it: floaters), or any '
        "word (everybody whose role names that word)."
    )
    style: Style = Field(
        description="edge: on the lines; free: anywhere in the place; goal: keeper; wait: stands ready."
    )
    place: Name = Field(
        description='An area, "active" (where the ball is), "home" (their team\'s), or a goal (style goal).'
    )
    touches: Touches = Field(default="free", description='Most touches in a row, 1 to 10, or "free".')
    players: Players = Field(
        default={},
        description="How many (one team), or by team: { amber = 4 }, or shirt numbers and ids: { amber = [1, 2] }. "
        "Left out where players only take this role during play.",
    )


class ShortPlayer(Short):
    """What is known of one player, keyed by the player's id (TEAM-NUMBER unless written in a role's list)."""

    number: int | None = Field(default=None, ge=0, le=99, description="Shirt number of a player with a written id.")
    pass_success: PassSuccess
    pressing_speed: PressingSpeed
    recovery: Recovery


class OpenAction(Short):
    open: Unlock = Field(description="From now on this is allowed.")


class CloseAction(Short):
    close: Unlock = Field(description="From now on this is not allowed.")


class ScoreAction(Short):
    score: float = Field(ge=0.1, le=100, description="Points. Legal 0.1 to 100.")
    to: Name = Field(default="holder", description="holder, winner, loser or a side.")


class SwapAction(Short):
    swap: Literal["loser", "loser and partner"] = Field(description="Who of the side that lost the ball goes in.")
    with_: Literal["winner", "longest in"] = Field(alias="with", description="Who of the other side comes out.")


class TradeAction(Short):
    trade: Literal["roles"] = Field(description="The two teams exchange all roles, number for number.")


class AssignAction(Short):
    assign: Name = Field(description="The role to take.")
    of: Literal["holder", "other", "all"] = Field(description="Whose players: with the ball, without it, or all.")
    from_: Name | None = Field(default=None, alias="from", description="Only players now in this role.")
    count: int | None = Field(default=None, ge=1, description="How many. Left out: all of them.")
    choose: Literal["nearest", "longest in", "passer and receiver"] = Field(
        default="nearest", description="Which ones, when not all."
    )


class PhaseAction(Short):
    phase: Name = Field(description="The phase that begins.")


class RestartAction(Short):
    restart: Name = Field(description="The ball is dead until this restart serves it.")


class ResetAction(Short):
    reset: Counter = Field(description="This counter goes back to 0.")


class EndAction(Short):
    end: Literal["bout"] = Field(description="The bout is over.")


ACTIONS: dict[str, type[Short]] = {
    "open": OpenAction,
    "close": CloseAction,
    "score": ScoreAction,
    "swap": SwapAction,
    "trade": TradeAction,
    "assign": AssignAction,
    "phase": PhaseAction,
    "restart": RestartAction,
    "reset": ResetAction,
    "end": EndAction,
}


def verb_of(action: Any) -> str | None:
    """The one verb key of an action in the short form (a table or a model), or None."""
    keys = action if isinstance(action, dict) else type(action).model_fields
    verbs = [key for key in keys if key in ACTIONS]
    return verbs[0] if len(verbs) == 1 else None


ShortAction = Annotated[
    Annotated[OpenAction, Tag("open")]
    | Annotated[CloseAction, Tag("close")]
    | Annotated[ScoreAction, Tag("score")]
    | Annotated[SwapAction, Tag("swap")]
    | Annotated[TradeAction, Tag("trade")]
    | Annotated[AssignAction, Tag("assign")]
    | Annotated[PhaseAction, Tag("phase")]
    | Annotated[RestartAction, Tag("restart")]
    | Annotated[ResetAction, Tag("reset")]
    | Annotated[EndAction, Tag("end")],
    Discriminator(
        verb_of,
        custom_error_type="rule",
        custom_error_message=f"must be a table with exactly one verb of {', '.join(ACTIONS)}",
    ),
]


class ShortRule(Short):
    """When something happens, do these things in order."""

    on: Event = Field(description="What has to happen.")
    count: float | None = Field(
        default=None, gt=0, description="passes, wins: the number reached; time: seconds since the phase began."
    )
    each: bool = Field(default=False, description="passes, wins: at every multiple, not only the first time.")
    causes: list[LossCause] = Field(default=[], description="loss: only these causes.")
    by: Name | None = Field(default=None, description="Only if this side did it (loss: if this side lost it).")
    do: list[ShortAction] = Field(min_length=1, description="What follows, in order.")


class ShortPhase(Short):
    """A stretch of play with one purpose."""

    aim: Aim = Field(default="keep", description="keep the ball, bring it home, or score a goal.")
    ball_in: Name = Field(default="active", description='The area the ball is played in; "active": where it is now.')
    open: list[Unlock] = Field(default=[], description="What is allowed from the start of the phase.")
    jobs: dict[Name, JobWords] = Field(default={}, description="By role: another style and place, in this phase only.")
    rules: dict[Name, ShortRule] = Field(default={}, description="The rules in force, by name.")


class ShortRestart(Short):
    """How a dead ball comes back."""

    to: Name = Field(description='A side, "other" (than the last to touch it), "same", "loser" or "winner".')
    from_: Literal["server", "line", "keeper"] = Field(
        default="server", alias="from", description="server: beside the area; line: where it went out; keeper."
    )
    seconds: float = Field(default=4.0, ge=0, le=120, description="Until the ball is played in. Legal 0 to 120.")
    area: Name = Field(default="active", description='An area, "active" or "home" (of the side that receives).')


class ShortStart(Short):
    side: Name = Field(description="The side that has the ball first.")
    phase: Name | None = Field(default=None, description="The first phase. Default: the first in the file.")
    area: Name | None = Field(default=None, description="The first area. Default: the phase's, else the first.")


class ShortBouts(Short):
    count: int = Field(default=4, ge=1, le=60, description="Bouts in a session. Legal 1 to 60.")
    minutes: float | None = Field(default=None, gt=0, le=60, description="Length of one bout. Legal above 0, to 60.")
    seconds: float | None = Field(default=None, gt=0, le=3600, description="The same in seconds.")
    rest_minutes: float | None = Field(default=None, ge=0, le=60, description="Rest between bouts. Default 1.")
    rest_seconds: float | None = Field(default=None, ge=0, le=3600, description="The same in seconds.")
    rotate: Literal["none", "list"] = Field(default="none", description="list: roles move on between bouts.")


class ShortSupply(Short):
    balls: int = Field(default=8, ge=1, le=100, description="Balls ready at the area. Legal 1 to 100.")
    retrieve_seconds: float = Field(default=10.0, ge=0, le=120, description="Extra wait once they are used up.")


class ShortWin(Short):
    confirm: Literal["control", "hold", "passes"] = Field(default="control", description="What makes a win count.")
    seconds: float | None = Field(default=None, gt=0, le=30, description="hold: for how long. Legal above 0, to 30.")
    passes: int | None = Field(default=None, ge=1, le=20, description="passes: how many. Legal 1 to 20.")


class ShortGame(Short):
    """One possession game."""

    format: Literal[1] = Field(description="Version of this layout: 1.")
    name: Name | None = Field(default=None, description="Short name. Default: the file's.")
    title: Text = Field(description="What the coach calls it.")
    purpose: Text = Field(description="What it is for, in a sentence.")
    club: Text = Field(default="Quillhaven", description="Whose game it is.")
    family: Family = Field(description="The kind of game.")
    units: Literal["metres", "yards"] = Field(default="metres", description="Unit of lengths in this file.")
    hold_limit_seconds: float = Field(
        default=6.0, ge=1, le=60, description="Longest one player may keep the ball before it is lost. Legal 1 to 60."
    )
    between_areas: Literal["first", "out"] = Field(
        default="first", description="A ball between two areas: belongs to the first there, or is out."
    )
    start: ShortStart
    bouts: ShortBouts
    areas: dict[Name, ShortArea] = Field(min_length=1)
    goals: dict[Name, ShortGoal] = {}
    teams: dict[Name, ShortTeam] = Field(min_length=1)
    roles: dict[Name, ShortRole] = Field(min_length=1)
    players: dict[Name, ShortPlayer] = {}
    phases: dict[Name, ShortPhase] = Field(min_length=1)
    restarts: dict[Name, ShortRestart] = {}
    supply: ShortSupply = ShortSupply()
    win: ShortWin = ShortWin()
