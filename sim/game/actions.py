"""The consequences a rule can have, as people write them: one verb a table, the rest its words.

``{ score = 1, to = "holder" }``, ``{ swap = "loser", with = "longest in" }``.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from sim.game.bounds import MOST_PLAYERS
from sim.game.values import Name, SpecTable, Unlock


class OpenAction(SpecTable):
    """From now on something more is allowed."""

    open: Unlock = Field(description="What is allowed from now on.")


class CloseAction(SpecTable):
    """From now on something is no longer allowed."""

    close: Unlock = Field(description="What is no longer allowed.")


class ScoreAction(SpecTable):
    """A side gets points."""

    score: float = Field(ge=0.1, le=100, description="Points. Legal 0.1 to 100.")
    to: Name = Field(
        default="holder", description="Who gets them: holder (the side with the ball), winner, loser or a side."
    )


class SwapAction(SpecTable):
    """Whoever lost the ball, or his pair, changes places with somebody of the other side."""

    swap: Literal["loser", "loser and partner"] = Field(
        description="Who of the side that lost the ball goes in; partners are the pairs of the team."
    )
    with_: Literal["winner", "longest in"] = Field(
        alias="with",
        description="Who of the other side comes out (with a partner, if one goes in); longest in where nobody won it.",
    )


class TradeAction(SpecTable):
    """The two teams change roles as a whole."""

    trade: Literal["roles"] = Field(description="The two teams swap all their roles, number for number.")


class AssignAction(SpecTable):
    """Some players of a side take a role."""

    assign: Name = Field(description="The role to take.")
    of: Literal["holder", "other", "all"] = Field(
        description="Whose players: holder (the side with the ball), other, or all."
    )
    from_: Name | None = Field(
        default=None,
        alias="from",
        description="Only players in this role, but not those the same rule has just given it to. Left out only where nobody "
        "could change sides by it.",
    )
    count: int | None = Field(default=None, ge=1, le=MOST_PLAYERS, description="How many. Left out: all of them.")
    choose: Literal["nearest", "longest in", "passer and receiver"] = Field(
        default="nearest",
        description="Which ones, when not all: nearest the ball (never the one who has it), longest in their role, or passer and "
        "receiver of the last pass (nobody else; one of them or none, if they do not qualify).",
    )


class PhaseAction(SpecTable):
    """Another phase begins."""

    phase: Name = Field(description="The phase that begins.")


class RestartAction(SpecTable):
    """The ball is dead and comes back by a restart."""

    restart: Name = Field(description="The ball is dead until this restart serves it.")


class ResetAction(SpecTable):
    """A count begins again."""

    reset: Name = Field(description="The count that starts again: passes, wins or a counter.")


class EndAction(SpecTable):
    """The bout ends."""

    end: Literal["bout"] = Field(description="The bout is over.")


ACTIONS: dict[str, type[SpecTable]] = {
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
    keys = action if isinstance(action, dict) else getattr(type(action), "model_fields", ())
    verbs = [key for key in keys if key in ACTIONS]
    return verbs[0] if len(verbs) == 1 else None


ActionSpec = Annotated[
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
