"""The verbs of a resolved game: what a rule does, each consequence a type of its own with just the fields it needs.

`sim.game.actions` has the same verbs as people write them; the key of a game file stands beside a field that is called otherwise
there.  The engine, the words and the pictures read these; which one it is they ask its type, or its `verb`.
"""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from pydantic import Discriminator, Field

from sim.game.frozen import Frozen

PAIR, TEAM = "pair", "team"


def unit_of(who: str) -> str:
    """What changes places together in a swap of `who`: "player", "pair" or "team"."""
    if "partner" in who or who.startswith(PAIR):
        return PAIR
    return TEAM if TEAM in who else "player"


class Open(Frozen):
    """From now on something more is allowed.

    what: "transfer" | "shoot" | a zone;  to: "holder" | "winner" | "loser" | a side, None: to everybody
    """

    verb: Literal["open"] = "open"
    what: str = Field(serialization_alias="open")
    to: str | None = Field(default=None, serialization_alias="for")


class Close(Frozen):
    """From now on something is no longer allowed.  what, to: as for `Open`."""

    verb: Literal["close"] = "close"
    what: str = Field(serialization_alias="close")
    to: str | None = Field(default=None, serialization_alias="for")


class Score(Frozen):
    """A side gets points.  value: points;  to: "holder" | "winner" | "loser" | a side."""

    verb: Literal["score"] = "score"
    value: float = Field(serialization_alias="score")
    to: str


class Swap(Frozen):
    """Some players change roles and places with others: one with one, a pair with a pair, a team with a team.

    who        "loser" | "loser and partner" (of `Team.pairs`) | "loser's team", the same of "winner"; of the side that `of` names
               "longest in" | "pair longest in" | "team longest in" | "next on the list"
    other      who comes for them, as many: "winner" | "longest in" | "next on the list" | "waiting" (who has waited longest)
    of         "holder" | "other"; None where the ball says who goes
    from_role  only players in this role come, or in one of these; None: of the other side, or those who wait
    alone      of a pair: who has no partner on his side goes alone, and as many come, whoever's partners they are
    """

    verb: Literal["swap"] = "swap"
    who: str = Field(serialization_alias="swap")
    other: str = Field(serialization_alias="with")
    of: str | None = None
    from_role: str | tuple[str, ...] | None = Field(default=None, serialization_alias="from")
    alone: bool = False

    @property
    def come_from(self) -> tuple[str, ...]:
        """The roles in which somebody may come; none where that is left to the side."""
        return (
            () if self.from_role is None else (self.from_role,) if isinstance(self.from_role, str) else self.from_role
        )


class Trade(Frozen):
    """All players of the winning side's team exchange roles with the losing side's team, number for number.  what: "roles"."""

    verb: Literal["trade"] = "trade"
    what: str = Field(serialization_alias="trade")


class Assign(Frozen):
    """Some players of a side take a role.

    role       the role they take
    who        which side's players: "holder" | "other" | "all"
    from_role  only players in this role; None: in any
    count      how many; None: all of them
    other      how they are chosen: "nearest" (never the one who has the ball) | "longest in" | "passer and receiver" (of the last
               pass; nobody else, with or without `count`) | "next on the list"
    """

    verb: Literal["assign"] = "assign"
    role: str = Field(serialization_alias="assign")
    who: str = Field(serialization_alias="of")
    from_role: str | None = Field(default=None, serialization_alias="from")
    count: int | None = None
    other: str = Field(serialization_alias="choose")


class ChangePhase(Frozen):
    """Another phase begins.  what: its name."""

    verb: Literal["phase"] = "phase"
    what: str = Field(serialization_alias="phase")


class Serve(Frozen):
    """The ball is dead until a restart serves it.  what: the name of the restart."""

    verb: Literal["restart"] = "restart"
    what: str = Field(serialization_alias="restart")


class Reset(Frozen):
    """A count begins again.  what: "passes" | "wins" | a counter | "steps" (of all ladders)."""

    verb: Literal["reset"] = "reset"
    what: str = Field(serialization_alias="reset")


class EndBout(Frozen):
    """The bout ends.  what: "bout"."""

    verb: Literal["end"] = "end"
    what: str = Field(default="bout", serialization_alias="end")


class OpenWindow(Frozen):
    """The side that has lost the ball may win it back within `length` seconds, or passes of the others.

    unit: "seconds" | "passes";  floaters: whether passes from and to floaters count
    """

    verb: Literal["window"] = "window"
    length: float = Field(serialization_alias="window")
    unit: str = Field(serialization_alias="of")
    floaters: bool = True


class Step(Frozen):
    """Down the ladder of the role.  who: "loser" | "side" (everybody on the side that lost the ball)."""

    verb: Literal["step"] = "step"
    who: str = Field(serialization_alias="step")


class Resize(Frozen):
    """An area grows by `metres` in length and width about its middle (less than 0: it shrinks), until a side has come `to` that.

    what: the area;  metres, to: m
    """

    verb: Literal["resize"] = "resize"
    what: str = Field(serialization_alias="resize")
    metres: float = Field(serialization_alias="by")
    to: float


_ANY = Open | Close | Score | Swap | Trade | Assign | ChangePhase | Serve | Reset | EndBout | OpenWindow | Step | Resize
KINDS: dict[str, type[_ANY]] = {kind.model_fields["verb"].default: kind for kind in get_args(_ANY)}
"""The type of each verb."""

Action = Annotated[_ANY, Discriminator("verb")]
"""One consequence; where a resolved game is read its verb says which."""
