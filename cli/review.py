"""`overload review`: planned and counted side by side, how often our ranges held, and whether the same game goes better now."""

from __future__ import annotations

from cli import options
from cli.console import console_width, say
from cli.own_logbook import logbook_at


def review(logbook: options.Logbook = None, details: options.Details = False) -> None:
    """Look back: what was planned and counted, how often our ranges held, and is it better now?"""
    from sim.own_counts.review import reviewed
    from sim.words.review_screen import review_in_words

    with logbook_at(logbook) as book:
        evenings = book.evenings()
        keys = {one.forecast for one in evenings if one.forecast is not None}
        forecasts = {key: found for key in keys if (found := book.forecast(key)) is not None}
    say(review_in_words(reviewed(evenings, forecasts), details, console_width()))
