"""Room per player, counted one way everywhere.

Counted are the players who play in an area: outfield players, on the lines or anywhere in it, and floaters inside.
Keepers, floaters on the lines and players who wait are not; they are named apart.
"""

from __future__ import annotations

from dataclasses import dataclass

from sim.game.model import Game, Phase, Player
from sim.geometry import covers


@dataclass(frozen=True)
class Room:
    """One area while the ball is in it: m2 per counted player, and the ids of the counted and of those named apart."""

    area: str
    per_player_m2: float
    counted: tuple[str, ...]
    outside_floaters: tuple[str, ...]
    keepers: tuple[str, ...]


def post(game: Game, phase: Phase, player: Player) -> tuple[str, str]:
    """(style, place) of a player in a phase: the job where there is one, else the role's own."""
    role = game.role(player.role)
    job = next((job for job in phase.jobs if job.role == role.name), None)
    return (job.style, job.place) if job is not None else (role.style, role.place)


def _side(game: Game, player_id: str) -> str:
    player = next(player for player in game.players if player.id == player_id)
    side = game.role(player.role).side
    return player.team if side == "team" else side


def rooms(game: Game) -> tuple[Room, ...]:
    """Each area where two sides meet in the first phase, with the players as they begin."""
    phase = game.phase(game.start_phase)
    found = []
    for area in game.areas if phase.ball_in == "active" else (game.area(phase.ball_in),):
        counted, floaters, keepers = [], [], []
        for player in game.players:
            style, place = post(game, phase, player)
            if style == "goal":
                keepers.append(player.id)
                continue
            named = {"active": area.name, "home": game.team(player.team).home}.get(place, place)
            here = named is not None and covers(area.bounds, game.place(named).bounds)
            if here and style == "edge" and game.role(player.role).side == "holder":
                floaters.append(player.id)
            elif here and style != "wait":
                counted.append(player.id)
        if len({_side(game, player) for player in counted} - {"holder"}) > 1:
            per_player = area.length * area.width / len(counted)
            found.append(Room(area.name, per_player, tuple(counted), tuple(floaters), tuple(keepers)))
    return tuple(found)
