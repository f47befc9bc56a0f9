"""Sessions of the evidence one by one, and what breaks the build in its table."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.evidence.conditions import SEED, Condition, game_of
from sim.evidence.observations import session_player
from sim.evidence.reference_table import Miss, figure
from sim.evidence.session import Session, session_of
from sim.evidence.table import Line, rows_verdicts

AGREE_ERRORS = 4.0  # a fresh number may lie so many joint standard errors from the reference (about 300 are compared)
AGREE_LEAST = 0.005  # and always this share of it


def play_session(condition: Condition, replicate: int, seed: int = SEED) -> Session:
    """One session of a condition: its bouts and rests, by the same players."""
    game, play = game_of(condition), session_player(condition)
    return session_of(game, list(play(game, seed, replicate, assumptions=condition.assumptions)))


def unexpected(lines: Sequence[Line], known: Sequence[Miss]) -> list[str]:
    """New misses and unnoticed hits: what breaks the build."""
    verdicts, names = rows_verdicts(list(lines)), {miss.row for miss in known}
    new = [f"{row} is outside and no known miss" for row, verdict in verdicts.items() if verdict == "outside"]
    new = [text for text in new if text.split()[0] not in names]
    gone = [f"{row} is a known miss and {verdicts.get(row) or 'has no verdict'}" for row in sorted(names)]
    return new + [text for text in gone if not text.endswith(" outside")]


def disagreements(fresh: Sequence[Line], old: Sequence[Line]) -> list[str]:
    """Where a fresh run and the reference table differ by more than their joint error."""
    by_part = {line.part: line for line in old}
    if set(by_part) != {line.part for line in fresh}:
        return ["the reference table has other lines"]
    found = []
    for line in fresh:
        reference = by_part[line.part]
        if math.isnan(line.ours) != math.isnan(reference.ours):
            found.append(f"{line.part}: {figure(line.ours) or 'nothing'} against {figure(reference.ours) or 'nothing'}")
            continue
        errors = [0.0 if math.isnan(one.error) else one.error for one in (line, reference)]
        room = max(AGREE_ERRORS * math.hypot(*errors), AGREE_LEAST * abs(reference.ours))
        if abs(line.ours - reference.ours) > room:
            found.append(f"{line.part}: {figure(line.ours)} against {figure(reference.ours)} (room {figure(room)})")
    return found
