"""`overload review`: planned and counted side by side, how often our ranges held, and whether the same game goes better now."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from cli import options
from cli.console import console_width, say
from cli.own_logbook import logbook_at

if TYPE_CHECKING:
    from sim.own_counts.forecast import Forecast
    from sim.own_counts.logbook import Evening, Logbook


def review(
    by_player: Annotated[
        bool, typer.Option("--by-player", help="Player by player: bouts played, loads measured and forecast.")
    ] = False,
    logbook: options.Logbook = None,
    details: options.Details = False,
) -> None:
    """Look back: what was planned and counted, how often did our ranges hold, and is it better now?"""
    from sim.own_counts.review import reviewed
    from sim.words.review_screen import review_in_words

    with logbook_at(logbook) as book:
        evenings = book.evenings()
        if by_player:
            say(players_of(book, evenings))
            return
        forecasts = forecasts_of(book, {one.forecast for one in evenings if one.forecast is not None})
    say(review_in_words(reviewed(evenings, forecasts), details, console_width()))


def forecasts_of(book: Logbook, keys: set[str]) -> dict[str, Forecast]:
    """Forecasts by key."""
    return {key: found for key in keys if (found := book.forecast(key)) is not None}


def players_of(book: Logbook, evenings: list[Evening]) -> str:
    """The look back player by player; a game that was planned and not counted is held against its plan."""
    from sim.own_counts.by_player import by_player
    from sim.own_counts.delivered import deliveries
    from sim.own_counts.planning import plans
    from sim.words.by_player_screen import by_player_in_words

    keys = {(plan.day, plan.game): plan.forecast for plan in plans(book)}
    keys |= {(one.day, one.game): one.forecast for one in evenings if one.forecast is not None}
    found = forecasts_of(book, set(keys.values()))
    loads = {place: own for place, key in keys.items() if (own := found[key].loads) is not None}
    rows = [row for one in deliveries(book) if not one.taken_back for row in one.rows]
    minors = any(one.minors for one in loads.values())
    return by_player_in_words(by_player(evenings, rows, loads), minors, console_width())
