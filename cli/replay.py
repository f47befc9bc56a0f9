"""`overload replay GAME --out FILE`: one bout as a page that plays it in a browser, with nothing from outside."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli.console import say
from cli.options import Assumptions, Changes, GameName, Population, Seed

PAGE = (".html", ".htm")
Replay = Annotated[
    Path | None,
    typer.Option(
        "--replay", metavar="FILE", help="A typical bout of each side by side, as .html: a page to watch in a browser."
    ),
]


def require_page(option: str, place: Path) -> None:
    """Refuse a place where no page can be written, before anything is played."""
    from cli.files import require_place
    from sim.errors import InputError

    if place.suffix.lower() not in PAGE:
        raise InputError(f"must end in {PAGE[0]} (got {str(place)!r})", option)
    require_place(option, place)


def replay(
    game: GameName,
    out: Annotated[Path, typer.Option("--out", metavar="FILE", help="Where the page goes, as .html.")],
    seed: Seed = 1,
    bout: Annotated[
        int, typer.Option("--bout", metavar="N", min=1, help="Which bout of the session, counted from 1.")
    ] = 1,
    session: Annotated[
        int, typer.Option("--session", metavar="N", min=1, help="Which session of this seed, counted from 1.")
    ] = 1,
    typical: Annotated[
        bool, typer.Option("--typical", help="The bout nearest the middle of many, instead of the first.")
    ] = False,
    population: Population = None,
    changes: Changes = None,
    assumptions: Assumptions = None,
) -> None:
    """Watch one bout: a page for a browser or a phone that plays it as the engine played it."""
    from cli.files import encoded, write_bytes
    from sim import InputError, load_game
    from sim.experiments.assumption_file import read_or_none

    chosen = load_game(game, changes or (), population)
    if bout > chosen.bouts.count:
        raise InputError(f"must be at most the bouts of a session, {chosen.bouts.count} (got {bout})", "--bout")
    for option, number in (("--bout", bout), ("--session", session)):
        if typical and number != 1:
            raise InputError(f"must be left out with --typical, which picks the bout itself (got {number})", option)
    own = read_or_none(assumptions)
    require_page("--out", out)

    from sim.assumptions import NONE  # the heavy half, only for input that has been accepted
    from sim.experiments.typical import bout_of, typical_bout
    from sim.report.replay import replay_page
    from sim.words.replay_words import picked, replay_written

    lead = []
    if typical:
        found = typical_bout(chosen, seed, assumptions=own or NONE)
        session, bout = found.session + 1, found.bout + 1
        lead = [picked(found)]
    log = bout_of(chosen, seed, session - 1, bout - 1, own or NONE)
    write_bytes(out, encoded(replay_page([("", chosen, log)], lead)))
    for line in (*lead, replay_written(str(out))):
        say(line, err=True)
