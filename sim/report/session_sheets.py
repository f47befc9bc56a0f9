"""The sheets of an evening: one for every grid of every block, with the people in it, their limits and the heat."""

from __future__ import annotations

from dataclasses import replace

from sim.planning.session import Planned
from sim.plots.on_sheet import drawing
from sim.report.sheet_pdf import sheets_pdf
from sim.report.sheet_setting import setting_of
from sim.squads.squad import Person
from sim.words.listing import capital, listed
from sim.words.session_details import numbered_people, place_of
from sim.words.session_screen import after, heat_in_words
from sim.words.sheet import RUN, Section, Sheet, sheet_of
from sim.words.within_limits import limits_of, off_in_words


def session_sheets(plan: Planned, version: str) -> bytes:
    """All sheets as one PDF."""
    made = []
    for number, line_up in enumerate(plan.line_ups):
        for game in range(len(line_up.games)):
            sheet = sheet_for(plan, number, game, version)
            made.append((sheet, setting_of(sheet, drawing(line_up.games[game], "png"))))
    return sheets_pdf(made)


def sheet_for(plan: Planned, number: int, game: int, version: str) -> Sheet:
    """The sheet of one grid, with names in place of blanks."""
    line_up, block = plan.line_ups[number], plan.blocks[number]
    own = line_up.games[game]
    sheet = sheet_of(own, version, None, (), "m", block.explain_s / 60.0, block.drinks_s / 60.0)
    group = f", group {game + 1}" if len(line_up.games) > 1 else ""
    head = f"{plan.evening.title}, {after(plan.starts_s[number])}{line_up.part.name}{group}: {own.title}"
    here: list[Person] = [spot.person for spot in line_up.spots if spot.game == game]
    bound = [person for person in (*here, *line_up.waiting) if person.capped]
    told = [line for person in bound for line in (limits_of(person), *off_in_words(plan, person))]
    caps = Section("Caps", tuple(told) or ("Nobody here has a cap.",), RUN)
    where = f"{capital(place_of(plan.grids[number][game]))}."
    turns = (
        [f"Out first, then all in turn: {listed([one.called for one in line_up.waiting])}."] if line_up.waiting else []
    )
    who = Section("Who plays: number, name, shirt", (*numbered_people(line_up, game), *turns, where))
    sections = [caps if one.heading == "Caps" else one for one in sheet.sections]
    foot = sheet.foot if plan.heat is None else (heat_in_words(plan.heat), *sheet.foot)
    return replace(sheet, title=head, sections=(who, *sections), foot=foot)
