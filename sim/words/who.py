"""Who is meant: sides, roles and players as a coach calls them, and "holder", "other", "winner", "loser" or "same" of a rule in
words that leave no doubt at that moment."""

from __future__ import annotations

from collections.abc import Sequence

from sim.game.model import Game, Player, Rule
from sim.game.names import only_team, written
from sim.game.verbs import Assign
from sim.words.listing import listed, number_word
from sim.words.plurals import doer, plural

_HOLDER = {  # where nobody is playing the ball
    "goal": "the side that scored",
    "save": "the side that shot",
    "miss": "the side that shot",
    "out": "the side that did not put it out",
    "loss": "the side that gets it",
    "won back": "the side that won it back",
    "not won back": "the side that did not lose it",
    "foul": "the side that was fouled",
}
_OTHER = {
    "goal": "the side that conceded",
    "loss": "the side that lost it",
    "not won back": "the side that lost it",
    "out": "the side that put it out",
    "foul": "the side that fouled",
}
_LOSER = {"goal": "the side that scored", "save": "the side that shot", "miss": "the side that shot"}
WITH_THE_BALL = "the side with the ball"


def side_called(game: Game, side: str) -> str:
    """A side as the subject of a sentence in the plural: "amber" (bibs), "the builders", "the outside players"."""
    if any(team.name == side for team in game.teams):
        return side
    return f"the {side}" if side.endswith("s") and not side.endswith("ss") else f"the {side} players"


def receiver(game: Game, to: str, on: str) -> str:
    """The side a ball goes to after an event: a side, or words for one."""
    lost = _LOSER.get(on, "the side that lost it")
    if on == "loss":  # who touched it last and who lost it are one
        words = {"same": lost, "loser": lost, "other": "the other side", "winner": "the other side"}
    else:
        words = {
            "other": "the side that did not touch it last",
            "same": "the side that touched it last",
            "loser": lost,
            "winner": "the other side" if on in (*_LOSER, "not won back") else "the side that won it",
        }
    if on == "foul":
        theirs, ours = "the side that was fouled", "the side that fouled"
        words = {"other": theirs, "winner": theirs, "same": ours, "loser": ours}
    if on == "goal":  # whoever scored touched it last
        words |= {"other": "the side that conceded", "same": "the side that scored"}
    return words.get(to) or side_called(game, to)


def holder(rule: Rule) -> str:
    """The side with the ball when a rule answers."""
    return _HOLDER.get(rule.on, WITH_THE_BALL)


def gainer(game: Game, rule: Rule, to: str) -> str:
    """Who gets the points: a side, or words for one."""
    words = {"holder": holder(rule), "winner": "the other side", "loser": "the side that lost it"}
    if rule.on == "won back":
        words |= {"winner": holder(rule), "loser": "the other side"}
    if rule.on == "foul":
        words |= {"winner": holder(rule), "loser": "the side that fouled"}
    return words.get(to) or side_called(game, to)


def of_side(rule: Rule, who: str) -> str:
    """Whose players: " of ..." after them, nothing where everybody's."""
    return {"holder": f" of {holder(rule)}", "other": f" of {_OTHER.get(rule.on, 'the other side')}"}.get(who, "")


def but_once(rule: Rule, action: Assign) -> str:
    """Who is passed over because the same rule has just given him the role he would be taken from."""
    earlier = rule.do[: rule.do.index(action)]
    just = any(
        isinstance(one, Assign) and one.from_role is not None and one.role == action.from_role for one in earlier
    )
    return f" (but not whoever has just become {one_of(action.from_role)})" if just else ""


def many_of(role: str | None) -> str:
    """Players in a role, or in any: "builders", "outside players", "players"."""
    if role is None:
        return "players"
    one = doer(role)
    return f"{role} players" if one is None else plural(one)


def one_of(role: str | None) -> str:
    """A player in a role, or in any: "a builder", "an outside player", "a player"."""
    name = "player" if role is None else doer(role) or f"{role} player"
    return f"{'an' if name[:1].lower() in 'aeiou' else 'a'} {name}"


def becomes(role: str | None, count: int | None) -> str:
    """What one takes, or several (None: all): "becomes a builder", "become outside players"."""
    return f"becomes {one_of(role)}" if count == 1 else f"become {many_of(role)}"


def counted_in(role: str, count: int) -> str:
    """So many in a role, as a heading or a count: "4 outside", "6 builders", "1 west-keeper", "1 chaser" of the chasers."""
    one = doer(role)
    return f"{count} {role if one is None else one if count == 1 else plural(one)}"


def some_in(role: str, count: int) -> str:
    """The same in a sentence: "6 builders", "2 sent-in players", "1 amber-front player"."""
    return f"{count} {many_of(role) if count != 1 else one_of(role).partition(' ')[2]}"


def in_role(role: str | None, count: int | None) -> str:
    """Some of the players in a role, or in any: "all builders", "the two players", "the one runner"."""
    if count is None:
        return f"all {many_of(role)}"
    return f"the {one_of(role).partition(' ')[2]}" if count == 1 else f"the {number_word(count)} {many_of(role)}"


def of_team(game: Game, team: str, members: Sequence[Player]) -> str:
    """Players of a team by shirt number or by name: "players 1 to 4", with other bibs about "amber 1, 2 and 5"."""
    figures = sorted(int(one) for one in (_tag(player) for player in members) if one.isdigit())
    names = sorted(one for one in (_tag(player) for player in members) if not one.isdigit())
    said = listed([*in_a_row(figures), *names])
    if team != only_team(game):
        return f"{team} {said}"
    return f"{'players' if len(members) > 1 else 'player'} {said}" if figures else said


def _tag(player: Player) -> str:
    """A player within his team: by shirt number, or by id where one was written."""
    return player.id if written(player) else str(player.number)


def in_a_row(figures: Sequence[int]) -> list[str]:
    """Numbers in a row as "1 to 4", others one by one."""
    if len(figures) > 2 and list(figures) == list(range(figures[0], figures[-1] + 1)):
        return [f"{figures[0]} to {figures[-1]}"]
    return [str(one) for one in figures]
