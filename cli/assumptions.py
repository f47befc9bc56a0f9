"""`overload assumptions`: every constant with its unit, doubt, range and what it rests on; as text, CSV, or a file to edit."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import console_width, say


def assumptions(
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="[WORD]...", help="Only those with all of these words; each line then says what it is."),
    ] = None,
    provenance: Annotated[
        str | None,
        typer.Option(
            "--provenance",
            metavar="KIND",
            help='Only numbers that rest on this: published, "open data", "house default" or judgement.',
        ),
    ] = None,
    population: Annotated[
        str | None, typer.Option("--population", metavar="NAME", help="Only numbers of these players.")
    ] = None,
    csv: Annotated[
        Path | None,
        typer.Option("--csv", metavar="FILE", help="Write the numbers to a CSV file, with every column and note."),
    ] = None,
    template: Annotated[
        Path | None,
        typer.Option(
            "--template", metavar="FILE", help="Write a file to change, for the --assumptions of other commands."
        ),
    ] = None,
    details: options.Details = False,
) -> None:
    """List what is assumed of players and play, and what each number rests on."""
    from cli.files import require_place, write_whole
    from sim.experiments.assumption_file import template_of
    from sim.experiments.assumption_table import as_csv, chosen
    from sim.words.assumptions import assumptions_in_words

    table = chosen(words or (), provenance, population)
    for option, path in (("--csv", csv), ("--template", template)):
        if path is not None:
            require_place(option, path)
    if csv is not None:
        write_whole(csv, as_csv(table))
    if template is not None:
        write_whole(template, template_of(population or "amateur men"))
    say(assumptions_in_words(table, bool(words), details, console_width()))
