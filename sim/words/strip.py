"""One bout for people: a strip of time, what happened line by line, and every event as CSV.

The strip has one row a side.  A cell is two seconds of the watch and holds the number of the player who had
the ball longest in it, in the row of the side that had it; dots are dead time; `~` is a ball on its way in from
a restart or loose after a loss.  A row of marks below says what happened in those two seconds.
"""

from __future__ import annotations

import csv
import io
import math
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from sim.game.model import Game
from sim.game.names import called, spoken_of, written
from sim.measures.event_reducer import LoggedEvent
from sim.measures.tables import EVENT, WHERE, event_row
from sim.pitch.log import FIELDS, BoutLog
from sim.words.commentary import amount_of, at_the_start, by_shot, commentary
from sim.words.ground_words import as_drawn
from sim.words.not_yet_won import not_yet_won
from sim.words.screen import WIDTH, lines_of

CELL_S = 2.0
CELLS_A_LINE = 20
RULED = 5  # cells from one number of seconds to the next

MARKS = {  # kind of event -> (mark, meaning); where several fall in one cell the first named here is shown
    "goal": ("G", "goal"),
    "score": ("+", "points"),
    "break": ("!", "break-away"),
    "transfer": (">", "ball across"),
    "unlock": ("o", "they can play across or shoot from now"),
    "loss": ("x", "loss"),
}
SHOT_MARK = ("/", "shot that ends the attack")  # in place of a loss; a loss in the same cell hides it


Held = defaultdict[tuple[str, str, str], float]
"""Seconds of one cell, by (state, side, player)."""


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
    events = list(_events(log))
    waiting = not_yet_won(events)
    for at, event in enumerate(events):
        new = ("held", waiting.side[at], event.player) if at in waiting.side else _after(event, state)
        if new is None or at in waiting.late:
            continue
        if event.t > start:
            yield Spell(start, event.t, state, side, player)
        start, (state, side, player) = event.t, new
    if log.duration_s > start:
        yield Spell(start, log.duration_s, state, side, player)


def bout_in_words(game: Game, log: BoutLog) -> str:
    """The strip, its legend, a summary and the list of events."""
    names, events, tell = spoken_of(game), list(_events(log)), as_drawn(game)
    parts = [
        f"{game.title}: bout {log.bout + 1}, {log.duration_s:.0f} s on the watch, seed {log.seed}",
        "\n".join(lines_of([tell(line) for line in at_the_start(events, names)])),
        strip(game, log),
        "\n".join(lines_of(_legend(log))),
        "\n".join(lines_of([tell(line) for line in _summary(game, log)])),
        "\n".join(commentary(events, names, tell)),
    ]
    return "\n\n".join(part for part in parts if part)


