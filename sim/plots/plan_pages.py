"""The pictures of a plan as pages: evenings, the ladder of several weeks, everybody's days, and what a move changes."""

from __future__ import annotations

from sim import __version__
from sim.experiments.last_line import LINE
from sim.plots import plan_change, plan_frames, plan_ladder, plan_players, plan_week
from sim.plots.page import Page
from sim.provenance import engine
from sim.weeks.moving import Moved
from sim.weeks.plan import Planned
from sim.weeks.table import PLAYED_BOUTS, SESSIONS
from sim.words.picture_words import Origin
from sim.words.plan_words import HOUSE

MOST_EVENINGS = 6
"""In one picture of evenings: a plan of more has one a week."""


def of_plan(plan: Planned, seed: int) -> list[Page]:
    """All pictures of a plan."""
    origin = origin_of(plan, seed)
    weeks = [None] if len(plan.evenings) <= MOST_EVENINGS else range(1, plan.weeks + 1)
    pages = [Page(plan_ladder, plan_frames.of_weeks(plan), origin)] if plan.weeks > 1 else []
    frames = [plan_frames.of_evenings(plan, one) for one in weeks]
    pages += [Page(plan_week, frame, origin) for frame in frames if not frame.empty]
    if any(not line.member.keeper for line in plan.lines):
        pages.append(Page(plan_players, plan_frames.of_players(plan), origin))
    return pages


def of_move(found: Moved, seed: int) -> Page:
    """What a move changes."""
    return Page(plan_change, plan_frames.of_move(found), origin_of(found.after, seed))


def origin_of(plan: Planned, seed: int) -> Origin:
    """Where the numbers come from."""
    games = {(one.offer.key, one.offer.people) for evening in plan.evenings for one in evening.taken}
    told = f"{SESSIONS} sessions of {PLAYED_BOUTS} bouts of each of {len(games)} games"
    people = plan.file.population or "as the games say"
    return Origin(plan.file.title, (), people, seed, told, __version__, engine(), (HOUSE, LINE))
