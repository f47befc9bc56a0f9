"""The table of what each kind of event does: the rows are those of the log, and no handler waits for a kind that never comes."""

from __future__ import annotations

from dataclasses import replace

import sim.pitch.log as log
from sim.measures.event_reducer import LoggedEvent, reduce_events
from tests.unit.measures.handmade import square_bout, square_game


def test_an_event_is_read_by_the_names_of_the_log():
    assert LoggedEvent._fields == log.FIELDS


def test_a_kind_without_a_handler_changes_nothing():
    game, bout = square_game(), square_bout()
    more = [
        one
        for event in bout.events
        for one in ((event, event[:2] + ("tackle",) + event[3:]) if event[2] == "touch" else (event,))
    ]
    assert len(more) > len(bout.events)
    plain, with_tackles = (reduce_events(game, one) for one in (bout, replace(bout, events=tuple(more))))
    assert with_tackles.totals == plain.totals and with_tackles.ball_events.counts == plain.ball_events.counts
    assert (
        with_tackles.exposure.times == plain.exposure.times and with_tackles.possessions.runs == plain.possessions.runs
    )
