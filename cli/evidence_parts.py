"""The parts of `overload evidence` beside the published games: bands of keep-ball, large games as tracked, the panel of squares."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import typer

from cli.console import console_width, say
from sim.errors import InputError

if TYPE_CHECKING:
    from sim.evidence.banded import Miss
    from sim.experiments.executors import Workers
    from sim.experiments.replicate import Progress

SEED = 77
BOUTS = {"bands": {"small": 20, "full": 120}, "tracking": {"small": 4, "full": 20}, "panel": {"small": 10, "full": 40}}
"""Bouts of each game, by the size asked for."""


@dataclass(frozen=True)
class PartAsked:
    """What was typed; `bouts` and `seed`: None is the usual."""

    part: str
    sessions: str
    bouts: int | None
    seed: int | None
    save: Path | None


class Part(NamedTuple):
    """One part: its first line, its table (by columns of the terminal), and the files it is kept in by their endings."""

    head: str
    table: Callable[[int | None], str]
    files: Mapping[str, str]

    def words(self, width: int | None) -> str:
        """The first line, the table, and the caution that ends every answer with figures of load."""
        from sim.experiments.last_line import LINE

        return "\n\n".join([self.head, self.table(width), LINE])


def banded_tables() -> list[tuple[str, Callable[[int | None], str]]]:
    """(one line, everything in so many columns) of each kept table of rows with two ends."""
    from functools import partial

    from sim.evidence import banded
    from sim.words import banded as words

    found: list[tuple[str, Callable[[int | None], str]]] = []
    for name, count in words.COUNTS.items():
        kept = banded.kept(name)
        if kept is not None:
            found.append((count(kept.lines), partial(words.table_in_words, name, kept.lines, known_misses(name))))
    return found


def known_misses(name: str) -> tuple[Miss, ...]:
    """The rows of a table that are known to be outside."""
    from sim.evidence import banded, keepball, tracking

    package = {"bands": keepball, "tracking": tracking}[name]
    return banded.known_misses(Path(package.__path__[0]) / "known_misses.csv")


def show_part(asked: PartAsked, workers: Workers) -> None:
    """Play it, or show what came with the program; write its files where --save says."""
    from cli.files import encoded, write_together

    if asked.sessions == "kept":
        if asked.bouts is not None or asked.seed is not None or asked.save is not None:
            raise InputError("--bouts, --seed and --save go with a table that is played, not with --sessions kept")
        say(kept_part(asked.part).words(console_width()))
        return
    part = played_part(asked, workers)
    say(part.words(console_width()))
    if asked.save is not None:
        files = {**part.files, ".txt": part.words(None) + "\n"}
        write_together({asked.save / f"{asked.part}{end}": encoded(text) for end, text in files.items()})


def kept_part(name: str) -> Part:
    """What came with the program."""
    from functools import partial

    from sim.evidence import banded
    from sim.evidence.keepball import panel
    from sim.words import banded as words
    from sim.words import keepball

    if name == "panel":
        rows = panel.kept_rows()
        if rows:
            meta = banded.kept_meta(name)
            head = words.headline(keepball.PANEL_ASKED, meta["bouts"], meta["seed"])
            return Part(head, partial(keepball.panel_in_words, rows), {})
    else:
        kept = banded.kept(name)
        if kept is not None:
            head = words.headline(words.COUNTS[name](kept.lines), kept.meta["bouts"], kept.meta["seed"])
            return Part(head, partial(words.table_in_words, name, kept.lines, known_misses(name)), {})
    raise InputError(f"no kept table of {name}: leave out --sessions kept")


def played_part(asked: PartAsked, workers: Workers) -> Part:
    """What is played now."""
    from cli.progress import Progress
    from sim.experiments.first_run import get_ready
    from sim.words.evidence import STOPPED

    bouts = asked.bouts or BOUTS[asked.part][asked.sessions]
    seed = SEED if asked.seed is None else asked.seed
    try:
        with Progress("bouts") as progress:
            get_ready(workers)
            return PLAYED[asked.part](bouts, seed, workers, progress)
    except KeyboardInterrupt:
        say(STOPPED, err=True)
        raise typer.Exit(130) from None


def play_bands(bouts: int, seed: int, workers: Workers, progress: Progress) -> Part:
    """The bands, and what was counted in every cell."""
    from sim.evidence.keepball import play as keepball_play
    from sim.words import banded as words
    from sim.words import keepball

    lines, played = keepball_play.compare(bouts, seed, workers, progress)

    def told(width: int | None) -> str:
        table = words.table_in_words("bands", lines, known_misses("bands"), width)
        return "\n\n".join([table, keepball.cells_in_words(played, width)])

    return Part(
        words.headline(words.bands_count(lines), bouts, seed),
        told,
        files_of(lines, keepball_play.digest(), bouts, seed),
    )


def play_tracking(bouts: int, seed: int, workers: Workers, progress: Progress) -> Part:
    """The rows of tracking."""
    from functools import partial

    from sim.evidence.tracking import play as tracking_play
    from sim.words import banded as words

    lines = tracking_play.compare(bouts, seed, workers, progress)
    head = words.headline(words.tracking_count(lines), bouts, seed)
    table = partial(words.table_in_words, "tracking", lines, known_misses("tracking"))
    return Part(head, table, files_of(lines, tracking_play.digest(), bouts, seed))


def play_panel(bouts: int, seed: int, workers: Workers, progress: Progress) -> Part:
    """The panel of squares."""
    import json
    from functools import partial

    from sim.evidence import banded
    from sim.evidence.keepball import panel
    from sim.words import banded as words
    from sim.words import keepball

    rows = panel.play_panel(bouts, seed, workers, progress)
    meta = json.dumps(banded.meta_of(panel.digest(), bouts, seed), indent=1) + "\n"
    head = words.headline(keepball.PANEL_ASKED, bouts, seed)
    return Part(head, partial(keepball.panel_in_words, rows), {".csv": panel.as_csv(rows), ".json": meta})


def files_of(lines: list, own: str, bouts: int, seed: int) -> dict[str, str]:
    """The files that keep a table of rows with two ends."""
    import json

    from sim.evidence import banded

    return {".csv": banded.as_csv(lines), ".json": json.dumps(banded.meta_of(own, bouts, seed), indent=1) + "\n"}


PLAYED = {"bands": play_bands, "tracking": play_tracking, "panel": play_panel}
"""How each part is played."""
