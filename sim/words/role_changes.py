"""Who changes roles with whom, and what becomes of roles between two bouts, in plain words."""

from __future__ import annotations

from collections.abc import Sequence

from sim.game.model import Game, Rule
from sim.game.sole import sole_comer, sole_goer
from sim.game.verbs import Assign, OpenWindow, Step, Swap, unit_of
from sim.rules.between import way_back
from sim.words.down_the_list import moving_down
from sim.words.listing import capital, listed, number_word, some, time
from sim.words.who import becomes, in_role, many_of, of_side, one_of, side_called

_BETWEEN = {
    "carry on": "Roles at the whistle are those of the next bout.",
    "start anew": "Each bout starts with the roles as written above.",
}
WAITED = "who has waited longest"
_CHOSEN = {
    "nearest": "nearest the ball",
    "longest in": "longest in that role",
    "next on the list": "next on the list",
}


def between_bouts(game: Game) -> str:
    """What the next bout begins with."""
    return moving_down(game) if game.bouts.roles == "list" else _BETWEEN[game.bouts.roles]


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


_DID = {
    "out": "whoever put it out",
    "goal": "whoever scored",
    "save": "whoever shot",
    "miss": "whoever shot",
    "foul": "whoever fouled",
}
_COMES = {
    "player": (
        "whoever won it",
        "the one who has been in longest",
        "the next on the list",
        "the one who has waited longest",
    ),
    "pair": (
        "whoever won it and that one's partner",
        "the pair who have been in longest",
        "the next pair on the list",
        "the pair who have waited longest",
    ),
    "team": (
        "the team of whoever won it",
        "the team who have been in longest",
        "the next team on the list",
        "the team who have waited longest",
    ),
}
_HOWS = ("winner", "longest in", "next on the list", "waiting")


def swapped(game: Game, rule: Rule, action: Swap) -> str:
    """Who goes, and who comes for them."""
    if action.alone:
        return _one_by_one(game, rule, action)
    number = ", number for number" if unit_of(action.who) == "team" else ""
    head = f"{_goes(game, rule, action)} swap{'s' if unit_of(action.who) == 'player' else ''} with"
    if roles := sole_comer(game, rule, action):
        return f"{head} {only(game, roles, unit_of(action.who))}{number}"
    comes = dict(zip(_HOWS, _COMES[unit_of(action.who)], strict=True))
    among = _among(action)
    longest = f"{comes['longest in']}{among}"
    who = (
        f"{_won(rule, comes['winner'])}{among} ({'else' if rule.on == 'foul' else 'if nobody did, with'} {longest})"
        if action.other == "winner"
        else f"{comes[action.other]}{among}"
    )
    return f"{head} {who}{number}"


def _won(rule: Rule, said: str) -> str:
    """Who has won it; after a foul, who was fouled."""
    return said.replace("whoever won it", "whoever was fouled") if rule.on == "foul" else said


def only(game: Game, roles: Sequence[str], unit: str) -> str:
    """The only ones there are to come: the side where they are all of it, else by their roles."""
    if unit == "player":
        return in_role(roles[0], 1)
    sides = {game.role(role).side for role in roles}
    whole = {role.name for role in game.roles if role.side in sides and any(p.role == role.name for p in game.players)}
    if len(sides) == 1 and whole == set(roles) and not sides & {"holder", "team"}:
        return side_called(game, sides.pop())
    return listed([f"the {many_of(role)}" for role in roles])


def _among(action: Swap) -> str:
    """Those in which roles alone come."""
    return f" among the {listed([many_of(role) for role in action.come_from])}" if action.come_from else ""


_EACH = {
    "winner": "whoever won it, then those who have been in longest",
    "longest in": "those who have been in longest",
    "next on the list": "the next on the list",
    "waiting": "those who have waited longest",
}


def _one_by_one(game: Game, rule: Rule, action: Swap) -> str:
    """The same where partners may be parted."""
    among = _among(action)
    without = "(alone, if none is on the same side)"
    return f"{_goes(game, rule, action)} {without} swap one for one with {_won(rule, _EACH[action.other])}{among}"


