"""From an answer to its report: the same sentences as on the screen, its picture, its figures, and bouts to watch."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from sim.experiments.adjusted import Card
from sim.experiments.comparison import Compared
from sim.experiments.levers import Load
from sim.experiments.tuned import Tuned
from sim.experiments.typical import Typical
from sim.game.model import Game
from sim.plots.pages import of_card, of_compared, of_tuned
from sim.report.replay import Bout
from sim.report.report import Report
from sim.report.watch import Named
from sim.words import report_words as words
from sim.words.adjust_details import HEAD, levers
from sim.words.adjust_screen import first_change, lever_in_short, whole_of_card
from sim.words.commands import Given
from sim.words.compare_details import cells_of
from sim.words.compare_screen import leads_with, whole_of_compared
from sim.words.tune_details import Labels, curve_cells, effect_cells, value_label
from sim.words.tune_screen import curve_in_short, whole_of_tuned

Watched = tuple[Sequence[Bout], Mapping[str, Typical]]
"""Bouts, and which ones they are."""


def how_picked(watched: Watched) -> list[str]:
    """How the bouts to watch were chosen, in words."""
    return [words.bouts_told(watched[1]), *([words.TOGETHER] if len(watched[0]) > 1 else [words.ALONE])]


# a comparison


def arms_of_compared(found: Compared, games: Sequence[Game], given: Given | None, unit: str) -> list[Named]:
    """The games of a comparison, by what they are called."""
    return list(zip([found.comparisons[0].first.name, *words.names_of(found, games, given, unit)], games, strict=True))


def report_of_compared(
    found: Compared, games: Sequence[Game], given: Given | None, unit: str, watched: Watched, matters: Sequence[str]
) -> Report:
    """The report of a comparison; of several variants at once a table is the answer."""
    screen, every = whole_of_compared(found, games, given, unit), found.comparisons
    names, key = words.names_of(found, games, given, unit), leads_with(found, games[0])
    first: words.Table | None = None
    real: Sequence[Sequence[bool]] = ()
    if len(every) == 1:
        figures = words.figures_of_one(every[0], cells_of(every[0]), names[0])
    else:
        figures, real = words.figures_of_several(found, names)
        first = words.answer_table(found, key, games, names)
        screen = replace(screen, answer=[words.answer_of_several(found, names, key)])
    return Report(
        title=games[0].title,
        question=words.question_of_compared(found, games, given, unit),
        screen=screen,
        page=of_compared(found, *key),
        bouts=watched[0],
        picked=how_picked(watched),
        matters=matters,
        count=words.counting(screen.doing, games[0]),
        next=words.parted(screen.doing)[1],
        figures=[figures],
        beside=screen.beside,
        first=first,
        real=real,
    )


# a tune


def arms_of_tuned(found: Tuned, game: Game, chosen: Game, labels: Labels) -> list[Named]:
    """The game as it is, and as it is with the answer where that is another."""
    with_it = (value_label(labels, found.answer, found.knobs), chosen)
    return [(words.AS_IT_IS, game), *([] if found.as_it_is else [with_it])]


def report_of_tuned(
    found: Tuned,
    games: tuple[Game, Game],
    labels: Labels,
    given: Given | None,
    unit: str,
    watched: Watched,
    matters: Sequence[str],
) -> Report:
    """The report of a tune; `games`: as it is, and as it is chosen."""
    screen = whole_of_tuned(found, *games, labels, given, unit)
    tables = [curve_cells(found, labels)]
    if rows := effect_cells(found):
        tables.append((f"{words.PAGE['else']}.", ("", "clock", words.AS_IT_IS, "with it", "difference"), rows))
    label = value_label(labels, found.answer, found.knobs)
    count = [*words.counting_tuned(found, games, label), *words.counting([], games[0])[1:]]
    return Report(
        title=games[0].title,
        question=words.question_of_tuned(found),
        screen=screen,
        page=of_tuned(found, unit),
        bouts=watched[0],
        picked=how_picked(watched),
        matters=matters,
        count=count,
        next=words.parted(screen.doing)[1],
        figures=tables,
        beside=[
            line for line in screen.beside if line != curve_in_short(found, labels)
        ],  # the picture and the table have it
    )


# a card


def arms_of_card(card: Card, game: Game, load: Load) -> list[Named]:
    """The game as it is, and with the change to begin with, if there is one."""
    best = first_change(card, game)
    return [(words.AS_IT_IS, game), *([] if best is None else [(lever_in_short(best.lever), load(best.lever.changes))])]


def report_of_card(card: Card, game: Game, given: Given | None, watched: Watched, matters: Sequence[str]) -> Report:
    """The report of a card."""
    screen = whole_of_card(card, game, given)
    screen = replace(screen, answer=words.answer_of_card(screen))
    title, rows = levers(card)
    return Report(
        title=game.title,
        question=words.question_of_card(card, game),
        screen=screen,
        page=of_card(card),
        bouts=watched[0],
        picked=how_picked(watched),
        matters=matters,
        count=words.counting(screen.doing, game, card.measure),
        next=words.parted(screen.doing)[1],
        figures=[(title, HEAD, rows)],
        beside=screen.beside,
        heading=words.PAGE["each"],
    )
