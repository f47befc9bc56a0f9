"""One bout for people: a strip of time, what happened line by line, and every event as CSV.

The strip has one row a side.  A cell is two seconds of the watch and holds the number of the player who had
the ball longest in it, in the row of the side that had it; dots are dead time; `~` is a ball on its way in from
a restart or loose after a loss.  A row of marks below says what happened in those two seconds.
"""

from __future__ import annotations

import csv
import io
import math
from collections import Counter
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from sim.game.model import Game
from sim.game.names import called, names_of, written
from sim.measures.tables import EVENT, WHERE, event_row
from sim.pitch.log import FIELDS, BoutLog
from sim.words.turns import roles_taken

CELL_S = 2.0
CELLS_A_LINE = 20
RULED = 5  # cells from one number of seconds to the next
LINE_WIDTH = 100  # letters of cells in a line at most, so that it fits a terminal

MARKS = {  # kind of event -> (mark, meaning); where several fall in one cell the first named here is shown
    "goal": ("G", "goal"),
    "score": ("+", "points"),
    "break": ("!", "break-away begins"),
    "transfer": (">", "ball moved to another area"),
    "unlock": ("o", "something new is allowed"),
    "loss": ("x", "turnover"),
}
SHOT_MARK = ("/", "ended by a shot")  # in place of a turnover's; a turnover in the same cell hides it


class Event(NamedTuple):
    """One row of the log, by name (the order of `sim.pitch.log.FIELDS`)."""

    t: float
    seq: int
    kind: str
    player: str
    other: str
    side: str
    cause: str
    detail: str
    value: float
    x: float
    y: float
    phase: str
    area: str
    passes: int


class Spell(NamedTuple):
    """From `start_s` to `end_s` the ball is with `player` of `side`; `state` is "held", "coming", "loose" or "dead"."""

    start_s: float
    end_s: float
    state: str
    side: str
    player: str


def spells(log: BoutLog) -> Iterator[Spell]:
    """Who has the ball, from the first second to the last, without gaps."""
    start, state, side, player = 0.0, "dead", "", ""
    for event in _events(log):
        new = _after(event, state)
        if new is None:
            continue
        if event.t > start:
            yield Spell(start, event.t, state, side, player)
        start, (state, side, player) = event.t, new
    if log.duration_s > start:
        yield Spell(start, log.duration_s, state, side, player)


def bout_in_words(game: Game, log: BoutLog) -> str:
    """The strip, its legend, a summary and the list of events."""
    parts = [
        f"{game.title}: bout {log.bout + 1}, {log.duration_s:.0f} s on the watch, seed {log.seed}",
        strip(game, log),
        _legend(log),
        _summary(game, log),
        "\n".join(_lines(log, names_of(game))),
    ]
    return "\n\n".join(parts)


