"""The consequences a rule can have, as people write them: one verb a table, the rest its words.

``{ score = 1, to = "holder" }``, ``{ swap = "loser", with = "longest in" }``.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Discriminator, Field, Tag

from sim.game.bounds import LONGEST_WINDOW, MOST_PLAYERS
from sim.game.values import Name, Roles, SpecTable, Unlock


class OpenAction(SpecTable):
    """From now on something more is allowed."""

    open: Unlock = Field(
        description="What is allowed from now on: transfer, shoot, or a zone that is closed to somebody."
    )
    for_: Name | None = Field(
        default=None,
        alias="for",
        description="Whom alone: holder (the side with the ball), winner, loser or a side; the other side has to earn it on its "
        "own. Left out: everybody.",
    )


class CloseAction(SpecTable):
    """From now on something is no longer allowed."""

    close: Unlock = Field(
        description="What is no longer allowed: transfer, shoot, or a zone that is closed to somebody."
    )
    for_: Name | None = Field(
        default=None,
        alias="for",
        description="Whom alone: holder, winner, loser or a side; the other side keeps what is open to it. Left out: everybody.",
    )


class ScoreAction(SpecTable):
    """A side gets points."""

    score: float = Field(ge=0.1, le=100, description="Points. Legal 0.1 to 100.")
    to: Name = Field(
        default="holder", description="Who gets them: holder (the side with the ball), winner, loser or a side."
    )


class SwapAction(SpecTable):
    """Some players change places with others: one with one, a pair with a pair, a team with a team."""

    swap: Literal[
        "loser",
        "loser and partner",
        "loser's team",
        "winner",
        "winner and partner",
        "winner's team",
        "longest in",
        "pair longest in",
        "team longest in",
        "next on the list",
    ] = Field(
        description="Who goes: whoever lost the ball or won it, with his partner (the pairs of the team) or his whole team; or, of "
        "the side that `of` names, who has been in longest, or the next on the list."
    )
    with_: Literal["winner", "longest in", "next on the list", "waiting"] = Field(
        alias="with",
        description="Who comes for them, as many: whoever won it (longest in where nobody did), the longest in, the next on the "
        "list (by team and number; whoever has changed places goes to its end), or who has "
        "waited longest. Of the other side and in play, but for those who wait.",
    )
    of: Literal["holder", "other"] | None = Field(
        default=None,
        description="Whose players go: holder (the side with the ball) or other. Left out where the loser or the winner goes.",
    )
    from_: Roles | None = Field(
        default=None,
        alias="from",
        description="Only players in this role come, or in one of these, whoever has the ball; floaters, too.",
    )
    alone: bool = Field(
        default=False,
        description="true, of a loser or winner and partner: whoever has no partner on his side goes alone, and as many come, "
        "whoever's partners they are; so not everybody needs a partner, and partners may be parted.",
    )

    @property
    def come_from(self) -> list[str]:
        """The roles in which somebody may come; none where `from` does not say so."""
        return [] if self.from_ is None else [self.from_] if isinstance(self.from_, str) else self.from_


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
    choose: Literal["nearest", "longest in", "passer and receiver", "next on the list"] = Field(
        default="nearest",
        description="Which ones, when not all: nearest the ball (never the one who has it), longest in their role, passer and "
        "receiver of the last pass (nobody else; one of them or none, if they do not qualify), or next on the list (by team and "
        "number).",
    )


class PhaseAction(SpecTable):
    """Another phase begins."""

    phase: Name = Field(description="The phase that begins.")


class RestartAction(SpecTable):
    """The ball is dead and comes back by a restart."""

    restart: Name = Field(description="The ball is dead until this restart serves it.")


class ResetAction(SpecTable):
    """A count begins again."""

    reset: Name = Field(
        description="The count that starts again: passes, wins, a counter, or steps: everybody is back at the top of the ladder."
    )


class EndAction(SpecTable):
    """The bout ends."""

    end: Literal["bout"] = Field(description="The bout is over.")


class WindowAction(SpecTable):
    """The side that has lost the ball has so long to win it back."""

    window: float = Field(
        gt=0,
        le=LONGEST_WINDOW,
        description="How long. Legal above 0, to 120. What follows: rules on won back and not won back of the phase.",
    )
    of: Literal["seconds", "passes"] = Field(
        default="seconds", description="seconds by the watch, or passes of the other side."
    )
    floaters: bool = Field(default=True, description="of passes. false: those from and to floaters do not count.")


class StepAction(SpecTable):
    """Down the ladder of the role."""

    step: Literal["loser", "side"] = Field(
        description="Who goes a step down: whoever lost the ball, or everybody on his side."
    )


class ResizeAction(SpecTable):
    """An area grows or shrinks about its middle: at the next dead ball, or at once where the ball is dead."""

    resize: Name = Field(description="The area. With every bout it is again as written.")
    by: float = Field(
        description="How much longer and wider it is then; less than 0: shorter and narrower. Unit: the file's. Legal -50 to 50 m, "
        "not 0."
    )
    to: float = Field(
        gt=0,
        description="How far: until its shorter side has come down to this, or its longer side up to it. Unit: the file's.",
    )


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
    "window": WindowAction,
    "step": StepAction,
    "resize": ResizeAction,
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
    | Annotated[EndAction, Tag("end")]
    | Annotated[WindowAction, Tag("window")]
    | Annotated[StepAction, Tag("step")]
    | Annotated[ResizeAction, Tag("resize")],
    Discriminator(
        verb_of,
        custom_error_type="rule",
        custom_error_message=f"must be a table with exactly one verb of {', '.join(ACTIONS)}",
    ),
]
