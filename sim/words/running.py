"""What players do, as tables: by role per minute in it and how long it is held, by player in a bout and in a session."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sim.experiments.cautions import SHORT_LINE_M, longest_line
from sim.game.model import Game
from sim.game.names import called
from sim.results import Measure, Result
from sim.words.figures import metres, percent, ranged, seconds, two

NO_RELY = "do not rely"
Column = tuple[str, str, str, Callable[[float], str]]  # heading, clock, measure, how it is said

OF_ROLES: tuple[Column, ...] = (
    ("in the role, s a bout", "watch", "time_in_role_s", seconds),
    ("defending", "in play", "defending_share", percent),
    ("metres/min", "watch", "distance_per_min", metres),
    ("above {fast}, m/min", "watch", "high_speed_distance_per_min", two),
    ("touches/min", "in play", "touches_per_min", two),
    ("losses/min", "in play", "losses_per_min", two),
)
OF_PLAYERS: tuple[Column, ...] = (
    ("metres a bout", "watch", "total_distance_m", metres),
    ("a session", "watch", "session_distance_m", metres),
    ("above {fast}, m a bout", "watch", "high_speed_distance_m", metres),
    ("a session", "watch", "session_high_speed_distance_m", metres),
    ("defending, s a bout", "in play", "time_defending_s", seconds),
    ("a session", "in play", "session_time_defending_s", seconds),
)


def said(row: Measure, say=two) -> str:
    return ranged(row.mean, row.session_low, row.session_high, say)


def bout_words(result: Result, game: Game) -> str:
    """``a bout of 60 s``, ``a bout, played for 33 (20-51) s of 240``: as long as bouts were played."""
    length = result.row("bout_length_s")
    if length.mean is None or round(length.mean) == round(game.bouts.seconds):
        return f"a bout of {game.bouts.seconds:g} s"
    return f"a bout, played for {said(length, whole)} s of {game.bouts.seconds:g} on average"


def whole(value: float) -> str:
    return f"{value:.0f}"


def of_roles(result: Result, game: Game, scopes: Sequence[str]) -> list[str]:
    """Teams and roles (``team:amber``, ``role:inside``): per minute, in the role."""
    named = [(scope, scope.replace(":", " ")) for scope in scopes]
    intro = (
        f"Mean per player in {bout_words(result, game)}; of a role per minute in that role, and the time it is held by whoever "
        "has it; in brackets where 8 sessions in 10 lie."
    )
    return [intro, *table(result, game, named, OF_ROLES)]


def of_players(result: Result, game: Game) -> list[str]:
    """Every player in all his roles: in one bout, and in the session with all its bouts."""
    everybody = sorted(game.players, key=lambda one: (one.team, one.number))
    named = [(f"player:{one.id}", called(one)) for one in everybody]
    count = game.bouts.count
    intro = f"Each player in all his roles, in one bout and in the session ({count} bout{'' if count == 1 else 's'}):"
    return [intro, *table(result, game, named, OF_PLAYERS)]


def table(result: Result, game: Game, named: Sequence[tuple[str, str]], columns: Sequence[Column]) -> list[str]:
    """A row a scope under its name; a measure that a scope has no row of leaves its cell empty."""
    fast = result.provenance.thresholds.said("high_speed")
    short = longest_line(game) < SHORT_LINE_M
    rows = [["", *(head.format(fast=fast) for head, *_ in columns)], ["clock", *(clock for _, clock, *_ in columns)]]
    for scope, name in named:
        cells = []
        for _, _, measure, say in columns:
            found = [row for row in result.rows(measure) if row.scope == scope]
            doubted = short and "high_speed" in measure
            cells.append(NO_RELY if doubted else said(found[0], say) if found else "")
        rows.append([name, *cells])
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    lines = [
        "  ".join([row[0].ljust(widths[0]), *(cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True))])
        for row in rows
    ]
    return [line.rstrip() for line in lines]
