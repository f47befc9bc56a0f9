"""What players do, as tables: by role per minute in it and how long it is held, by player in a bout and in a session."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sim.experiments.cautions import SHORT_LINE_M, longest_line
from sim.game.model import Game
from sim.game.names import spoken_of
from sim.results import Measure, Result
from sim.words.figures import metres, percent, ranged, rounded, seconds, two
from sim.words.plurals import figured
from sim.words.tables import table

NO_RELY = "do not rely"
Column = tuple[str, str, Callable[[float], str]]  # heading with its clock, measure, how it is said

OF_ROLES: tuple[Column, ...] = (
    ("in the role, s a bout, watch", "time_in_role_s", seconds),
    ("defends, ball rolling", "defending_share", percent),
    ("metres a minute, watch", "distance_per_min", metres),
    ("above {fast}, metres a minute, watch", "high_speed_distance_per_min", two),
    ("touches a minute, ball rolling", "touches_per_min", two),
    ("losses a minute, ball rolling", "losses_per_min", two),
)
OF_PLAYERS: tuple[Column, ...] = (
    ("metres a bout, watch", "total_distance_m", metres),
    ("metres a session, watch", "session_distance_m", metres),
    ("above {fast}, metres a bout, watch", "high_speed_distance_m", metres),
    ("above {fast}, metres a session, watch", "session_high_speed_distance_m", metres),
    ("defends, s a bout, ball rolling", "time_defending_s", seconds),
    ("defends, s a session, ball rolling", "session_time_defending_s", seconds),
)


def usual_figure(row: Measure, say: Callable[[float], str] = two) -> str:
    """The mean of a row with what is usual in brackets, each as `say` has it."""
    return ranged(row.mean, row.session_low, row.session_high, say)


def bout_words(result: Result, game: Game) -> str:
    """``a bout of 60 s``, ``a bout, played for 33 (20-51) s of 240``: as long as bouts were played."""
    length = result.row("bout_length_s")
    if length.mean is None or round(length.mean) == round(game.bouts.seconds):
        return f"a bout of {game.bouts.seconds:g} s"
    return f"a bout, played for {usual_figure(length, rounded)} s of {game.bouts.seconds:g} on average"


def scope_names(scopes: Sequence[str]) -> list[tuple[str, str]]:
    """Teams and roles (``team:amber``, ``role:inside``) with what they are called: a role by its name alone."""
    return [(scope, scope.removeprefix("role:").replace(":", " ")) for scope in scopes]


def of_roles(result: Result, game: Game, scopes: Sequence[str], width: int | None) -> list[str]:
    """Teams and roles: per minute, in the role."""
    intro = f"Each player on average, in {bout_words(result, game)}; figures of a role are per minute in that role."
    return [intro, laid(result, game, scope_names(scopes), OF_ROLES, width)]


def of_players(result: Result, game: Game, width: int | None) -> list[str]:
    """Every player in all his roles: in one bout, and in the session with all its bouts."""
    names = spoken_of(game)
    everybody = sorted(game.players, key=lambda one: (one.team, one.number))
    each = [(f"player:{one.id}", names[one.id]) for one in everybody]
    count = game.bouts.count
    intro = f"Each player in all his roles, in one bout and in the session ({figured(count, 'bout')})."
    return [intro, laid(result, game, each, OF_PLAYERS, width)]


def laid(
    result: Result, game: Game, scopes: Sequence[tuple[str, str]], columns: Sequence[Column], width: int | None
) -> str:
    """A row a scope under its name; a measure that a scope has no row of leaves its cell empty."""
    fast = result.provenance.thresholds.start_in_words("high_speed")
    short = longest_line(game) < SHORT_LINE_M
    rows = []
    for scope, name in scopes:
        cells = []
        for _, measure, say in columns:
            found = [row for row in result.rows(measure) if row.scope == scope]
            doubted = short and "high_speed" in measure
            cells.append(NO_RELY if doubted else usual_figure(found[0], say) if found else "")
        rows.append([name, *cells])
    return table(["", *(head.format(fast=fast) for head, *_ in columns)], rows, width)
