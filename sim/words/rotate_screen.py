"""A game in turn, on a screen: the list of bouts with names, who gets how much of what, and what would make it equal."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from sim.errors import any_of
from sim.experiments.last_line import LINE
from sim.game.terms import Bouts
from sim.planning.block import longest_s
from sim.planning.luck_in_turn import WithoutBall
from sim.planning.rotating import RESTING, Rotation, whole_s
from sim.words.commands import Given
from sim.words.listing import capital, listed, number, number_word, some, time
from sim.words.screen import WIDTH, Screen
from sim.words.setting_up import set_up, time_of
from sim.words.tables import table

USUALLY = "Usually: eight players in ten."
PLACES = ("inside", "outside")
"""Names of roles that say where, and need no "as"."""


def rotation_on_a_screen(
    found: Rotation, luck: WithoutBall | None, nobody_rests: Rotation | None, written: str | None, given: Given
) -> str:
    """The whole answer; `luck`: minutes without the ball where places change in a bout; `nobody_rests`: the same with everybody in
    it, where that can be played; `written`: where the list is."""
    body = [*answer(found), "", *the_list(found).splitlines(), "", *the_exposure(found).splitlines(), ""]
    beside = [*luck_in_words(found, luck), *set_anew(found)]
    doing = [
        *([f"Written: {written}."] if written else []),
        *would_be_equal(found, given),
        *next_step(nobody_rests, written, given),
    ]
    cautions = [*([USUALLY] if luck is not None and luck.usually is not None else []), LINE]
    return Screen(asked(found), body, beside, doing, cautions).text()


def asked(found: Rotation) -> str:
    """The game, who takes part, and how long there is."""
    people = some(len(found.wish.names), "player")
    minutes = "" if found.wish.minutes is None else f" in {found.wish.minutes:g} min"
    return f"{found.game.title}: {set_up(found.game)}; {people}{minutes}"


def answer(found: Rotation) -> list[str]:
    """How many bouts, whether it comes out equal, and what everybody gets."""
    bouts = found.game.bouts
    rest = f", {time(bouts.rest_seconds)} between" if bouts.count > 1 and bouts.rest_seconds else ""
    of_these = f"{capital(these(bouts))}{rest}: {clock(found.long_s)} min in all."
    if found.equal:
        return [of_these, f"That is equal. Everybody {listed(deeds(found, found.exposure[0]))}."]
    takes = f"Not equal: that takes {number_word(found.to_equal)} bouts"
    takes += " or a multiple of it" if bouts.count > found.to_equal else ""
    return [of_these, f"{takes}. {capital(off_by_one(found))}."]


def off_by_one(found: Rotation) -> str:
    """``three begin inside twice and four once``: of the first job that is not shared out equally and that few have at a time."""
    uneven = [job for job in range(len(found.jobs)) if len({own[job] for own in found.exposure}) > 1]
    job = next((one for one in uneven if 2 * found.jobs[one][1] <= len(found.wish.names)), uneven[0])
    counts = Counter(own[job] for own in found.exposure)
    (most, many), *fewer = sorted(counts.items(), reverse=True)
    name, _ = found.jobs[job]
    s = "s" if many == 1 else ""
    do = f"rest{s}" if name == RESTING else f"begin{s} {at(found, name)}"
    others = [f"{number_word(people)} {often(count)}" for count, people in fewer]
    return ", ".join([f"{number_word(many)} {do} {often(most)}", *others])


def often(count: int) -> str:
    """``never``, ``once``, ``three times``."""
    return ("never", "once", "twice")[count] if count < 3 else f"{number_word(count)} times"


def deeds(found: Rotation, counts: Sequence[int]) -> list[str]:
    """``begins inside twice``, ``outside four times``, ``rests once``: what somebody does, the jobs that he has."""
    said: list[str] = []
    for (job, _), count in zip(found.jobs, counts, strict=True):
        if count:
            does = "rests" if job == RESTING else at(found, job) if said else f"begins {at(found, job)}"
            said.append(f"{does} {often(count)}")
    return said


def at(found: Rotation, job: str) -> str:
    """``inside``, ``as hunter``, ``in amber``."""
    if job in PLACES or job == RESTING:
        return job
    return f"in {job}" if any(team.name == job for team in found.game.teams) else f"as {job}"


def the_list(found: Rotation) -> str:
    """A row a bout: when it begins, and who does what; a column for every bib or place."""
    heads = [name for cells in found.cells for name, _ in cells]
    columns = [column for job in range(len(found.jobs)) for column in by_cell(found, job)]
    rows = [
        (str(bout + 1), clock(start), *(", ".join(column[bout]) for column in columns))
        for bout, start in enumerate(found.starts_s())
    ]
    return table(("bout", "at", *heads), rows, WIDTH, range(2, 2 + len(heads)))


def by_cell(found: Rotation, job: int) -> list[list[list[str]]]:
    """[cell][bout]: the names of those who do a job in a bib or place; whoever had it before keeps it where there is room."""
    cells = [(i, count) for i, (_, count) in enumerate(found.cells[job])]
    before: dict[str, int] = {}
    every: list[list[list[str]]] = [[] for _ in cells]
    for bout in range(found.game.bouts.count):
        left = found.members(bout, job)
        own = {i: [name for name in left if before.get(name) == i][:count] for i, count in cells}
        kept = {name for names in own.values() for name in names}
        left = [name for name in left if name not in kept]
        for i, count in cells:
            more = count - len(own[i])
            own[i], left = own[i] + left[:more], left[more:]
            every[i].append([name for name in found.wish.names if name in own[i]])
        before = {name: i for i, names in own.items() for name in names}
    return every


def clock(seconds: float) -> str:
    """``2:15``."""
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"


def the_exposure(found: Rotation) -> str:
    """Who has how many bouts of what, those with as many in one row."""
    alike = Counter(found.exposure)
    rows = []
    for counts in sorted(alike, reverse=True):
        names = [name for name, own in zip(found.wish.names, found.exposure, strict=True) if own == counts]
        who = "everybody" if len(alike) == 1 else ", ".join(names)
        played = sum(count for (job, _), count in zip(found.jobs, counts, strict=True) if job != RESTING)
        rows.append((who, *map(str, counts), number(played * longest_s(found.game.bouts) / 60)))
    return table(("bouts of each", *(name for name, _ in found.jobs), "min played"), rows, WIDTH, (0,))


def luck_in_words(found: Rotation, luck: WithoutBall | None) -> list[str]:
    """What the list leaves to luck, and how to leave nothing to it."""
    if luck is None:
        return []
    (job, _), minutes = found.jobs[0], longest_s(found.game.bouts) / 60
    exact = [number(count * minutes) for count in sorted({counts[0] for counts in found.exposure})]
    spread = "a mean: turns are not equal"
    if luck.usually is not None:
        spread = "usually {} to {}".format(*map(number, luck.usually))
    return [
        f"The list says who begins. Places change in a bout, so luck has a say: about {number(luck.mean)} min each without the "
        f"ball, counted while it rolls ({spread}).",
        f"To leave nothing to luck, whoever begins {at(found, job)} stays there until the whistle: {any_of(exact)} min each.",
    ]


def set_anew(found: Rotation) -> list[str]:
    """That the numbers are not the game's own."""
    if not found.anew:
        return []
    return [f"Set up anew for so many: {set_up(found.game)} (`overload regroup` has others)."]


