"""What ends a bout, what it begins with, and what single players do not do, in plain words."""

from __future__ import annotations

from sim.game.model import Game, Player, Restart
from sim.game.names import spoken_of
from sim.words.listing import capital, listed, number, some, time
from sim.words.places import place_called
from sim.words.who import one_of, side_called


def points_at_the_start(game: Game) -> list[str]:
    """The points a bout begins with."""
    said = [f"{side_called(game, side)} {number(points)}" for side, points in game.start_points]
    return [f"Every bout starts with points: {listed(said)}."] if said else []


def endings(game: Game) -> list[str]:
    """What ends a bout before its time, and what it goes on for after it."""
    bouts, lines = game.bouts, []
    if bouts.balls is not None:
        lines.append(f"A bout is over after {some(bouts.balls, 'ball')}, or when time is up.")
    if bouts.first_to is not None:
        lines.append(
            f"A bout is over when a {bouts.points_by} has {some(bouts.first_to, 'point')}, or when time is up."
        )
    if bouts.level_seconds:
        lines.append(
            f"If the points are level when time is up, the next point wins, within {time(bouts.level_seconds)}; then it's a draw."
        )
    if bouts.finish_seconds:
        most = time(bouts.finish_seconds)
        lines.append(f"When time is up the side with the ball plays on until it is lost or dead, {most} at most.")
    return lines


def limits_in_words(game: Game) -> list[str]:
    """What single players never do."""
    called = spoken_of(game)
    lines = []
    for player in game.players:
        said = []
        if player.touches is not None:
            said.append(f"has {some(player.touches, 'touch')}")
        if not player.tackles:
            said.append("tackles nobody and is tackled by nobody")
        said += shares(player)
        if player.never:
            never = listed([one_of(role) for role in player.never], "or")
            said.append(f"is never {never}: not chosen for it, and where it would come to that nobody changes")
        if said:
            lines.append(f"{capital(called[player.id])}{_on_a_line(game, player)} {listed(said)}.")
    return lines + when_they_have_had_it(game)


def _on_a_line(game: Game, player: Player) -> str:
    """``, who begins on the lines of the square,``: where to look for somebody who may not be everything; nothing for others."""
    role = game.role(player.role)
    if not player.never or role.style != "edge":
        return ""
    return f", who begins on the lines of {place_called(game, role.place)},"


def shares(player: Player) -> list[str]:
    """How much a player plays at most."""
    said = []
    if player.most_bouts is not None:
        said.append(f"plays in {some(player.most_bouts, 'bout')} at most")
    if player.most_seconds is not None:
        leaves = "and leaves as they end" if player.restricted else "and leaves at the next dead ball"
        said.append(f"plays {time(player.most_seconds)} of the session at most {leaves}")
    return said


def when_they_have_had_it(game: Game) -> list[str]:
    """Who comes for those who have had all they may play."""
    capped = [player for player in game.players if player.has_cap]
    if not capped:
        return []
    lines = [
        "Whoever has had all the bouts or minutes allowed waits from then on, and the next on the list of those who wait comes; "
        "with nobody there the side plays on with one fewer, and with nobody left on a side the bout is over."
    ]
    if any(player.restricted and player.most_seconds is not None for player in capped):
        lines.append(
            "Whoever is on reduced load and has the ball as the minutes end leaves it: it's played in again to the side whose it "
            "is."
        )
    return lines


_BY = {"newcomer": "whoever has just come on", "winner": "whoever won it", "loser": "whoever lost it"}


def taken_by(restart: Restart) -> str:
    """Who alone gets or takes a restart, where that is said."""
    if restart.by is not None:
        return f" ({_BY[restart.by]}, else anybody of theirs)"
    return "" if restart.role is None else f" ({one_of(restart.role)}, where there is one who can)"
