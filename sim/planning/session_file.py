"""A session file: an evening of blocks, the ground that exists, who runs it, and what it should come to; TOML.

Everything that is wrong with the file is told at once, by its dotted key.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sim.errors import InputError
from sim.game.bounds import HIGHEST_SHIRT, LONGEST_NAME, LONGEST_SIDE_M, MOST_PLAYERS
from sim.game.intake import parsed, size_problems
from sim.game.messages import show
from sim.planning.band import MEASURES, NO_BAND, Band
from sim.planning.block import Block
from sim.populations import named, no_population
from sim.squads.entries import Entries
from sim.squads.squad import DAYS, Squad, numbered
from sim.squads.squad_file import read_squad
from sim.squads.text_file import text_of

MOST_BLOCKS = 12
MOST_MIN, MOST_BOUTS = 240.0, 60
LEAST_RUN_OFF, RUN_OFF = 0.0, 3.0
"""Free ground between two grids where the file says nothing, m: common practice has 3 to 5, no source."""
MOST_THINGS = 200
MOST_LOAD = 100_000.0
MOST_SHIRT_DIGITS = len(str(HIGHEST_SHIRT))


@dataclass(frozen=True)
class Ground:
    """The grass that exists: `length` along x, `width` along y, and `run_off` kept between two grids, metres."""

    length: float
    width: float
    run_off: float = RUN_OFF


@dataclass(frozen=True)
class Part:
    """A block of the evening by its name.

    at       (x, y) of the middle of each of its grids, m from the south-west corner of the ground; none: wherever there is room
    regroup  it may be set up anew for whoever is there
    out, together, apart   shirts: who sits it out, who stays in one group, who is kept apart
    chosen   (shirt, bib or number of the group), whatever else
    goes_on  it is the block before it, on the same ground, without somebody who is off
    """

    name: str
    block: Block
    at: tuple[tuple[float, float], ...] = ()
    regroup: bool = False
    out: tuple[int, ...] = ()
    together: tuple[tuple[int, ...], ...] = ()
    apart: tuple[tuple[int, ...], ...] = ()
    chosen: tuple[tuple[int, str], ...] = ()
    goes_on: bool = False


@dataclass(frozen=True)
class Evening:
    """A session as planned.  `minutes`: how long there is; `staff`, `balls`: how many there are (None: enough)."""

    title: str
    day: str
    minutes: float
    ground: Ground
    staff: int | None
    balls: int | None
    population: str | None
    squad: Squad
    band: Band
    parts: tuple[Part, ...]
    source: str


def read_evening(path: Path) -> Evening:
    """The session of a file, its squad read with it; raises `InputError`."""
    source = str(path)
    found = parsed(text_of(path, "session file").replace("\r\n", "\n"), source)
    if large := size_problems(found):
        raise InputError([str(one) for one in large], source)
    problems: list[str] = []
    entries = Entries(found, "", problems)
    day = entries.text("day", known=DAYS)
    population = entries.text("population")
    if population and named(population) is None:
        entries.complain("population", f"must name a population: {no_population(population)} (got {show(population)})")
    squad = _squad(entries, path)
    minutes = entries.number("minutes", 1.0, MOST_MIN, needed=True)
    ground = _ground(entries)
    band = _band(entries)
    parts = _parts(entries, path.parent)
    evening = Evening(
        entries.name("title") or path.stem,
        day,
        minutes or MOST_MIN,
        ground,
        entries.whole("staff", 1, MOST_THINGS),
        entries.whole("balls", 1, MOST_THINGS),
        named(population) if population else None,
        squad,
        band,
        parts,
        source,
    )
    entries.finish()
    problems += _strangers(evening)
    if problems:
        raise InputError(problems, source)
    return evening


def _squad(entries: Entries, path: Path) -> Squad:
    """The squad of a file beside this one, or so many of whom nothing is known."""
    file, players = entries.text("squad"), entries.whole("players", 1, MOST_PLAYERS)
    if bool(file) == (players is not None):
        entries.complain("squad", "must be given, or players: how many there are; not both, not neither")
        return numbered(players or 1)
    return read_squad(path.parent / file) if file else numbered(players or 1)


def _ground(entries: Entries) -> Ground:
    value = entries.value("ground")
    if value is None:
        entries.complain("ground", "must be given: ground = { length = 50, width = 40 }, in metres")
        return Ground(LONGEST_SIDE_M, LONGEST_SIDE_M)
    own = Entries(value, "ground", entries.problems)
    length, width = (own.number(key, 1.0, LONGEST_SIDE_M, needed=True) or LONGEST_SIDE_M for key in ("length", "width"))
    run_off = own.number("run_off", LEAST_RUN_OFF, LONGEST_SIDE_M)
    own.finish()
    return Ground(length, width, RUN_OFF if run_off is None else run_off)


def _band(entries: Entries) -> Band:
    value = entries.value("band")
    if value is None:
        return NO_BAND
    own = Entries(value, "band", entries.problems)
    label, source = own.name("label"), own.name("source")
    ends = {}
    for measure in MEASURES:
        found = own.numbers(measure, 2, 0.0, MOST_LOAD)
        if found is not None and found[0] > found[1]:
            own.complain(measure, f"must go from the least to the most (got {show(list(found))})")
        elif found is not None:
            ends[measure] = (found[0], found[1])
    own.finish()
    return Band(ends, label, source)


def _parts(entries: Entries, folder: Path) -> tuple[Part, ...]:
    value = entries.value("blocks")
    if not isinstance(value, dict) or not value:
        entries.complain("blocks", "must hold a block at least: [blocks.first], with its game")
        return ()
    if len(value) > MOST_BLOCKS:
        entries.complain("blocks", f"must be at most {MOST_BLOCKS} (got {len(value)})")
    return tuple(_part(name, one, folder, entries.problems) for name, one in value.items())


def _part(name: str, value: object, folder: Path, problems: list[str]) -> Part:
    fits = len(name) <= LONGEST_NAME and name.isprintable()
    name = name if fits else show(name).strip('"')
    own = Entries(value, f"blocks.{name}", problems)
    if not fits:
        own.complain("", f"must have a name of {LONGEST_NAME} printable characters at most")
    game = own.text("game", needed=True)
    changes = tuple(str(one) for one in own.listed("set"))
    bouts = own.whole("bouts", 1, MOST_BOUTS)
    times = {key: own.number(key, 0.0, MOST_MIN) for key in ("work", "rest", "explain", "drinks", "changeover")}
    if times["work"] == 0.0:
        own.complain("work", "must be longer than nothing (got 0)")
    work, rest = (None if times[key] is None else 60.0 * (times[key] or 0.0) for key in ("work", "rest"))
    explain, drinks, changeover = (60.0 * (times[key] or 0.0) for key in ("explain", "drinks", "changeover"))
    found = Part(
        name,
        Block(
            _beside(own, folder, game),
            changes,
            bouts,
            work,
            rest,
            explain,
            drinks,
            changeover,
        ),
        tuple((one[0], one[1]) for one in _points(own)),
        _regroup(own),
        _shirts(own, "out"),
        _units(own, "together"),
        _units(own, "apart"),
        _chosen(own),
    )
    own.finish()
    return found


def _beside(own: Entries, folder: Path, game: str) -> str:
    """A game file that stands beside this one by its whole path; any other game as it is named."""
    try:
        return str(folder / game) if game.endswith(".toml") and (folder / game).is_file() else game
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        own.complain("game", f"must name a file that can be looked for (got {show(game)}: {reason})")
        return game


def _points(own: Entries) -> list[tuple[float, ...]]:
    return [
        point
        for one in own.listed("at")
        if (point := own.numbers_in("at", one, 2, -LONGEST_SIDE_M, LONGEST_SIDE_M)) is not None
    ]


def _regroup(own: Entries) -> bool:
    found = own.value("regroup")
    if found is not None and not isinstance(found, bool):
        own.complain("regroup", f"must be true or false (got {show(found)})")
    return found is True


def _shirts(own: Entries, key: str) -> tuple[int, ...]:
    return _whole_shirts(own, key, own.listed(key))


def _whole_shirts(own: Entries, key: str, found: object) -> tuple[int, ...]:
    shirts = found if isinstance(found, (list, tuple)) else ()
    wrong = [one for one in shirts if isinstance(one, bool) or not isinstance(one, int)]
    if wrong or not isinstance(found, (list, tuple)):
        own.complain(key, f"must be shirt numbers (got {show(wrong[0] if wrong else found)})")
    return tuple(one for one in shirts if one not in wrong)


def _units(own: Entries, key: str) -> tuple[tuple[int, ...], ...]:
    return tuple(_whole_shirts(own, key, one) for one in own.listed(key))


def _chosen(own: Entries) -> tuple[tuple[int, str], ...]:
    """Shirt -> bib or group: ``chosen = { 7 = "amber" }``."""
    value = own.value("chosen")
    if value is None:
        return ()
    table = Entries(value, own.at("chosen"), own.problems)
    found = []
    for shirt in table.data:
        group = table.text(shirt)
        if not (shirt.isdecimal() and len(shirt) <= MOST_SHIRT_DIGITS and int(shirt) <= HIGHEST_SHIRT):
            table.complain(show(shirt).strip('"'), f"must be a shirt number, {HIGHEST_SHIRT} at most")
        elif group:
            found.append((int(shirt), group))
    return tuple(found)


def _strangers(evening: Evening) -> list[str]:
    """Shirts that nobody of the squad wears."""
    known = {person.shirt for person in evening.squad.people}
    found = []
    for part in evening.parts:
        named_ = (("out", part.out), ("together", sum(part.together, ())), ("apart", sum(part.apart, ())))
        for key, shirts in (*named_, ("chosen", tuple(shirt for shirt, _ in part.chosen))):
            for shirt in shirts:
                if shirt not in known:
                    found.append(f"blocks.{part.name}.{key} must name a shirt of the squad (got {shirt})")
    return found
