"""`overload calibrate`: fit the engine's constants to the fitted measurements again, from a checkpoint if there is one."""

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
            help="Which to fit, eight at most (default: the first eight of screening.csv in the folder).",
        ),
    ] = None,
    budget: Annotated[
        int,
        options.bounded(
            "--budget", 12, options.MOST_BOUTS, "Sets of constants to try in the fit; half as many in each refit."
        ),
    ] = 120,
    details: options.Details = False,
    workers: options.Workers = None,
) -> None:
    """Fit the constants of play to published measurements, and say what these cannot tell."""
    from cli.files import require_folder, write_whole
    from sim.errors import InputError

    require_folder("--save", save)

    from sim.evidence import calibrate as calibration
    from sim.experiments.executors import standing
    from sim.words import calibration as words

    known = {one.name: one for one in calibration.engine_constants()}
    kept = save / "screening.csv"
    if screen:
        names: list[str] = []
    elif constants is not None:
        names = [name.strip() for name in constants.split(",") if name.strip()]
    elif kept.exists():
        names = calibration.read_screening(kept)[: calibration.MOST]
    else:
        raise InputError(
            "--constants must be given, or screening.csv be in the folder: run with --screen first (got neither)"
        )
    problems = [f"--constants must name constants of the engine (got {name!r})" for name in names if name not in known]
    if not screen and not 1 <= len(names) <= calibration.MOST:
        problems.append(f"--constants must be 1 to {calibration.MOST} names (got {len(names)})")
    if problems:
        raise InputError(problems)

    from cli.progress import Progress
    from sim.experiments.first_run import get_ready
    from sim.words.commands import options_of
    from sim.words.screen import folded

    checkpoint = save / calibration.CHECKPOINT
    asked = (
        ("--save", save),
        ("--screen", screen),
        ("--constants", constants),
        ("--budget", budget),
        ("--workers", workers),
    )
    again = " ".join(["overload calibrate", *options_of(asked)])
    with Progress("sets of constants") as progress, standing(workers) as executor:
        get_ready(workers)
        evaluations = calibration.Evaluations(
            calibration.player_of(executor),
            lambda text: write_whole(checkpoint, text),
            lambda number, seconds: progress.say(words.evaluation(number, seconds)),
        )
        if checkpoint.exists() and not evaluations.resume(checkpoint.read_text(encoding="utf-8", errors="replace")):
            say(words.OTHER_ENGINE, err=True)
        try:
            if screen:
                screened = calibration.screen(evaluations, list(known.values()))
                write_whole(kept, calibration.screening_csv(screened))
                searched = [one.name for one in screened[: calibration.MOST]]
                text = folded(words.screening_in_words(screened, searched), console_width())
            else:
                found = calibration.calibrate(evaluations, [known[name] for name in names], budget)
                write_whole(save / "fit.json", calibration.as_json(found))
                write_whole(save / "left_out.json", calibration.left_out_json(found))
                text = words.calibration_screen(found, f"{again} --details").text()
                if details:
                    text += "\n\n" + folded(words.calibration_in_words(found), console_width())
        except KeyboardInterrupt:
            say(f"{words.STOPPED}\n  {again}", err=True)
            raise typer.Exit(130) from None
    say(text)
