"""`overload evidence`: every published measurement and direction beside ours, inside or outside."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import console_width, say

SIZES = ("small", "full", "kept")
PARTS = ("games", "bands", "tracking", "panel")


def evidence(
    sessions: Annotated[
        str,
        typer.Option(
            "--sessions",
            metavar="small|full|kept",
            help="How much to play: a sixth, everything, or nothing (the table that came with the program).",
        ),
    ] = "small",
    part: Annotated[
        str,
        typer.Option(
            "--part",
            metavar="games|bands|tracking|panel",
            help="What: published games; what coaches expect of keep-ball; large games as tracked; squares of all sizes.",
        ),
    ] = "games",
    bouts: Annotated[
        int | None, options.bounded("--bouts", 2, options.MOST_BOUTS, "Bouts of each game, for every --part but games.")
    ] = None,
    seed: Annotated[
        int | None, options.bounded("--seed", 0, options.MOST_SEED, "Seed (77), for every --part but games.")
    ] = None,
    save: Annotated[
        Path | None, typer.Option("--save", metavar="DIR", help="Write the table as CSV, text and JSON to this folder.")
    ] = None,
    details: options.Details = False,
    workers: options.Workers = None,
) -> None:
    """Compare with what real players did: every published figure and finding, met or missed."""
    from cli.files import encoded, require_folder, write_together

    require_known(sessions, part, bouts, seed)
    if save is not None:
        require_folder("--save", save)
    if part != "games":
        from cli.evidence_parts import PartAsked, show_part

        show_part(PartAsked(part, sessions, bouts, seed, save), workers)
        return

    import json

    from cli.evidence_parts import banded_tables
    from cli.progress import Progress
    from sim.evidence import reference_table, table
    from sim.experiments.first_run import get_ready
    from sim.words.evidence import STOPPED, evidence_in_words, evidence_screen

    if sessions == "kept":
        lines, meta = reference_table.shipped_table()
    else:
        try:
            with Progress("bouts") as progress:
                get_ready(workers)
                lines = table.compare(sessions, workers, progress, reference_table.left_out_fits())
        except KeyboardInterrupt:
            say(STOPPED, err=True)
            raise typer.Exit(130) from None
        meta = reference_table.meta_of(sessions)
    known = reference_table.known_misses()
    more = banded_tables()
    say(evidence_screen(lines, sessions, [line for line, _ in more]).text())
    if details:
        say("\n" + evidence_in_words(lines, known, meta["size"], console_width()))
        for _, table_of in more:
            say("\n" + table_of(console_width()))
    if save is not None:
        files = {
            "evidence.csv": reference_table.as_csv(lines),
            "evidence.json": json.dumps(meta, indent=1) + "\n",
            "evidence.txt": evidence_in_words(lines, known, meta["size"]) + "\n",
            "misses.csv": reference_table.misses_as_csv(reference_table.misses_of(lines, known)),
        }
        write_together({save / name: encoded(one) for name, one in files.items()})


def require_known(sessions: str, part: str, bouts: int | None, seed: int | None) -> None:
    """Refuse what does not exist, or does not go together."""
    from sim.errors import InputError

    if sessions not in SIZES:
        raise InputError(f"--sessions must be one of {', '.join(SIZES)} (got {sessions!r})")
    if part not in PARTS:
        raise InputError(f"--part must be one of {', '.join(PARTS)} (got {part!r})")
    if part == "games" and (bouts is not None or seed is not None):
        raise InputError("--bouts and --seed go with --part bands, tracking or panel, not with games")
