"""The sheet in words: one value that the page and the PDF both print, made from the game alone.

What an assistant needs to lay the game out and run it without asking: when, where, who, the rules, how a ball comes back, what to
carry out, who does what, when to change something, what to count and how.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from sim.experiments.adjusted import Card
from sim.experiments.cautions import REDUCED, ROUGH
from sim.experiments.last_line import LINE
from sim.game.borders import lies_in, touching
from sim.game.equipment import FURTHEST_APART_M, Bibs, equipment_of
from sim.game.model import HOUSE_CLUB, Area, Game, Goal
from sim.game.sole import chosen_by_time
from sim.game.timetable import DRINKS_MIN, EXPLAIN_MIN, Slot, timetable
from sim.game.verbs import Swap, Trade
from sim.own_counts.columns import columns_of
from sim.words.asked import no_defending, not_awaited, steps_down, whose_points
from sim.words.by_hand import BESIDE, CLOCK, column_name, definitions
from sim.words.deeds import gates_in_words
from sim.words.diagram_words import PACE, paces, paces_of, size_in_both_units, source
from sim.words.figures import present
from sim.words.ground_words import ON_SIDE, TOWARDS, as_drawn
from sim.words.jobs import jobs
from sim.words.lineup import lines_of_roles, reduced
from sim.words.listing import capital, listed, number, number_word, some, time
from sim.words.places import area_called
from sim.words.playing import fronts
from sim.words.plurals import counted, figured, names_doers
from sim.words.points import in_strokes
from sim.words.role_changes import between_bouts, cut_off
from sim.words.series import clock_in_words, next_bout
from sim.words.sheet_rules import restart_lines, rule_lines
from sim.words.sheet_triggers import trigger_lines
from sim.words.who import side_called
from sim.words.zones import zones_in_words

LEVEL_M = 1e-6
BLANKS = (("Date", 2), ("Group", 3), ("Ground and weather", 3))
"""What is written in by hand at the head, and how much room each gets."""
CAPS = "Caps from the medical staff (who, how many bouts, no defending):"
COUNTING = "Count, bout by bout"
TRIGGERS = "Too easy, too hard"
WRITTEN = 60 * "."
LAY: Literal["lay out"] = "lay out"
RUN: Literal["run"] = "run"


@dataclass(frozen=True)
class Section:
    """`side`: for laying the game out, with the picture, or overleaf for running it."""

    heading: str
    lines: tuple[str, ...]
    side: Literal["lay out", "run"] = LAY


@dataclass(frozen=True)
class Sheet:
    """`tally`: the row of heads, and a row a bout with what is known beforehand.  `foot`: cautions, the general one last."""

    title: str
    purpose: str
    source: str
    picture: str
    sections: tuple[Section, ...]
    counting: str
    counts: tuple[tuple[str, str], ...]
    tally: tuple[tuple[str, ...], ...]
    beside: tuple[str, ...]
    foot: tuple[str, ...]


def whose(game: Game) -> str:
    """The club, where the file says one."""
    return "" if game.club == HOUSE_CLUB else f"{game.club}. "


def sheet_of(
    game: Game,
    version: str,
    card: Card | None = None,
    changes: Sequence[str] = (),
    unit: str = "m",
    explain_min: float = EXPLAIN_MIN,
    drinks_min: float = DRINKS_MIN,
) -> Sheet:
    """The whole sheet; `version` of the program; without a `card` nothing is said about what makes the game easier or harder."""
    tell, slots = as_drawn(game), timetable(game.bouts, explain_min, drinks_min)
    sections = (
        Section("Lay out", tuple(layout(game, unit))),
        Section("Carry out", tuple(carried(game))),
        Section("Who starts where", tuple([*lines_of_roles(game, True), *swaps_said(game)])),
        Section(
            "Time on the watch", tuple([*schedule(game, slots, explain_min, drinks_min), *clock_in_words(game)]), RUN
        ),
        Section("Rules", tuple(rule_lines(game)), RUN),
        Section("How a ball comes back", tuple(restart_lines(game)), RUN),
        Section("Who runs it", tuple([*jobs(game), *in_strokes(game), *whose_points(game), *steps_down(game)]), RUN),
        Section(
            "From bout to bout",
            tuple([between_bouts(game), *next_bout(game), *cut_off(game)] if game.bouts.count > 1 else ()),
            RUN,
        ),
        Section("Caps", tuple([*reduced(game), f"{CAPS} {WRITTEN}", *no_defending(game)]), RUN),
        Section(TRIGGERS, tuple(trigger_lines(game, card)), RUN),
    )
    return Sheet(
        title=game.title,
        purpose=tell(game.purpose),
        source=f"{whose(game)}{source(game.name, changes, version)}",
        picture=f"The ground of {game.title} to scale, with everybody where he starts, and the server with the balls.",
        sections=tuple(replace(one, lines=tuple(tell(line) for line in one.lines)) for one in sections if one.lines),
        counting=COUNTING,
        counts=tuple((column_name(name), tell(said)) for name, said in definitions(game)),
        tally=tally(game),
        beside=(CLOCK, BESIDE),
        foot=cautions(card),
    )


def cautions(card: Card | None) -> tuple[str, ...]:
    """What must be said with it; the general line last.  Without what is about ranges, of which a sheet has none, and who is on
    reduced load, who stands under the caps."""
    if card is None:
        return (LINE,)
    return tuple(one for one in dict.fromkeys(card.cautions) if not (one.endswith(ROUGH) or one.startswith(REDUCED)))


# When


def watch(seconds: float) -> str:
    """Seconds as a watch shows them: ``4:30``."""
    return f"{int(seconds // 60)}:{int(round(seconds % 60)):02d}"


def schedule(game: Game, slots: Sequence[Slot], explain_min: float, drinks_min: float) -> list[str]:
    """``0:00 explain, 2:00 bout 1, 4:00 rest, ...``, and how long each is."""
    stations = [f"{watch(slot.start_s)} {slot.kind}{f' {slot.bout}' if slot.bout else ''}" for slot in slots]
    spells = f"{some(game.bouts.count, 'bout')} of {time(game.bouts.seconds)}"
    rest = f", {time(game.bouts.rest_seconds)} rest" if game.bouts.count > 1 and game.bouts.rest_seconds else ""
    usual = [
        *([f"{time(60 * explain_min)} to explain it"] if explain_min else []),
        *([f"{time(60 * drinks_min)} for drinks at least"] if drinks_min else []),
    ]
    lines = [
        f"{', '.join(stations)}, {watch(slots[-1].end_s)} end.",
        f"{capital(spells)}{rest}, start and stop on the whistle.",
    ]
    return [*lines, f"{capital(listed(usual))}; more when it is hot."] if usual else lines


# Where


def layout(game: Game, unit: str) -> list[str]:
    """The areas with their sizes in metres and paces, where each lies, the ground around them, goals, and what a pace is."""
    lines = []
    for index, area in enumerate(game.areas):
        lines.append(
            f"{capital(area.name)}: {size_in_both_units(area, unit)} = {paces_of(area)}{placed(area, game.areas[:index])}."
        )
    lines += zones_in_words(game) + gates_in_words(game)
    free = {(area.run_off, area.out) for area in game.areas}
    if len(free) == 1:
        around = "it" if len(game.areas) == 1 else "all of them together" if touching(game) else "each"
        lines.append(kept_free(game.areas[0], around))
    else:
        lines += [kept_free(area, area_called(area.name)) for area in game.areas if area.run_off]
    return [*lines, *goals_laid(game), *fronts(game), PACE]


def kept_free(area: Area, around: str) -> str:
    """``Keep 2 m (3 paces) free all round it: play goes on in there.``"""
    return f"Keep {stretch(area.run_off)} free all round {around}{': play goes on in there' if area.run_off_in_play else ''}."


def goals_laid(game: Game) -> list[str]:
    """Where the goals stand, how large they are and who scores in them: those that are alike in one line."""
    found: dict[tuple[str, str], list[Goal]] = {}
    for goal in game.goals:
        size = f"{stretch(goal.width)} wide and {number(goal.height)} m high"
        who = "either side scores" if goal.attacked_by == "any" else f"{side_called(game, goal.attacked_by)} score"
        found.setdefault((size, who), []).append(goal)
    lines = []
    for (size, who), goals in found.items():
        places = listed([on_line(game, goal) for goal in goals])
        which = {1: "it", 2: "both"}.get(len(goals), "all")
        lines.append(f"{capital(listed([goal.name for goal in goals]))}: {places}, {size}; {who} in {which}.")
    return lines


def stretch(metres: float) -> str:
    """``8 m (11 paces)``."""
    return f"{number(metres)} m ({figured(paces(metres), 'pace')})"


def placed(area: Area, earlier: Sequence[Area]) -> str:
    """Where an area lies, so that it can be paced out from one that is there already; nothing for the first."""
    for other in earlier:
        there = area_called(other.name)
        west, south, east, north = (a - b for a, b in zip(area.bounds, other.bounds, strict=True))
        if lies_in(area, other):
            ends = {"west": west, "east": -east, "south": south, "north": -north}
            return f", inside {there}: {from_lines(ends)}"
        gaps = {
            "east": area.bounds[0] - other.bounds[2],
            "west": other.bounds[0] - area.bounds[2],
            "north": area.bounds[1] - other.bounds[3],
            "south": other.bounds[1] - area.bounds[3],
        }
        for side, gap in gaps.items():
            if gap >= -LEVEL_M:
                apart = f"{stretch(abs(gap))} {ON_SIDE[side]}" if gap > LEVEL_M else f"touching the {side} side of"
                shift = area.y - other.y if side in ("east", "west") else area.x - other.x
                return f", {apart} {there}{shifted(shift, side)}"
    return ", see the diagram" if earlier else ""


def shifted(metres: float, side: str) -> str:
    """How far the middle of an area lies beside the middle of the one it is measured from."""
    if abs(metres) <= LEVEL_M:
        return ", level with it"
    ways = ("south", "north") if side in ("east", "west") else ("west", "east")
    return f", its middle {stretch(abs(metres))} further {TOWARDS[ways[metres > 0]]}"


def from_lines(ends: dict[str, float]) -> str:
    """``18 m (24 paces) from its west and east lines and 8 m (11 paces) from its south and north lines``."""
    found: dict[str, list[str]] = {}
    for end, metres in ends.items():
        found.setdefault(stretch(metres), []).append(end)
    return listed(
        [f"{how} from its {listed(which)} line{'s' if len(which) > 1 else ''}" for how, which in found.items()]
    )


def on_line(game: Game, goal: Goal) -> str:
    """``in the middle of the west line of the pitch``."""
    for area in game.areas:
        west, south, east, north = area.bounds
        at = {"west": west, "east": east, "south": south, "north": north}[goal.end]
        upright = goal.end in ("west", "east")
        along, middle = (goal.x, goal.y - area.y) if upright else (goal.y, goal.x - area.x)
        if abs(along - at) <= LEVEL_M:
            ways = ("south", "north") if upright else ("west", "east")
            off = "in" if abs(middle) <= LEVEL_M else f"{stretch(abs(middle))} {ON_SIDE[ways[middle > 0]]}"
            return f"{off} the middle of the {goal.end} line of {area_called(area.name)}"
    return f"where the diagram has it, at the {goal.end} end"


# With what, and by whom


def carried(game: Game) -> list[str]:
    """What to carry out, counted."""
    needed = equipment_of(game)
    places = "corners and gates" if game.gates else "the corners"
    along = f" ({needed.corners} at {places}, {needed.between} along the lines, {FURTHEST_APART_M:.0f} m apart at most)"
    cones = f"{needed.cones} cones{along if needed.between else f' ({places})'}"
    bibs = listed([f"{one.count} {bibs_for(game, one)}" for one in needed.bibs])
    colours = f"bibs: {bibs}" if needed.bibs and needed.bibs[0].team else bibs
    goals = goals_counted(game)
    keepers = [
        f"{needed.keepers} keepers in colours of their own" if needed.keepers > 1 else "a keeper in a colour of his own"
    ]
    things = [cones, *goals, colours, *(keepers if needed.keepers else []), f"{some(needed.balls, 'ball')}"]
    return [f"{capital('; '.join(things))}; a watch, a whistle, this sheet and a pencil."]


def bibs_for(game: Game, bibs: Bibs) -> str:
    """``amber``; ``bibs for the hunters``; ``for the keepers`` of a team that is called so."""
    if bibs.team is not None:
        return f"for the {bibs.team}" if names_doers(bibs.team) else bibs.team
    return f"{counted('bib', bibs.count)} for {side_called(game, present(bibs.side))}"


def goals_counted(game: Game) -> list[str]:
    """``2 goals of 5 x 2 m``, a line a size."""
    sizes: dict[str, int] = {}
    for goal in game.goals:
        size = f"{number(goal.width)} x {number(goal.height)} m"
        sizes[size] = sizes.get(size, 0) + 1
    return [f"{some(count, 'goal')} of {size}" for size, count in sizes.items()]


def swaps_said(game: Game) -> list[str]:
    """How bibs change hands, and who comes out where two have been in equally long."""
    doing = [action for phase in game.phases for rule in phase.rules for action in rule.do]
    one_team = any(one.side is not None for one in equipment_of(game).bibs)
    lines = []
    if one_team and any(isinstance(action, (Swap, Trade)) for action in doing):
        lines.append("Who swaps hands the bib over; carry it in the hand, it is quicker.")
    if chosen_by_time(game):
        lines.append("If several have been in equally long, as at the start, any one of them comes out.")
    return lines + not_awaited(game)


# What to count


def tally(game: Game) -> tuple[tuple[str, ...], ...]:
    """The heads, then a row a bout: bout, minutes and clock as planned, the rest to be filled in."""
    columns = columns_of(game)
    planned = {"minutes": number(game.bouts.seconds / 60), "clock": "watch"}
    rows = [
        tuple(str(number_) if column == "bout" else planned.get(column, "") for column in columns)
        for number_ in range(1, game.bouts.count + 1)
    ]
    return (tuple(column_name(column) for column in columns), *rows)


def overleaf(sheet: Sheet, side: int) -> str:
    """What stands at the head of every later side."""
    return f"{sheet.title}, side {number_word(side)}"


def sheet_written(place: str, sides: int) -> str:
    """What the command says when it has written a sheet."""
    return f"The sheet: {place} ({some(sides, 'side')} of A4)"