def strip(game: Game, log: BoutLog) -> str:
    """The strip of time alone."""
    names = short_names(game)
    rows = _sides(game, log)
    cells = _cells(log)
    held: list[Held] = [defaultdict(float) for _ in range(cells)]
    for spell in spells(log):
        for cell in range(int(spell.start_s // CELL_S), cells):
            overlap = min(spell.end_s, (cell + 1) * CELL_S) - max(spell.start_s, cell * CELL_S)
            if overlap <= 0:
                break
            held[cell][spell.state, spell.side, spell.player] += overlap
    marks = _marks(log, cells)

    width = max(len(name) for name in names.values()) + 1
    tell = as_drawn(game)
    label = max(len(tell(row)) for row in [*rows, "marks"]) + 2
    blocks = []
    per_line = _cells_a_line(width, label)
    for first in range(0, cells, per_line):
        block = range(first, min(first + per_line, cells))
        lines = [" " * label + _ruler(block, width)]
        for row in rows:
            lines.append(tell(row).ljust(label) + "".join(_cell(held[cell], row, names).rjust(width) for cell in block))
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


def _events(log: BoutLog) -> Iterator[LoggedEvent]:
    return (LoggedEvent(*row) for row in log.events)


def _after(event: LoggedEvent, state: str) -> tuple[str, str, str] | None:
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
    seen |= set(not_yet_won(list(_events(log))).side.values())
    return sorted((seen | {game.start_side}) - {"", "holder"}, key=lambda side: (side != game.start_side, side))


def short_names(game: Game) -> dict[str, str]:
    """The shortest label for each player that is one player's only: a written name whole, else the number, the number with the
    team's first letters, or team and number."""
    teams = sorted({player.team for player in game.players})
    longest = max((len(team) for team in teams), default=0)
    letters = next(
        (count for count in range(1, longest + 1) if len({team[:count] for team in teams}) == len(teams)), longest
    )
    spoken = spoken_of(game)
    numbered = {player.id for player in game.players if spoken[player.id] == f"player {player.number}"}
    bare = numbered or set(spoken)  # where some are "player 1", nobody else is 1
    labels = {
        player.id: [called(player)]
        if written(player)
        else [
            *([str(player.number)] if player.id in bare else []),
            f"{player.team[:letters]}{player.number}",
            called(player),
        ]
        for player in game.players
    }
    seen = Counter(label for own in labels.values() for label in own)
    return {player: next((one for one in own if seen[one] == 1), own[-1]) for player, own in labels.items()}


def _cells(log: BoutLog) -> int:
    return max(1, math.ceil(log.duration_s / CELL_S - 1e-9))


def _cells_a_line(width: int, label: int) -> int:
    """Fewer where names are wide; seconds stand above every fifth cell, so in fives."""
    return max(RULED, min(CELLS_A_LINE, (WIDTH - label) // width // RULED * RULED))


def _cell(held: Held, row: str, names: dict[str, str]) -> str:
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
    events = list(_events(log))
    since = not_yet_won(events).since
    for at, event in enumerate(events):
        mark = _mark(event)
        if mark:
            cell = min(int(since.get(at, event.t) // CELL_S), cells - 1)
            best[cell] = min(best[cell] or mark, mark, key=shown.index)
    return best


def _mark(event: LoggedEvent) -> str:
    if by_shot(event):
        return SHOT_MARK[0]
    return MARKS[event.kind][0] if event.kind in MARKS else ""


def _ruler(block: range, width: int) -> str:
    """Seconds above every fifth cell, written from the cell's left edge."""
    line = ""
    for cell in block:
        if cell % RULED == 0:
            at = (cell - block.start) * width + 1
            line = line.ljust(at) + f"{cell * CELL_S:.0f} s"
    return line


def _legend(log: BoutLog) -> list[str]:
    shown = set(_marks(log, _cells(log)))
    marks = [f"{mark} {meaning}" for mark, meaning in (*MARKS.values(), SHOT_MARK) if mark in shown]
    cell = f"Each cell is {CELL_S:.0f} s: who had it longest; . dead ball, ~ on its way in or loose."
    return [cell, *(["Marks: " + ", ".join(marks) + "."] if marks else [])]


def _summary(game: Game, log: BoutLog) -> list[str]:
    shares: defaultdict[str, float] = defaultdict(float)
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
    points: defaultdict[str, float] = defaultdict(float)
    for event in _events(log):
        if event.kind == "score":
            points[event.side] += event.value
    score = "; points: " + ", ".join(f"{side} {points[side]:g}" for side in sorted(points)) if points else ""
    events = list(_events(log))
    early = sum(events[at].kind == "receive" for at in not_yet_won(events).side)
    passes = amount_of(counts["receive"], "pass", "passes")
    before = f" ({early} of them before the ball was won)" if early else ""
    shots = sum(by_shot(event) for event in _events(log))
    losses = amount_of(counts["loss"] - shots, "loss", "losses")
    ended = f", {amount_of(shots, 'attack', 'attacks')} ended with a shot" if shots else ""
    return [
        f"The ball rolled for {played_s:.0f} of {log.duration_s:.0f} s on the watch ({100 * share:.0f} %).",
        f"On the ball: {held}.",
        f"{passes} completed{before}, {losses}{ended}{score}.",
    ]
