"""`overload calibrate`: fit the engine's constants to all fitted rows of the evidence again, from a checkpoint if there is one."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from cli import options
from cli.console import console_width, say


def calibrate(
    save: Annotated[
        Path, typer.Option("--save", metavar="DIR", help="Where the checkpoint and what is found are kept.")
    ],
    screen: Annotated[
        bool, typer.Option("--screen", help="Only find out which constants matter; writes screening.csv.")
    ] = False,
    constants: Annotated[
        str | None,
        typer.Option(
            "--constants",
            metavar="A,B,...",
            help="Which to fit, ten at most (default: the first ten of screening.csv in the folder); with --screen, which to "
            "screen (default: all).",
        ),
    ] = None,
    budget: Annotated[
        int,
        options.bounded(
            "--budget", 64, options.MOST_BOUTS, "Sets of constants to try in the fit; half as many in each refit."
        ),
    ] = 120,
    fresh: Annotated[
        int,
        options.bounded(
            "--fresh",
            3,
            options.MOST_BOUTS,
            "Seeds on which the old and the new values are played once more, as a check.",
        ),
    ] = 10,
    details: options.Details = False,
    workers: options.Workers = None,
) -> None:
    """Fit the constants of play to the evidence, and say what it cannot tell and what is luck."""
    from cli.files import require_folder, write_whole
    from sim.errors import InputError

    require_folder("--save", save)

    from sim.evidence import calibrate as calibration
    from sim.evidence import screening
    from sim.evidence.evaluations import CHECKPOINT, Evaluations, engine_constants
    from sim.experiments.executors import standing
    from sim.words import calibration as words

    known = {one.name: one for one in engine_constants()}
    kept = save / "screening.csv"
    screened = screening.read(kept) if kept.exists() and not screen else []
    if constants is not None:
        names = list(dict.fromkeys(name.strip() for name in constants.split(",") if name.strip()))
    elif screen:
        names = list(known)
    elif screened:
        names = [one.name for one in screened[: screening.MOST]]
    else:
        raise InputError(
            "--constants must be given, or screening.csv be in the folder: run with --screen first (got neither)"
        )
    problems = [
        f"--constants must name constants of the engine that have a spread (got {name!r})"
        for name in names
        if name not in known
    ]
    most = len(known) if screen else screening.MOST
    if not 1 <= len(names) <= most:
        problems.append(f"--constants must be 1 to {most} names (got {len(names)})")
    if problems:
        raise InputError(problems)

    from cli.progress import Progress
    from sim.experiments.first_run import get_ready
    from sim.words.commands import options_of
    from sim.words.screen import folded

    checkpoint = save / CHECKPOINT
    asked = (
        ("--save", save),
        ("--screen", screen),
        ("--constants", constants),
        ("--budget", budget),
        ("--fresh", fresh),
        ("--workers", workers),
    )
    again = " ".join(["overload calibrate", *options_of(asked)])
    moved = [known[name] for name in names]
    with Progress("sets of constants") as progress, standing(workers) as executor:
        get_ready(workers)
        evaluations = Evaluations(
            calibration.player_of(executor),
            lambda text: write_whole(checkpoint, text),
            lambda number, seconds: progress.say(words.evaluation(number, seconds)),
        )
        if checkpoint.exists() and not evaluations.resume(checkpoint.read_text(encoding="utf-8", errors="replace")):
            say(words.OTHER_ENGINE, err=True)
        try:
            if screen:
                screened = screening.screen(evaluations, moved)
                write_whole(kept, screening.as_csv(screened))
                searched = [one.name for one in screened[: screening.MOST]]
                text = folded(words.screening_in_words(screened, searched), console_width())
            else:
                found = calibration.calibrate(evaluations, moved, budget, fresh, screened)
                write_whole(save / "fit.json", calibration.as_json(found))
                write_whole(save / "left_out.json", calibration.left_out_json(found))
                text = words.calibration_screen(found, f"{again} --details").text()
                if details:
                    text += "\n\n" + folded(words.calibration_in_words(found), console_width())
        except KeyboardInterrupt:
            say(f"{words.STOPPED}\n  {again}", err=True)
            raise typer.Exit(130) from None
    say(text)