def would_be_equal(found: Rotation, given: Given) -> list[str]:
    """The bouts that would make it equal, or how many minutes they need."""
    if found.equal:
        return []
    better = found.equal_bouts()
    if better is not None:
        said = f"Equal in the same time, with {these(better)}:"
        return [said, f"  {given.again(('--bouts', better.count), ('--out', None))}"]
    bouts = found.written.model_copy(update={"count": found.to_equal})
    again = given.again(("--bouts", bouts.count), ("--minutes", None), ("--out", None))
    return [f"Equal in {clock(whole_s(bouts))} min, with {these(bouts)}:", f"  {again}"]


def these(bouts: Bouts) -> str:
    """``seven bouts of 2 min``."""
    return f"{some(bouts.count, 'bout')} of {time_of(bouts.seconds)}"


def next_step(nobody_rests: Rotation | None, written: str | None, given: Given) -> list[str]:
    """The same with nobody resting, or to keep the list."""
    if nobody_rests is not None:
        own = set_up(nobody_rests.game)
        return [
            f"Try next, all in it and nobody resting ({own}):",
            f"  {given.again(('--resting', 0), ('--out', None))}",
        ]
    if written is None:
        return ["Try next, to keep the list:", f"  {given.again(('--out', 'list.csv'))}"]
    return []


def list_as_csv(found: Rotation) -> str:
    """A row a bout, a column for every job, bib or place: for a spreadsheet, or to print."""
    import csv
    import io

    place = io.StringIO()
    writer = csv.writer(place, lineterminator="\n")
    columns = [column for job in range(len(found.jobs)) for column in by_cell(found, job)]
    writer.writerow(["bout", "starts_s", "work_s", *(name for cells in found.cells for name, _ in cells)])
    for bout, start in enumerate(found.starts_s()):
        writer.writerow(
            [bout + 1, f"{start:g}", f"{found.game.bouts.seconds:g}", *(", ".join(column[bout]) for column in columns)]
        )
    return place.getvalue()