def _goes(game: Game, rule: Rule, action: Swap) -> str:
    """Who goes."""
    if action.of is not None:
        of = of_side(rule, action.of)
        if sole_goer(game, action):
            return f"the {unit_of(action.who)}{of}"
        kinds = {"pair longest in": f"the pair{of} who have", "team longest in": f"the team{of} who have"}
        if action.who == "next on the list":
            return f"the next on the list{of}"
        return f"{kinds.get(action.who, f'the one{of} who has')} been in longest"
    one = _won(rule, "whoever won it") if action.who.startswith("winner") else _DID.get(rule.on, "whoever lost it")
    return {"player": one, "pair": f"{one} and the partner", "team": f"the team of {one}"}[unit_of(action.who)]


def in_the_window(action: OpenWindow) -> str:
    """How long there is to win the ball back."""
    if action.unit == "seconds":
        return f"the side that lost it has {time(action.length)} to win it back"
    without = "" if action.floaters else ", those from and to floaters not counted"
    return f"the side that lost it may win it back until the others have made {some(action.length, 'pass')}{without}"


def down_the_ladder(action: Step) -> str:
    """Who has fewer touches from now on."""
    who = {"loser": "whoever lost it goes", "side": "all of the side that lost it go"}[action.who]
    return f"{who} a step down the ladder of touches"


def taken(game: Game, rule: Rule, action: Assign, once: str) -> str:
    """Who takes another role; `once`: who is passed over because the same rule has just given him his."""
    whose = of_side(rule, action.who)
    if action.other == "passer and receiver":
        return _of_the_last_pass(rule, action, whose, once)
    both = " of both sides" if (action.who, action.from_role, action.count) == ("all", None, None) else ""
    who = f"{in_role(action.from_role, action.count)}{whose or both}{once}"
    if action.count is None or action.other != "nearest":
        waits = action.from_role is not None and game.role(action.from_role).style == "wait"
        how = f"{WAITED}; at first any of them" if waits and action.other == "longest in" else _CHOSEN[action.other]
        chosen = "" if action.count is None else f" ({how})"
        return f"{who}{chosen} {becomes(action.role, action.count)}"
    free = " (never the one on the ball)" if action.who != "other" else ""
    loser = " (who lost it or not)" if rule.on == "loss" and action.who == "other" and action.count == 1 else ""
    near = f"nearest the ball{free or loser}"
    if whose:  # else "the player of the side that lost it nearest the ball"
        many = "the one" if action.count == 1 else f"the {number_word(action.count)}"
        who = f"of the {many_of(action.from_role)}{whose}{once} {many}"
    return f"{who} {near} {becomes(action.role, action.count)}"


def _of_the_last_pass(rule: Rule, action: Assign, whose: str, once: str) -> str:
    """Who of the last pass takes a role; nobody else does."""
    did = "it" if rule.on in ("pass", "passes", "transfer") else "the last pass"
    side = "" if rule.by is not None and rule.on in ("pass", "passes", "transfer") and action.who == "holder" else whose
    if action.count == 1:
        who = f"the {one_of(action.from_role).partition(' ')[2]}{side}{once} who played {did}, or else who received it,"
        return f"{who} {becomes(action.role, action.count)} (else nobody)"
    who = f"the {many_of(action.from_role)}{side}{once} who played and received {did}"
    return f"{who} {becomes(action.role, action.count)}"


def waiting(said: dict[str, list[str]]) -> list[str]:
    """What some roles do meanwhile: by what they do, the roles."""
    return [f"Meanwhile {listed([f'the {many_of(role)}' for role in roles])} {does}." for does, roles in said.items()]


def absent(role: str, does: str) -> str:
    """A role that nobody begins in."""
    return f"No {many_of(role)} at the start. {capital(many_of(role))} play {does}."


def absent_together(roles: Sequence[tuple[str, str]]) -> list[str]:
    """Roles that nobody begins in, each with what it does, in one line where there are several."""
    if len(roles) < 2:
        return [absent(*one) for one in roles]
    does: dict[str, list[str]] = {}
    for role, what in roles:
        does.setdefault(what, []).append(many_of(role))
    they = "; ".join(f"{listed(who)} play {what}" for what, who in does.items())
    return [f"Nobody begins in these roles: {they}."]
