"""A plan as an iCalendar file (RFC 5545): an event for every evening and match, whole days where no hour is known.

The same plan gives the same bytes.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, date, datetime, time, timedelta
from typing import TYPE_CHECKING

from sim.weeks.days import Match
from sim.weeks.plan import Planned, PlannedEvening

if TYPE_CHECKING:
    from icalendar import Event

WORD = re.compile(r"[a-z0-9]+")
MADE_BY = "-//Quillhaven//overload//EN"
MATCH_MIN = 105.0
"""Of a match in the calendar: two halves and the break."""


def calendar(plan: Planned, said: Callable[[PlannedEvening], tuple[str, str]]) -> bytes:
    """The file; `said`: title and text of an evening."""
    from icalendar import Calendar

    whole = Calendar()
    whole.add("prodid", MADE_BY)
    whole.add("version", "2.0")
    for one in plan.evenings:
        title, text = said(one)
        whole.add_component(_event(plan, one.evening.day, one.evening.start, one.evening.minutes, (title, text)))
    for match in plan.file.matches:
        whole.add_component(_event(plan, match.day, match.start, MATCH_MIN, (_match_title(match), "")))
    return bytes(whole.to_ical())


def _match_title(match: Match) -> str:
    return f"Friendly: {match.name}" if match.friendly else f"Match: {match.name}"


def _event(plan: Planned, day: date, start: time | None, minutes: float, said: tuple[str, str]) -> Event:
    from icalendar import Event

    event = Event()
    event.add("uid", f"{day.isoformat()}-{'-'.join(WORD.findall(plan.file.title.casefold()))}@overload")
    event.add("dtstamp", datetime.combine(plan.file.first, time(), UTC))
    event.add("summary", said[0])
    if said[1]:
        event.add("description", said[1])
    if start is None:
        event.add("dtstart", day)
        event.add("dtend", day + timedelta(days=1))
    else:
        begin = datetime.combine(day, start)
        event.add("dtstart", begin)
        event.add("dtend", begin + timedelta(minutes=minutes))
    return event
