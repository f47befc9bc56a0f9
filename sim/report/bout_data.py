"""One bout as plain data for a page: the ground, who is who, the logged paths, who has the ball, and what happened."""

from __future__ import annotations

from collections import Counter
from typing import Any

import numpy as np

from sim.game.model import Game, Player
from sim.game.names import spoken_of
from sim.geometry import Bounds, rectangle
from sim.pitch.log import BoutLog
from sim.plots.badges import Look
from sim.plots.bibs import Wardrobe, wardrobe
from sim.trajectory import LAW, states_after
from sim.words.diagram_words import edges_of
from sim.words.ground_words import as_drawn
from sim.words.replay_words import asked_words, ball_in_words, events_told
from sim.words.strip import spells

SHAPES = {
    "o": "circle",
    "s": "square",
    "^": "triangle",
    "h": "hexagon",
    "p": "pentagon",
    "8": "octagon",
    "D": "diamond",
}
FLOATS = "holder"  # the side of those who are with whoever has the ball
TIME_PLACES, PLACES = 6, 5
"""Decimal places of seconds, and of metres and their rates: an error of a tenth of a millimetre after ten seconds."""

PLACES_OF_GAUSS, WEIGHTS_OF_GAUSS = np.polynomial.legendre.leggauss(5)


def bout_data(game: Game, log: BoutLog, title: str) -> dict[str, Any]:
    """Everything that the page needs of one bout, ready for JSON; times in seconds on the watch, places in metres."""
    badges, spoken = badges_of(game), spoken_of(game)
    paths, run = paths_of(log)
    sides, had = sides_of(game), list(spells(log))
    wears = worn_of(game, log)
    people = {player.id: player for player in game.players}
    clothes, tell = wardrobe(game), as_drawn(game)
    losses = [round(event[0], 3) for event in log.events if event[2] == "loss" and event[6] != "shot"]
    return {
        "title": title,
        "seconds": round(log.duration_s, TIME_PLACES),
        "ground": ground_data(game, marked_out(game, log)),
        "sides": sides,
        "key": key_of(clothes, game, sides),
        "called": {side: tell(side) for side in sides},
        "fills": {side: clothes.look(side, side).fill for side in sides if side in clothes.bibs},
        "players": [
            {
                "name": spoken[name],
                "badge": badges[name],
                "keeps": keeps(game, people[name]),
                "looks": looks_of(clothes, people[name], keeps(game, people[name]), {side for _, side in wears[i]}),
            }
            for i, name in enumerate(log.players)
        ],
        "paths": paths,
        "run": run,
        "worn": wears,
        "ball": [ball_row(row) for row in log.ball],
        "inPlay": log.ball["in_play"].tolist(),
        "spells": [
            [
                round(one.start_s, 3),
                round(one.end_s, 3),
                one.state,
                one.side,
                one.player and log.players.index(one.player),
            ]
            for one in had
        ],
        "losses": losses,
        "ballInWords": tell(ball_in_words(had, [side for side in sides if side != FLOATS], len(losses))),
        "inOrder": [log.players.index(one.id) for one in sorted(game.players, key=lambda one: (one.team, one.number))],
        "counts": counts_in_words(game, log),
        "told": [[round(t, 3), text] for t, text in events_told(game, log)],
    }


Marked = dict[str, list[tuple[float, Bounds]]]  # by area, since when (s) it has had these bounds


def marked_out(game: Game, log: BoutLog) -> Marked:
    """The areas that were marked out anew in a bout: since when they have had which bounds."""
    found: Marked = {}
    for event in log.events:
        if event[2] == "ground":
            area = game.area(event[7])
            bounds = rectangle(area.x, area.y, event[9], event[10])
            found.setdefault(area.name, [(0.0, area.bounds)]).append((round(event[0], 3), bounds))
    return found


def ground_data(game: Game, marked: Marked | None = None) -> dict[str, Any]:
    """Areas with the run-off that is played in and (`marked`) how they change, goals, and the box around it all with the free strip
    (west, south, east, north)."""
    changes = marked or {}
    boxes = [(*area.bounds, area.run_off) for area in game.areas]
    boxes += [(*bounds, game.area(name).run_off) for name, rows in changes.items() for _, bounds in rows]
    boxes += [(*goal.mouth, 0.0) for goal in game.goals]
    west, south, east, north = (
        f(box[k] + sign * box[4] for box in boxes)
        for k, f, sign in ((0, min, -1), (1, min, -1), (2, max, 1), (3, max, 1))
    )
    goals = [{"name": goal.name, "x": goal.x, "y": goal.y, "width": goal.width, "end": goal.end} for goal in game.goals]
    return {
        "box": [west, south, east, north],
        "areas": [
            {"name": area.name, "box": list(area.bounds), "runOff": area.run_off_in_play}
            | ({"marked": changes[area.name]} if area.name in changes else {})
            for area in game.areas
        ],
        "edges": edges_of(game),
        "goals": goals,
        "zones": [list(zone.bounds) for zone in game.zones],
        "cones": [list(cone) for gate in game.gates for cone in gate.cones],
    }


