"""`overload evidence`: every published measurement and direction beside ours, inside or outside."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import console_width, say

SIZES = ("small", "full", "kept")
BOUTS, SEED = 60, 77  # of the bands, unless said
PARTS = ("games", "bands")


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
            "--part", metavar="games|bands", help="What: published games, or what the trade expects of keep-ball."
        ),
    ] = "games",
    bouts: Annotated[
        int | None, options.bounded("--bouts", 2, options.MOST_BOUTS, "Bouts of every cell of the bands (60).")
    ] = None,
    seed: Annotated[int | None, options.bounded("--seed", 0, options.MOST_SEED, "Seed of the bands (77).")] = None,
    save: Annotated[
        Path | None, typer.Option("--save", metavar="DIR", help="Write the table as CSV, text and JSON to this folder.")
    ] = None,
    details: options.Details = False,
    workers: options.Workers = None,
) -> None:
    """Compare with what real players did: every published figure and finding, met or missed."""
    from cli.files import encoded, require_folder, write_together
    from sim.errors import InputError

    if sessions not in SIZES:
        raise InputError(f"--sessions must be one of {', '.join(SIZES)} (got {sessions!r})")
    if part not in PARTS:
        raise InputError(f"--part must be one of {', '.join(PARTS)} (got {part!r})")
    if save is not None:
        require_folder("--save", save)
    if part == "bands":
        play_bands(bouts or BOUTS, SEED if seed is None else seed, workers)
        return

    import json

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
    say(evidence_screen(lines, sessions).text())
    if details:
        say("\n" + evidence_in_words(lines, known, meta["size"], console_width()))
    if save is not None:
        files = {
            "evidence.csv": reference_table.as_csv(lines),
            "evidence.json": json.dumps(meta, indent=1) + "\n",
            "evidence.txt": evidence_in_words(lines, known, meta["size"]) + "\n",
            "misses.csv": reference_table.misses_as_csv(reference_table.misses_of(lines, known)),
        }
        write_together({save / name: encoded(one) for name, one in files.items()})


def play_bands(bouts: int, seed: int, workers: int | None) -> None:
    """Play all cells, and print the bands and what was counted."""
    from cli.progress import Progress
    from sim.evidence.keepball import play
    from sim.experiments.first_run import get_ready
    from sim.words import keepball
    from sim.words.evidence import STOPPED

    try:
        with Progress("bouts") as progress:
            get_ready(workers)
            lines, played = play.compare(bouts, seed, workers, progress)
    except KeyboardInterrupt:
        say(STOPPED, err=True)
        raise typer.Exit(130) from None
    width = console_width()
    say(keepball.bands_line(lines))
    say("\n" + keepball.bands_in_words(lines, width))
    say("\n" + keepball.cells_in_words(played, width))
    say("\n" + keepball.SOURCE)
