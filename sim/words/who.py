"""Who is meant when a rule says "holder", "other", "winner", "loser" or "same": words that leave no doubt at that moment."""

from __future__ import annotations

from sim.game.model import Action, Rule

_HOLDER = {  # where nobody is playing the ball
    "goal": "the side that scored",
    "save": "the side that shot",
    "miss": "the side that shot",
    "out": "the side that did not put it out",
    "loss": "the side that gets it",
}
_OTHER = {"loss": "the side that lost it", "out": "the side that put it out"}
_LOSER = {"goal": "the side that scored", "save": "the side that shot", "miss": "the side that shot"}


def receiver(to: str, on: str) -> str:
    """The side a ball goes to after an event: a side, or words for one."""
    lost = _LOSER.get(on, "the side that lost it")
    if on == "loss":  # who touched it last and who lost it are one
        return {"same": lost, "loser": lost, "other": "the other side", "winner": "the other side"}.get(to, to)
    return {
        "other": "the side that did not touch it last",
        "same": "the side that touched it last",
        "loser": lost,
        "winner": "the other side" if on in _LOSER else "the side that won it",
    }.get(to, to)


def holder(rule: Rule) -> str:
    """The side with the ball when a rule answers."""
    return _HOLDER.get(rule.on, "the side with the ball")


def gainer(rule: Rule, to: str) -> str:
    """Who gets the points: a side, or words for one."""
    return {"holder": holder(rule), "winner": "the other side", "loser": "the side that lost it"}.get(to, to)


def of_side(rule: Rule, who: str | None) -> str:
    """Whose players: " of ..." after them, nothing where everybody's."""
    return {"holder": f" of {holder(rule)}", "other": f" of {_OTHER.get(rule.on, 'the other side')}"}.get(who or "", "")


def but_once(rule: Rule, action: Action) -> str:
    """Who is passed over because the same rule has just given him the role he would be taken from."""
    earlier = rule.do[: rule.do.index(action)]
    just = any(one.verb == "assign" and one.from_role is not None and one.role == action.from_role for one in earlier)
    return f", but not those who have just become {action.from_role}," if just else ""


def in_role(role: str | None, count: int | None) -> str:
    """Players, in a role or in any: "all builder players", "2 players", "1 player", and never "2 player players"."""
    one = "player" if role in (None, "player") else role if role.endswith(("-player", "players")) else f"{role} player"
    many = one if one.endswith("players") else f"{one}s"
    return f"all {many}" if count is None else f"{count} {one if count == 1 else many}"