def look_row(look: Look) -> list[str]:
    """[shape, fill, colour of what stands on it, colour of its rim] for the page."""
    rim = look.fill if look.inner else ""
    return [SHAPES[look.mark], look.inner or look.fill, look.ink, rim]


def looks_of(clothes: Wardrobe, player: Player, keeper: bool, sides: set[str]) -> dict[str, list[str]]:
    """How a player looks while he plays for each of these sides."""
    wears = clothes.keeper if keeper else clothes.look
    return {side: look_row(wears(side, player.team)) for side in sorted(sides)}


def key_of(clothes: Wardrobe, game: Game, sides: list[str]) -> list[list[Any]]:
    """[name, look] by bibs where there are several, else by side; those who are with whoever has the ball last."""
    fixed = clothes.bibs or [side for side in sides if side != FLOATS]
    found: list[list[Any]] = [[name, look_row(clothes.look(name, name))] for name in fixed]
    teams = [one.team for one in game.players if game.role(one.role).side == FLOATS]
    tell = as_drawn(game)
    found = [[tell(name), look] for name, look in found]
    return [*found, *([[FLOATS, look_row(clothes.look(FLOATS, teams[0]))]] if teams else [])]


def badges_of(game: Game) -> dict[str, str]:
    """What stands on each player: his shirt number, with the team's first letter or two where a number is worn twice.

    Teams that begin alike are told apart by the shapes of their sides, and by the list beside the pitch.
    """
    worn = Counter(player.number for player in game.players)
    teams = {player.team for player in game.players}
    letters = next((count for count in (1, 2) if len({team[:count] for team in teams}) == len(teams)), 0)
    return {
        player.id: f"{player.team[:letters] if worn.most_common(1)[0][1] > 1 else ''}{player.number}"
        for player in game.players
    }


def sides_of(game: Game) -> list[str]:
    """All sides, the one that begins with the ball first; floaters, who are with either, last ("holder")."""
    roles = {role.name: role for role in game.roles}
    worn = {side_of(roles[player.role].side, player) for player in game.players}
    worn |= {role.side for role in game.roles if role.side not in ("team", FLOATS)}
    return sorted(worn, key=lambda side: (side != game.start_side, side == FLOATS, side))


def side_of(written: str, player: Player) -> str:
    """The side of a player whose role has this side; "team" means his own team's."""
    return player.team if written == "team" else written


def keeps(game: Game, player: Player) -> bool:
    """Whether he begins as a goalkeeper."""
    return next(role.style == "goal" for role in game.roles if role.name == player.role)


def paths_of(log: BoutLog) -> tuple[list[list[list[float]]], list[list[float]]]:
    """(rows of each player in order of time, metres he has run when each begins)."""
    paths, run = [], []
    for i in range(len(log.players)):
        rows = rows_of(log, i)
        paths.append([law_row(row) for row in rows])
        lengths = [metres_run(row) for row in rows]
        run.append([round(float(total), 3) for total in np.concatenate([[0.0], np.cumsum(lengths)[:-1]])])
    return paths, run


def rows_of(log: BoutLog, i: int) -> np.ndarray:
    """The segments of player i in order of time."""
    rows = log.segments[log.segments["player"] == i]
    return rows[np.argsort(rows["t0"], kind="stable")]


def metres_run(row: np.void) -> float:
    """Metres run on one row, by Gauss's rule at five places (as the page does for the part of a row)."""
    half = 0.5 * (row["t1"] - row["t0"])
    *_, vx, vy = states_after(row, half * (1 + PLACES_OF_GAUSS))
    return float(half * WEIGHTS_OF_GAUSS @ np.hypot(vx, vy))


def law_row(row: np.void) -> list[float]:
    """The law of a segment rounded for the page: the second it begins, then place, velocity and rates."""
    return [round(float(row["t0"]), TIME_PLACES), *(round(float(row[name]), PLACES) for name in LAW)]


def ball_row(row: np.void) -> list[float]:
    """[t0, player] or the row of a free ball."""
    if row["holder"] >= 0:
        return [round(float(row["t0"]), TIME_PLACES), int(row["holder"])]
    return law_row(row)


def worn_of(game: Game, log: BoutLog) -> list[list[list[Any]]]:
    """For each player, from when on he plays for which side: [t, side], by the role of his paths."""
    roles = {role.name: role for role in game.roles}
    people = {player.id: player for player in game.players}
    found = []
    for i, player in enumerate(log.players):
        own: list[list[Any]] = []
        for row in rows_of(log, i):
            side = side_of(roles[log.roles[row["role"]]].side, people[player])
            if not own or own[-1][1] != side:
                own.append([round(float(row["t0"]), TIME_PLACES), side])
        found.append(own)
    return found


def counts_in_words(game: Game, log: BoutLog) -> list[list[Any]]:
    """[t, words of the count just then]: passes in a row, and the number that the rules of the phase ask for."""
    found: list[list[Any]] = []
    for event in log.events:
        words = asked_words(game, event[11], event[5], int(event[13]))
        if not found or found[-1][1] != words:
            found.append([round(event[0], 3), words])
    return found