def strip(game: Game, log: BoutLog) -> str:
    """The strip of time alone."""
    names = _short_names(game)
    rows = _sides(game, log)
    cells = _cells(log)
    held: list[Counter[tuple[str, str, str]]] = [Counter() for _ in range(cells)]
    for spell in spells(log):
        for cell in range(int(spell.start_s // CELL_S), cells):
            overlap = min(spell.end_s, (cell + 1) * CELL_S) - max(spell.start_s, cell * CELL_S)
            if overlap <= 0:
                break
            held[cell][spell.state, spell.side, spell.player] += overlap
    marks = _marks(log, cells)

    width = max(len(name) for name in names.values()) + 1
    label = max(len(row) for row in [*rows, "marks"]) + 2
    blocks = []
    per_line = _cells_a_line(width)
    for first in range(0, cells, per_line):
        block = range(first, min(first + per_line, cells))
        lines = [" " * label + _ruler(block, width)]
        for row in rows:
            lines.append(row.ljust(label) + "".join(_cell(held[cell], row, names).rjust(width) for cell in block))
        lines.append("marks".ljust(label) + "".join(marks[cell].rjust(width) for cell in block))
        blocks.append("\n".join(line.rstrip() for line in lines))
    return "\n\n".join(blocks)


def events_as_csv(log: BoutLog, names: Mapping[str, str] | None = None) -> str:
    """Every event of the bout, in order, with the columns of `FIELDS`; undefined numbers are empty.

    With `names`, what the players are called stands beside their ids.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(FIELDS if names is None else [one for one in EVENT if one not in WHERE])
    for event in log.events:
        row = event if names is None else event_row(event, names)
        writer.writerow("" if isinstance(value, float) and math.isnan(value) else value for value in row)
    return out.getvalue()


def _events(log: BoutLog) -> Iterator[Event]:
    return (Event(*row) for row in log.events)


def _after(event: Event, state: str) -> tuple[str, str, str] | None:
    """Where the ball is after `event`: (state, side, player), or None where the event says nothing about it."""
    match event.kind:
        case "possession" | "receive":
            return "held", event.side, event.player
        case "live":
            return "coming", event.side, ""
        case "dead" | "end":
            return "dead", "", ""
        case "loss" if state != "dead":
            return "loose", "", ""
    return None


def _sides(game: Game, log: BoutLog) -> list[str]:
    """The sides that had the ball, the one that starts first."""
    seen = {event.side for event in _events(log) if event.kind in ("live", "possession", "loss")}
    return sorted((seen | {game.start_side}) - {"", "holder"}, key=lambda side: (side != game.start_side, side))


def _short_names(game: Game) -> dict[str, str]:
    """The shortest label for each player that is one player's only: a written name whole, else the number, the number with the
    team's first letters, or team and number."""
    teams = sorted({player.team for player in game.players})
    longest = max((len(team) for team in teams), default=0)
    letters = next(
        (count for count in range(1, longest + 1) if len({team[:count] for team in teams}) == len(teams)), longest
    )
    labels = {
        player.id: [called(player)]
        if written(player)
        else [str(player.number), f"{player.team[:letters]}{player.number}", called(player)]
        for player in game.players
    }
    seen = Counter(label for own in labels.values() for label in own)
    return {player: next((one for one in own if seen[one] == 1), own[-1]) for player, own in labels.items()}


def _cells(log: BoutLog) -> int:
    return max(1, math.ceil(log.duration_s / CELL_S - 1e-9))


def _cells_a_line(width: int) -> int:
    """Fewer where labels are wide; seconds stand above every fifth cell, so in fives."""
    return max(RULED, min(CELLS_A_LINE, LINE_WIDTH // width // RULED * RULED))


def _cell(held: Counter[tuple[str, str, str]], row: str, names: dict[str, str]) -> str:
    (state, side, player), _ = max(held.items(), key=lambda item: (item[1], item[0]))
    if state == "dead":
        return "."
    if state == "loose":
        return "~"
    if side != row:
        return ""
    return "~" if state == "coming" else names[player]


def _marks(log: BoutLog, cells: int) -> list[str]:
    shown = [mark for mark, _ in (*MARKS.values(), SHOT_MARK)]
    best = [""] * cells
    for event in _events(log):
        mark = _mark(event)
        if mark:
            cell = min(int(event.t // CELL_S), cells - 1)
            best[cell] = min(best[cell] or mark, mark, key=shown.index)
    return best


def _mark(event: Event) -> str:
    if _by_shot(event):
        return SHOT_MARK[0]
    return MARKS[event.kind][0] if event.kind in MARKS else ""


def _by_shot(event: Event) -> bool:
    """Whether a possession has ended with a shot, which is no ball lost."""
    return event.kind == "loss" and event.cause == "shot"


def _ruler(block: range, width: int) -> str:
    """Seconds above every fifth cell, written from the cell's left edge."""
    line = ""
    for cell in block:
        if cell % RULED == 0:
            at = (cell - block.start) * width + 1
            line = line.ljust(at) + f"{cell * CELL_S:.0f} s"
    return line


def _legend(log: BoutLog) -> str:
    shown = set(_marks(log, _cells(log)))
    marks = [f"{mark} {meaning}" for mark, meaning in (*MARKS.values(), SHOT_MARK) if mark in shown]
    return "\n".join(
        [
            f"One cell is {CELL_S:.0f} s and names the player who had the ball longest; . is dead time, "
            "~ a ball on its way in or loose.",
            *(["Marks: " + ", ".join(marks) + "."] if marks else []),
        ]
    )


def _summary(game: Game, log: BoutLog) -> str:
    shares: Counter[str] = Counter()
    dead_s = 0.0
    for spell in spells(log):
        if spell.state == "dead":
            dead_s += spell.end_s - spell.start_s
        elif spell.state == "held":
            shares[spell.side] += spell.end_s - spell.start_s
    played_s = log.duration_s - dead_s
    share = played_s / log.duration_s if log.duration_s else 0.0
    held = ", ".join(f"{side} {shares[side]:.0f} s" for side in _sides(game, log))
    counts = Counter(event.kind for event in _events(log))
    points: Counter[str] = Counter()
    for event in _events(log):
        if event.kind == "score":
            points[event.side] += event.value
    score = "; points: " + ", ".join(f"{side} {points[side]:g}" for side in sorted(points)) if points else ""
    passes = _times(counts["receive"], "pass", "passes")
    shots = sum(_by_shot(event) for event in _events(log))
    turnovers = _times(counts["loss"] - shots, "turnover", "turnovers")
    ended = f", {_times(shots, 'possession', 'possessions')} ended by a shot" if shots else ""
    return (
        f"In play {played_s:.0f} of {log.duration_s:.0f} s ({100 * share:.0f} %).  With the ball: {held}.\n"
        f"{passes} completed, {turnovers}{ended}{score}."
    )


def _lines(log: BoutLog, names: Mapping[str, str]) -> Iterator[str]:
    """What happened, one line an event; bare touches are left to the CSV file."""
    told = roles_taken(_events(log), names)
    for at, event in enumerate(_events(log)):
        text = told.get(at) or _sentence(
            event._replace(player=names.get(event.player, event.player), other=names.get(event.other, event.other))
        )
        if text:
            yield f"{event.t:6.1f} s  {text}"


def _sentence(event: Event) -> str:
    player, other, side, cause, value = event.player, event.other, event.side, event.cause, event.value
    match event.kind:
        case "begin":
            return "the bout begins"
        case "live":
            return f"ball in for {side}" + (f", meant for {other or player}" if other or player else "")
        case "dead":
            return f"ball dead ({cause})"
        case "possession":
            return f"{side} has the ball through {player}"
        case "release":
            kind = {"pass": "plays", "first-time": "plays first time", "transfer": "plays across"}[event.detail]
            return f"{player} {kind} to {other}, {value:.0f} m" + (", pressed" if cause == "pressed" else "")
        case "receive":
            return f"{player} has it ({_times(event.passes, 'pass', 'passes')} in a row)"
        case "loss" if _by_shot(event):
            return f"the shot by {player} ends the possession of {side}" + (f": {other} has it" if other else "")
        case "loss":
            return f"TURNOVER: {side} loses it through {player} ({cause})" + (f" to {other}" if other else "")
        case "win":
            return f"{player} wins it for {side}"
        case "contested":
            return f"{player} cannot keep what was won"
        case "tackle":
            return f"{player} goes in on {other}: {cause}"
        case "deflect":
            return f"{player} gets a touch on it"
        case "out":
            return f"over the line, last touched by {player}"
        case "rule":
            return f"rule: {cause}"
        case "threshold":
            return f"{side} reaches {value:g} {cause}"
        case "unlock":
            return f"{cause} is allowed from now on"
        case "transfer":
            return f"{player} takes it over: {event.detail.replace('>', ' to ')}"
        case "area":
            return f"{player} has it in {event.detail.partition('>')[2]}: play goes on there"
        case "break":
            return f"break-away for {side}"
        case "phase":
            return f"now: {cause}"
        case "shot":
            return f"{player} shoots from {value:.0f} m"
        case "goal":
            return f"GOAL by {player}"
        case "save":
            return f"saved by {player}"
        case "miss":
            return "the shot misses"
        case "block":
            return f"blocked by {player}"
        case "score":
            return f"{_times(value, 'point', 'points')} for {side}" + (f" ({cause})" if cause else "")
        case "swap":
            return f"{player} and {other} change places"
        case "end":
            return "the bout is over"
    return ""


def _times(count: float, one: str, many: str) -> str:
    return f"{count:g} {one if count == 1 else many}"
