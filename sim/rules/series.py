"""The bouts of a session as a series: who has won, who stays on, and how the next bout begins."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sim.game.model import Game
from sim.rules.between import Held, next_start


@dataclass(frozen=True)
class Whistle:
    """How a bout stood when it ended: its phase, everybody's role, the points by side and by colour, and the side that had the
    ball."""

    phase: str
    held: tuple[Held, ...]
    points: tuple[tuple[str, float], ...]
    holder: str
    colours: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True)
class Series:
    """The bouts so far.

    number   the bout that comes next (from 0)
    game     the game as that one is to be played: with its first ball and its points
    held     the role in which each player begins it (None: as the file or the list says)
    won      bouts won, by side, or by colour where points are counted so
    on       by team: bouts in a row that it has been on, less than 0 that it has been off
    over     no other bout comes
    """

    number: int
    game: Game
    held: tuple[Held, ...] | None = None
    won: tuple[tuple[str, int], ...] = ()
    on: tuple[tuple[str, int], ...] = ()
    over: bool = False


def sides_of(game: Game) -> tuple[str, ...]:
    """The two sides of a game, the one that starts first."""
    roles = {role.name: role for role in game.roles}
    names = {p.team if roles[p.role].side == "team" else roles[p.role].side for p in game.players} - {"holder"}
    return game.start_side, *sorted(names - {game.start_side})


def winner_of(game: Game, whistle: Whistle) -> str | None:
    """The side with more points in a bout (of those that carry on, only what it has got in it), or the colour with most where
    points are counted so; None after a draw."""
    if game.bouts.points_by == "colour":
        return sole_best(dict(whistle.colours))
    points = dict(whistle.points)
    if game.bouts.points == "carry on":
        before = dict(game.start_points)
        points = {side: had - before.get(side, 0.0) for side, had in points.items()}
    first, *others = sides_of(game)
    best = max([first, *others], key=lambda side: points.get(side, 0.0))
    level = len({points.get(side, 0.0) for side in (first, *others)}) == 1
    return None if level else best


def sole_best(points: dict[str, float]) -> str | None:
    """Who has most points; None where two have as many, or nobody any."""
    most = max(points.values(), default=0.0)
    best = [one for one, had in points.items() if had == most]
    return best[0] if len(best) == 1 else None


def after(game: Game, series: Series, whistle: Whistle) -> Series:
    """The series once the bout that was next is over; `game` as it is written."""
    number, winner = series.number + 1, winner_of(series.game, whistle)
    won = dict(series.won)
    if winner is not None:
        won[winner] = won.get(winner, 0) + 1
    decided = game.bouts.best_of and max(won.values(), default=0) > game.bouts.count / 2
    held = next_start(game, number, whistle.phase, whistle.held)
    on = dict(series.on)
    if game.bouts.stays is not None:
        held, on = change_teams(game, held, on, winner)
    begins = begun_by(game, series, whistle, winner)
    points = whistle.points if game.bouts.points == "carry on" else game.start_points
    begun = game.model_copy(update={"start_side": begins, "start_points": points})
    over = bool(decided) or number >= game.bouts.count
    return replace(
        series, number=number, game=begun, held=held, won=tuple(won.items()), on=tuple(on.items()), over=over
    )


def begun_by(game: Game, series: Series, whistle: Whistle, winner: str | None) -> str:
    """The side that has the first ball of the next bout."""
    first, *others = sides_of(game)
    other = {first: others[0], others[0]: first} if others else {first: first}
    before = series.game.start_side
    match game.bouts.first_ball:
        case "in turn":
            return other[before]
        case "winner":
            return before if winner is None else winner
        case "loser":
            return before if winner is None else other[winner]
        case "holder":
            return whistle.holder
    return first


def teams_on(game: Game, held: Sequence[Held]) -> dict[str, str]:
    """The teams that play for a side of their own, and which; the others are off: all of them wait or float."""
    roles = {role.name: role for role in game.roles}
    found = {}
    for player, one in zip(game.players, held, strict=True):
        role = roles[one.role]
        if role.style != "wait" and role.side != "holder":
            found[player.team] = role.side
    return found


def change_teams(
    game: Game, held: Sequence[Held], before: dict[str, int], winner: str | None
) -> tuple[tuple[Held, ...], dict[str, int]]:
    """The roles once the team that has to leave has changed places with the one longest off, and the bouts in a row of each."""
    playing = teams_on(game, held)
    names = [team.name for team in game.teams]
    on = {
        name: max(before.get(name, 0), 0) + 1 if name in playing else min(before.get(name, 0), 0) - 1 for name in names
    }
    goes, comes = who_leaves(game, playing, on, winner), min((n for n in names if n not in playing), key=on.__getitem__)
    if goes is None:
        return tuple(held), on
    on |= {goes: 0, comes: 0}
    leaving, coming = (numbered(game, team) for team in (goes, comes))
    roles = {
        i: held[j].role
        for one in (leaving, coming)
        for i, j in zip(one, coming if one is leaving else leaving, strict=True)
    }
    return tuple(
        one._replace(role=roles.get(i, one.role), seconds=0.0 if i in roles else one.seconds)
        for i, one in enumerate(held)
    ), on


def who_leaves(game: Game, playing: dict[str, str], on: dict[str, int], winner: str | None) -> str | None:
    """The team that leaves: one that has stayed as long as it may, else the one that has not won; None: nobody."""
    bouts, order = game.bouts, [team.name for team in game.teams]
    longest = max(playing, key=lambda team: (on[team], order.index(team)))
    if bouts.longest_stay is not None and on[longest] >= bouts.longest_stay:
        return longest
    if winner is None:
        return longest if bouts.tie == "longest on" else None
    return next(team for team, side in playing.items() if side != winner)


def numbered(game: Game, team: str) -> list[int]:
    """The players of a team (as indices) in order of number."""
    members = [i for i, player in enumerate(game.players) if player.team == team]
    return sorted(members, key=lambda i: (game.players[i].number, game.players[i].id))
