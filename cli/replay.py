"""`overload replay GAME --out FILE`: one bout as a page that plays it in a browser, with nothing from outside."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import say
from cli.scenario import scenario_of

PAGE = (".html", ".htm")


def require_page(option: str, place: Path) -> None:
    """Refuse a place where no page can be written, before anything is played."""
    from cli.files import require_place
    from sim.errors import InputError

    if place.suffix.lower() not in PAGE:
        raise InputError(f"must end in {PAGE[0]} (got {str(place)!r})", option)
    require_place(option, place)


def replay(
    game: options.GameName,
    out: Annotated[Path | None, typer.Option("--out", metavar="FILE", help="Where the page goes, as .html.")] = None,
    seed: options.Seed = 1,
    bout: options.BoutNumber = 1,
    session: Annotated[
        int, typer.Option("--session", metavar="N", min=1, help="Which session of this seed, counted from 1.")
    ] = 1,
    typical: Annotated[
        bool, typer.Option("--typical", help="The bout nearest the middle of many, instead of the first.")
    ] = False,
    population: options.Population = None,
    changes: options.Changes = None,
    assumptions: options.Assumptions = None,
) -> None:
    """Watch one bout: a page for a browser or a phone that plays it as the engine played it."""
    from cli.files import asked_for, encoded, write_bytes
    from sim.errors import InputError

    out = asked_for(out, "replay", game, "replay.html")
    scenario = scenario_of(game, seed, population, changes, assumptions)
    chosen = scenario.load()
    if bout > chosen.bouts.count:
        raise InputError(f"must be at most the bouts of a session, {chosen.bouts.count} (got {bout})", "--bout")
    for option, number in (("--bout", bout), ("--session", session)):
        if typical and number != 1:
            raise InputError(f"must be left out with --typical, which picks the bout itself (got {number})", option)
    own = scenario.replaced()
    require_page("--out", out)

    from sim.experiments.sessions import bout_of  # the heavy half, only for input that has been accepted
    from sim.experiments.typical import typical_bout
    from sim.report.replay import replay_page
    from sim.words.replay_words import picked, replay_written

    lead = []
    if typical:
        found = typical_bout(chosen, seed, assumptions=own)
        session, bout = found.session + 1, found.bout + 1
        lead = [picked(found)]
    log = bout_of(chosen, seed, session - 1, bout - 1, own)
    write_bytes(out, encoded(replay_page([("", chosen, log)], lead)))
    for line in (*lead, replay_written(str(out))):
        say(line, err=True)
