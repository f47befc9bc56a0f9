"""What changes when a match or an evening is moved: cut, changed and kept, before and after."""

from __future__ import annotations

from sim.experiments.last_line import LINE
from sim.weeks.days import Evening, Match
from sim.weeks.moving import Moved
from sim.weeks.plan import PlannedEvening
from sim.words.listing import capital, listed, number_word, some
from sim.words.plan_screen import Misses, heat_of, missed_lines
from sim.words.plan_words import HOUSE, amounts_of, day_of, game_of, label_of
from sim.words.screen import Screen


def move_on_a_screen(found: Moved, misses: Misses, again: str) -> str:
    """The screen; `misses` after the move; `again`: the command of the plan as it was typed."""
    what = found.move.what
    name = what.name if isinstance(what, Match) else "the evening"
    asked = f"{found.before.file.title}: {name} moves from {day_of(what.day)} to {day_of(found.move.to)}"
    body = [line for before, after in found.changed for line in changed(before, after)]
    return Screen(
        asked,
        [headline(found), *(cut(one) for one in found.cut), *body],
        [*kept(found), *hot(found), *missed_lines(found.after.evenings, misses)],
        ["Write the new date into the file, then:", f"  {again}"],
        [HOUSE, LINE],
    ).text()


def headline(found: Moved) -> str:
    """How much changes."""
    games = [one for one in found.changed if one[0].taken != one[1].taken]
    parts = []
    if found.cut:
        parts.append(f"cut {listed([day_of(one.evening.day) for one in found.cut])}")
    if games:
        parts.append(f"change the games of {some(len(games), 'evening')}")
    if not parts:
        return "No game has to change: only the labels are others."
    return f"{capital(listed(parts))}; the rest stays as it is."


def cut(one: PlannedEvening) -> str:
    """An evening that is gone, and what goes with it."""
    return f"Cut: {day_of(one.evening.day)}, {label_of(one.labels)}: {amounts_of(one)}"


def changed(before: PlannedEvening, after: PlannedEvening) -> list[str]:
    """Labels, amounts and games, before and after; what stays is not said twice."""
    moved = f" (was {day_of(before.evening.day)})" if before.evening.day != after.evening.day else ""
    lines = [f"{day_of(after.evening.day)}{moved}: {label_of(before.labels)}, now {label_of(after.labels)}"]
    if before.taken == after.taken:
        return [*lines, "- the same games"]
    own = {one.offer.key: one for one in before.taken}
    stay = {one.offer.key for one in after.taken} & set(own)
    for one in after.taken:
        if one.offer.key not in stay:
            lines.append(f"- in: {game_of(one)}")
        elif one.bouts != own[one.offer.key].bouts:
            lines.append(f"- {one.offer.game}: {some(own[one.offer.key].bouts, 'bout')}, now {number_word(one.bouts)}")
    lines += [f"- out: {one.offer.game}" for one in before.taken if one.offer.key not in stay]
    return [*lines, f"- before: {amounts_of(before)}", f"- after: {amounts_of(after)}"]


def hot(found: Moved) -> list[str]:
    """The heat of the evenings, and that the reading of one that moves is to be taken anew."""
    what = found.move.what
    anew = isinstance(what, Evening) and what.wbgt is not None
    old, new = day_of(what.day), day_of(found.move.to)
    return [
        *heat_of(found.after.evenings),
        *([f"The reading was for {old}: take it anew for {new}, and write it into the file."] if anew else []),
    ]


def kept(found: Moved) -> list[str]:
    """Evenings in which nothing changes."""
    changed_days = {after.evening.day for _, after in found.changed}
    own = [day_of(one.evening.day) for one in found.after.evenings if one.evening.day not in changed_days]
    return [f"As planned: {listed(own)}."] if own else []
