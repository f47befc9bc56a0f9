"""`overload learn`: the club's own values from its logbook, kept in the user's file of assumptions when that is asked for."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.console import console_width, say
from cli.own_logbook import logbook_at

if TYPE_CHECKING:
    from sim.learning.learn import Answer

BESIDE = ".played"
"""What is added to the name of the logbook: the file of the sessions that are played to learn from."""
POINTS = 512
"""Clubs that are played of each game: a power of two.  From half as many the counts of a club far off are read off
up to a tenth wrong, and six sessions teach less of it."""


def learn(
    logbook: options.Logbook = None,
    save: Annotated[
        Path | None,
        typer.Option(
            "--save", metavar="FILE", help="Add what was learned to this file, for the --assumptions of others."
        ),
    ] = None,
    undo: Annotated[
        bool, typer.Option("--undo", help="Take what was learned last out of the file of --save again.")
    ] = False,
    reason: Annotated[
        str, typer.Option("--reason", metavar="WORDS", help="Why, to stand in the file with the date.")
    ] = "own counts",
    assumptions: options.Assumptions = None,
    played: Annotated[
        Path | None,
        typer.Option("--played", metavar="FILE", help="Where played sessions are kept (usual: beside the logbook)."),
    ] = None,
    seed: options.Seed = 1,
    details: options.Details = False,
    json: options.Json = None,
    workers: options.Workers = None,
    cluster: options.Cluster = None,
) -> None:
    """Learn from your counts how your players differ from what we assume; nothing is kept without --save."""
    from cli.files import give, require_json, require_place
    from sim.errors import InputError

    if undo:
        if json is not None:
            raise InputError(f"must go without --undo, which learns nothing (got {json!r})", "--json")
        take_back(save)
        return
    require_json(json)
    if save is not None:
        require_place("--save", save, again=True)
    if not reason.strip():
        raise InputError("must be given: what is learned says why", "--reason")
    base = assumptions or (save if save is not None and save.exists() else None)
    found, typed = learned_from(logbook, base, played, seed, workers, cluster)
    if found is None:
        return
    told = "" if save is None else keep(save, found, reason.strip())
    kept = save if found.values else None
    give(json, found.to_json, lambda: learned_in_words_of(found, kept, details, typed, logbook))
    if told:
        say(told, err=True)


def learned_in_words_of(found: Answer, save: Path | None, details: bool, typed: str, logbook: Path | None) -> str:
    """The screen."""
    from sim.words.learn_screen import learned_in_words

    kept, book = (None if one is None else str(one) for one in (save, logbook))
    return learned_in_words(found, kept, details, console_width(), typed, book)


def learned_from(
    logbook: Path | None, base: Path | None, played: Path | None, seed: int, workers: int | None, cluster: str | None
) -> tuple[Answer | None, str]:
    """(the answer, the game as typed last); None where the playing was stopped, which is then said."""
    from cli.executors import executor_of
    from cli.files import keeper_at
    from cli.progress import Progress
    from sim.assumptions import NONE
    from sim.experiments.assumption_file import read_assumptions
    from sim.experiments.replicate import Replication
    from sim.learning.design import packed, planned, play, unpacked
    from sim.learning.learn import early, learned
    from sim.learning.tallies import games_of, usable
    from sim.words.learn_screen import stopped_in_words

    own, now = (NONE, NONE) if base is None else (read_assumptions(base, learned=False), read_assumptions(base))
    with logbook_at(logbook) as book:
        evenings, place = book.evenings(), Path(book.path)
        keys = {one.forecast for one in evenings if one.forecast is not None}
        forecasts = {key: kept for key in keys if (kept := book.forecast(key)) is not None}
    tallies, changed = usable(evenings)
    games = games_of(evenings, forecasts)
    typed = evenings[-1].typed if evenings else "GAME"
    if (found := early(tallies, changed, games)) is not None:
        return found, typed
    keeper = keeper_at(played or place.with_name(place.name + BESIDE))
    known = unpacked(keeper.path.read_bytes(), str(keeper.path)) if keeper.path and keeper.path.exists() else {}
    with executor_of(workers, cluster) as executor, Progress("bouts") as progress:
        run = Replication(seed, executor, progress, assumptions=own)
        plans = {setup: planned(games[setup], run, POINTS) for setup in dict.fromkeys(one.setup for one in tallies)}
        designs = play(list(plans.values()), run, known, lambda finished: keeper(packed(known | finished)))
        keeper.settle()
        done = {key: len(one.clubs) for key, one in designs.items()}
        wanted = {plan.key: len(plan.scores) for plan in plans.values()}
        if done != wanted:
            say(stopped_in_words(sum(done.values()), sum(wanted.values())), err=True)
            return None, typed
        return learned(tallies, changed, plans, designs, own, now, seed), typed


def keep(save: Path, found: Answer, reason: str) -> str:
    """Add an entry to the file, unless nothing was learned or its last one says the same; what is said of it."""
    from cli import days
    from cli.files import write_whole
    from sim.experiments.learned_entries import Entry, last_entry, with_entry
    from sim.words.learn_screen import kept_in_words, not_kept_in_words

    if not found.values:
        return not_kept_in_words(str(save))
    text = save.read_text(encoding="utf-8") if save.exists() else ""
    entry = Entry(days.today().isoformat(), reason, found.own_data, found.values)
    last = last_entry(text)
    after = [(one.place, one.after) for one in found.values]
    new = last is None or [(one.place, one.after) for one in last.values] != after or last.own_data != found.own_data
    if new:
        write_whole(save, with_entry(text, entry))
    return kept_in_words(str(save), new)


def take_back(save: Path | None) -> None:
    """Take the last entry out of the file."""
    from cli.files import require_place, write_whole
    from sim.errors import InputError
    from sim.experiments.assumption_file import read_assumptions
    from sim.experiments.learned_entries import last_entry, without_last
    from sim.words.learn_screen import undone_in_words

    if save is None:
        raise InputError("must name the file that was learned into (got nothing)", "--save")
    read_assumptions(save)
    require_place("--save", save, again=True)
    text = save.read_text(encoding="utf-8")
    last = last_entry(text)
    if last is None:
        raise InputError("must be a file with something learned in it (got none)", str(save))
    write_whole(save, without_last(text, str(save)))
    say(undone_in_words(str(save), last.date))
