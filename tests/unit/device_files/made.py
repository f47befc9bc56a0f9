"""Three layouts of nobody's, and files in them."""

from __future__ import annotations

import io
from datetime import date

from sim.device_files.layouts import Layout, layout_of
from sim.device_files.people import People
from sim.device_files.report import Report, Setting, examined
from sim.device_files.tables import names_in, read_table
from sim.game.loader import load_game

TODAY = date(2026, 11, 29)
PLAIN = {
    "checked": True, "headers": ["Player", "Date", "Drill", "Minutes", "Metres", "Fast", "Accelerations", "Top"],
    "player": "Player", "date": "Date", "block": "Drill", "duration": "Minutes", "duration_unit": "min", "distance": "Metres",
    "distance_unit": "m", "fast": "Fast", "fast_unit": "m", "fast_from": "19.8 km/h", "accelerations": "Accelerations",
    "top_speed": "Top", "top_speed_unit": "km/h", "blocks": {"4v2 end": "tight-square"}, "players": {"A. One": "Ali"},
}  # fmt: skip
"""English, points, minutes."""
COMMAS = {
    "checked": True, "headers": ["Spieler", "Datum", "Übung", "Zeit", "Strecke (km)", "Schnell (m)"],
    "player": "Spieler", "date": "Datum", "block": "Übung", "duration": "Zeit", "duration_unit": "h:mm:ss",
    "distance": "Strecke (km)", "distance_unit": "km", "fast": "Schnell (m)", "fast_unit": "m", "fast_from": "80 %",
}  # fmt: skip
"""Semicolons, decimal commas, h:mm:ss, kilometres."""
SESSION = {
    "checked": True, "headers": ["shirt", "secs", "dist", "max m/s", "sprint", "sprint from"],
    "player": "shirt", "duration": "secs", "duration_unit": "s", "distance": "dist", "distance_unit": "m", "top_speed": "max m/s",
    "top_speed_unit": "m/s", "sprint": "sprint", "sprint_unit": "m", "sprint_from_column": "sprint from",
}  # fmt: skip
"""A row a player and session, seconds, metres a second, thresholds row by row; no date."""
GAME = load_game("tight-square")
HEAD = "Player,Date,Drill,Minutes,Metres,Fast,Accelerations,Top\n"


def layout(data: dict, name: str = "tracker", **more: object) -> Layout:
    problems: list[str] = []
    found = layout_of(name, data | more, problems)
    assert found is not None, problems
    return found


def report(
    text: str | bytes,
    data: dict = PLAIN,
    games: dict | None = None,
    people: People | None = None,
    day: str | None = None,
    **more: object,
) -> Report:
    """The dry run of a file."""
    own = layout(data, **more)
    content = text.encode() if isinstance(text, str) else text
    table = read_table(content, "a.csv", {names_in(data["headers"])})
    games = {"4v2 end": GAME} if games is None else games
    return examined(table, own, Setting(games, people or People(), day, TODAY), "a.csv")


def rows(*lines: str) -> str:
    """A file in the plain layout."""
    return HEAD + "".join(f"{line}\n" for line in lines)


def workbook(**sheets: list[list[object]]) -> bytes:
    """An XLSX file."""
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.active)
    for title, lines in sheets.items():
        page = book.create_sheet(title)
        for line in lines:
            page.append(line)
    place = io.BytesIO()
    book.save(place)
    return place.getvalue()
