"""`--report FILE`, and `overload report COMMAND GAME ... --out FILE`: an answer as one page for the staff meeting."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer
from typer.core import TyperGroup

from cli.console import say

if TYPE_CHECKING:
    from cli.scenario import Scenario
    from sim.assumptions import Assumptions
    from sim.game.model import Game
    from sim.report.report import Report
    from sim.report.reports import Watched
    from sim.report.watch import Named

REPORTED = ("compare", "tune", "adjust")
OPTION, OUT = "--report", "--out"
MOST_GAMES = 6
"""The game as it is and five others: of more, nobody would look at the replays, and the page would not print on three sheets."""
BOUTS_OF_WHY = 4
"""Bouts in each run of the screening, half of what `overload why` plays: the page names what matters most, and no more."""


def require_pages(games: int, *others: Path | str | None, **pages: Path | None) -> None:
    """Refuse, before the first bout, a page that cannot be written or that another option writes, and too many games for one.

    `pages`: by option; `others`: what else is written; `games`: how many would be watched.
    """
    from cli.plot import is_same
    from cli.replay import require_page
    from sim.errors import InputError

    wanted = {f"--{name}": place for name, place in pages.items() if place is not None}
    for option, place in wanted.items():
        require_page(option, place)
        if any(
            is_same(other, place) for other in (*others, *(page for name, page in wanted.items() if name != option))
        ):
            raise InputError(
                f"must be another file: {str(place)!r} is written by another option (got {str(place)!r})", option
            )
        if games > MOST_GAMES:
            raise InputError(f"must go with at most {MOST_GAMES} games, the first one included (got {games})", option)


def watched(named: Sequence[Named], seed: int, own: Assumptions) -> Watched:
    """A typical bout of each."""
    from sim.report.watch import typical_bouts

    return typical_bouts(named, seed, own)


def give_replay(place: Path, found: Watched) -> None:
    """The bouts side by side, as a page."""
    from cli.files import encoded, write_bytes
    from sim.report.replay import replay_page
    from sim.words.replay_words import replay_written
    from sim.words.report_words import bouts_told

    bouts, which = found
    write_bytes(place, encoded(replay_page(bouts, [bouts_told(which)])))
    say(replay_written(str(place)), err=True)


def give_report(place: Path, made: Callable[[], Report]) -> None:
    """Write the page of a report, and say where it is."""
    from cli.files import encoded, write_bytes
    from sim.report.report import report_page
    from sim.words.report_words import report_written

    write_bytes(place, encoded(report_page(made())))
    say(report_written(str(place)), err=True)


def what_matters(
    game: Game,
    about: tuple[str, str],
    scenario: Scenario,
    own: Assumptions,
    workers: int | None,
    cluster: str | None,
) -> list[str]:
    """What the number of the answer would move with, for its report; a sentence where that cannot be told."""
    from cli.executors import executor_of
    from cli.progress import Progress
    from sim.errors import InputError
    from sim.experiments.why import ratio_of, why
    from sim.words.report_words import CANNOT, STOPPED, TOO_RARE, why_told

    try:
        ratio_of(game, *about)
    except InputError:
        return [CANNOT]  # the one who defends most, say, is no quotient of sums
    try:
        with executor_of(workers, cluster) as executor, Progress("bouts for what matters most") as progress:
            found = why(
                game,
                *about,
                bouts=BOUTS_OF_WHY,
                seed=scenario.seed,
                load=scenario.load,
                workers=executor,
                progress=progress,
                changes=scenario.changes,
                assumptions=own,
            )
    except InputError:
        return [TOO_RARE]
    except KeyboardInterrupt:
        return [STOPPED]
    return why_told(found, game)


def report(
    context: typer.Context,
    command: Annotated[str, typer.Argument(metavar="COMMAND", help="compare, tune or adjust, then all that it takes.")],
    out: Annotated[Path, typer.Option(OUT, metavar="FILE", help="Where the page goes, as .html.")],
) -> None:
    """One page for the staff meeting, to watch and to print, of whatever these commands answer.

    For example: overload report compare tight-square --change roles.outside.touches=1 --out one-touch.html
    """
    from sim.errors import InputError

    if command not in REPORTED:
        raise InputError(f"must be {', '.join(REPORTED[:-1])} or {REPORTED[-1]} (got {command})", "report")
    parent = context.parent
    assert parent is not None and isinstance(parent.command, TyperGroup)  # `overload` itself
    reported = parent.command.get_command(context, command)
    assert reported is not None  # it is one of REPORTED
    try:
        with reported.make_context(command, [*context.args, OPTION, str(out)], parent=parent) as inner:
            reported.invoke(inner)
    except InputError as error:
        raise InputError(error.problems, OUT if error.source == OPTION else error.source) from None
