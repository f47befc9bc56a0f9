"""Who changes roles with whom, and what becomes of roles between two bouts, in plain words."""

from __future__ import annotations

from sim.game.model import Game, Rule
from sim.game.verbs import Assign, Swap
from sim.rules.between import way_back
from sim.words.listing import capital, listed
from sim.words.who import becomes, in_role, many_of

_BETWEEN = {
    "carry on": "Players keep their roles from bout to bout.",
    "start anew": "Each bout starts with the roles as written above.",
    "list": "Between bouts the roles move down the list of each team, keepers apart.",
}
_CHOSEN = {"nearest": "nearest the ball", "longest in": "longest in that role"}


def between_bouts(game: Game) -> str:
    """What the next bout begins with."""
    return _BETWEEN[game.bouts.roles]


def cut_off(game: Game) -> list[str]:
    """Who goes back to another role when the whistle cuts a phase off."""
    if game.bouts.count == 1 or game.bouts.roles != "carry on":
        return []
    lines = []
    for phase in game.phases:
        goes = [f"{many_of(role)} become {many_of(to)} again" for role, to in way_back(game, phase.name).items()]
        if goes:
            lines.append(f'If the whistle goes in "{phase.name}": {listed(goes)}.')
    return lines


def swapped(rule: Rule, action: Swap) -> str:
    """Who goes in, and who comes out."""
    own = rule.by is None  # "lose it" is said to everybody
    if action.who == "loser":
        goes, winner, longest = (
            "you swap" if own else "whoever lost it swaps",
            "whoever won it",
            "the one who has been in longest",
        )
    else:
        goes = "you and your partner swap" if own else "whoever lost it and the partner swap"
        winner, longest = "whoever won it and that one's partner", "the pair who have been in longest"
    return f"{goes} with {f'{winner} (if nobody did, with {longest})' if action.other == 'winner' else longest}"


def taken(action: Assign, whose: str) -> str:
    """Who takes another role; `whose` players they are."""
    if action.other == "passer and receiver":
        return _of_the_last_pass(action, f"{many_of(action.from_role)}{whose}")
    free = ", never the one on the ball" if action.other == "nearest" and action.who != "other" else ""
    chosen = "" if action.count is None else f" ({_CHOSEN[action.other]}{free})"
    return f"{in_role(action.from_role, action.count)}{whose}{chosen} {becomes(action.role, action.count)}"


def _of_the_last_pass(action: Assign, kind: str) -> str:
    """Who of the last pass takes a role; nobody else does."""
    one, both = "the passer of the last pass, or else its receiver,", "the passer and the receiver of the last pass"
    two = one if action.count == 1 else both
    only = "" if (action.who, action.from_role) == ("all", None) else f" (only {kind})"
    return f"{two} {becomes(action.role, action.count)}{only}"


def waiting(said: dict[str, list[str]]) -> list[str]:
    """What some roles do meanwhile: by what they do, the roles."""
    return [f"Meanwhile {listed([f'the {many_of(role)}' for role in roles])} {does}." for does, roles in said.items()]


def absent(role: str, does: str) -> str:
    """A role that nobody begins in."""
    return f"No {many_of(role)} at the start. {capital(many_of(role))} play {does}."
