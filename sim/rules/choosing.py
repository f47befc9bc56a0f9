"""Who is meant: the loser and the winner of an event, their pairs and their teams, the longest in, the next on the list.

A *unit* is what changes places together: one player, a pair of partners, or the players of a team that are at hand; a list of
indices, in order of number.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from sim.game.verbs import Swap, unit_of
from sim.rules.guards import RuleEvent
from sim.rules.rule_state import RuleState

if TYPE_CHECKING:
    from sim.rules.consequences import Play

LOST = ("loss", "out", "goal", "save", "miss", "not won back", "foul")  # whoever did it has the ball no more
WON = ("win", "wins", "won back")


def side_named(standing: RuleState, word: str, event: RuleEvent) -> str:
    """The side that "holder", "winner", "loser", "other" or a side's own name stands for.

    What has happened decides, even if another rule has already given the next ball to somebody else: a win is the winner's,
    a ball lost or put over the line is the other side's, and whoever shoots has lost it.
    """
    theirs = standing.other_side(event.side)
    holder = theirs if event.kind in ("loss", "out", "not won back", "foul") else event.side
    lost = event.kind in LOST
    words = {
        "holder": holder,
        "other": standing.other_side(holder),
        "winner": theirs if lost else event.side,
        "loser": event.side if lost else theirs,
    }
    return words.get(word, word)


def loser_and_winner(event: RuleEvent) -> tuple[int, int]:
    """Who has lost the ball and who has won it (-1: nobody)."""
    if event.kind in WON:
        return event.other, event.player
    return (event.player, event.other) if event.kind in LOST else (-1, -1)


def who_won(play: Play, event: RuleEvent) -> int:
    """Who changes places as the winner: of several at the ball together one by the tie-break of the game (-1: nobody won it)."""
    _, winner = loser_and_winner(event)
    how = play.game.win.together
    if how == "first" or len(event.together) < 2:
        return winner
    return (longest_in if how == "longest in" else on_the_list)(play, list(event.together))[0]


def longest_in(play: Play, candidates: list[int]) -> list[int]:
    """Candidates, the one longest in his role first; ties by lot."""
    return sorted(candidates, key=lambda i: (play.standing.since[i], play.lot(i)))


def on_the_list(play: Play, candidates: Iterable[int]) -> list[int]:
    """Candidates in order of the list: by team and number, whoever has changed places or been taken behind those who have not."""
    teams = [team.name for team in play.game.teams]
    place = lambda i: (teams.index(play.game.players[i].team), *by_number(play, i))  # noqa: E731
    return sorted(candidates, key=lambda i: (play.standing.turn[i], place(i)))


def had_turn(play: Play, players: Iterable[int]) -> None:
    """These players have changed places, or were next on the list: they go to its end."""
    last = max(play.standing.turn) + 1
    for i in players:
        play.standing.turn[i] = last


def by_number(play: Play, i: int) -> tuple[int, str]:
    """The order of number, and of id where two teams have the same."""
    return play.game.players[i].number, play.game.players[i].id


def may_take(play: Play, i: int, role: str) -> bool:
    """Whether player i takes a role: not one that is never his, nor, once he has had his share, any in which he may play."""
    if i in play.standing.done and not play.standing.always_waits(role):
        return False
    return role not in play.game.players[i].never


def may_change(play: Play, going: list[int], coming: list[int]) -> bool:
    """Whether some may exchange their roles with others, number for number."""
    role = play.standing.role
    both = list(zip(going, coming, strict=False))
    return all(may_take(play, one, role[other]) and may_take(play, other, role[one]) for one, other in both)


def pairs(play: Play, candidates: Iterable[int]) -> list[list[int]]:
    """The pairs of partners who are both among the candidates."""
    number = {player.id: i for i, player in enumerate(play.game.players)}
    every = [[number[one], number[other]] for team in play.game.teams for one, other in team.pairs]
    return [pair for pair in every if set(pair) <= set(candidates)]


def units(play: Play, unit: str, candidates: list[int]) -> list[list[int]]:
    """The candidates as single players, as pairs of partners, or as teams."""
    if unit == "player":
        return [[i] for i in candidates]
    if unit == "pair":
        return pairs(play, candidates)
    teams = [[i for i in candidates if play.game.players[i].team == team.name] for team in play.game.teams]
    return [sorted(team, key=lambda i: by_number(play, i)) for team in teams if team]


def unit_with(play: Play, unit: str, candidates: list[int], i: int) -> list[int]:
    """The unit of player i among the candidates, of a pair himself first; nobody where he is in none."""
    found = next((one for one in units(play, unit, candidates) if i in one), [])
    return sorted(found, key=lambda one: one != i) if unit == "pair" else found


def ranked(play: Play, how: str, found: list[list[int]]) -> list[list[int]]:
    """The units in order: the longest in first (of a pair or team whoever came last counts; ties by lot), the next on the list, or
    whoever has waited longest (ties by the list)."""
    since = play.standing.since
    if how == "longest in":
        return sorted(found, key=lambda unit: (max(since[i] for i in unit), play.lot(min(unit))))
    order = {i: place for place, i in enumerate(on_the_list(play, [i for unit in found for i in unit]))}
    listed = lambda unit: min(order[i] for i in unit)  # noqa: E731
    if how == "waiting":
        return sorted(found, key=lambda unit: (max(since[i] for i in unit), listed(unit)))
    return sorted(found, key=listed)


def chosen(play: Play, how: str, found: list[list[int]]) -> list[int]:
    """The first of the units, in that order."""
    return next(iter(ranked(play, how, found)), [])


def goers(play: Play, event: RuleEvent, action: Swap) -> list[int]:
    """Who goes: the loser or the winner with those who go with him, or some of a side who are in play and for whom somebody may
    come; no floaters."""
    standing, unit = play.standing, unit_of(action.who)
    everybody = range(len(standing.role))
    if action.of is not None:
        side = side_named(standing, action.of, event)
        mine = [i for i in everybody if standing.side_of(i) == side and standing.in_play(i)]
        how = "next on the list" if action.who == "next on the list" else "longest in"
        return chosen(play, how, [one for one in units(play, unit, mine) if who_may_come(play, action, one)])
    loser, _ = loser_and_winner(event)
    one = who_won(play, event) if action.who.startswith("winner") else loser
    if one < 0 or standing.side_of(one) == "holder":
        return []
    mine = [i for i in everybody if standing.side_of(i) == standing.side_of(one)]
    if unit == "team":
        mine = [i for i in mine if standing.in_play(i)]
    return unit_with(play, unit, mine, one) or ([one] if action.alone else [])


def comers(play: Play, event: RuleEvent, action: Swap, going: list[int]) -> list[int]:
    """Who comes for them: the winner with those who come with him, or some of those who may."""
    if action.alone:
        return one_by_one(play, event, action, going)
    found = who_may_come(play, action, going)
    if action.other != "winner":
        return chosen(play, action.other, found)
    winner = who_won(play, event)
    theirs = next((one for one in found if winner in one), [])
    if unit_of(action.who) == "pair":
        theirs = sorted(theirs, key=lambda i: i != winner)
    return theirs if theirs and may_change(play, going, theirs) else chosen(play, "longest in", found)


def one_by_one(play: Play, event: RuleEvent, action: Swap, going: list[int]) -> list[int]:
    """As many who come as go, each for one of them; the winner first, where he is to come.  Nobody where there are too few."""
    _, winner = loser_and_winner(event)
    among = [[i] for i in at_hand(play, action, going)]
    order = ranked(play, "longest in" if action.other == "winner" else action.other, among)
    if action.other == "winner":
        order.sort(key=lambda unit: winner not in unit)
    coming: list[int] = []
    for goer in going:
        free = [i for (i,) in order if i not in coming and may_change(play, [goer], [i])]
        coming += free[:1]
    return coming if len(coming) == len(going) else []


def who_may_come(play: Play, action: Swap, going: list[int]) -> list[list[int]]:
    """The units of those at hand that may change with those who go."""
    found = units(play, unit_of(action.who), at_hand(play, action, going))
    return [one for one in found if may_change(play, going, one)]


def at_hand(play: Play, action: Swap, going: list[int]) -> list[int]:
    """Who may come for those who go: of the other side and in play, of the roles that are named, or of those who wait; for players
    whose side goes by bibs only of the same bibs."""
    standing = play.standing
    players, first = play.game.players, going[0]
    everybody = [i for i in range(len(standing.role)) if i not in going]
    if action.from_role is not None:
        among = [i for i in everybody if standing.role[i] in action.come_from and standing.job_of(i)[0] != "goal"]
    elif action.other == "waiting":
        among = [i for i in everybody if standing.job_of(i)[0] == "wait"]
    else:
        apart = (standing.side_of(first), "holder")
        among = [i for i in everybody if standing.side_of(i) not in apart and standing.in_play(i)]
    if standing.roles[standing.role[first]].side == "team":
        among = [i for i in among if players[i].team == players[first].team]
    return among
