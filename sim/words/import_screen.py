"""What is said of a file of a device: how many rows can be kept, what is left out and why, what is hard to believe, what to do."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from sim.device_files.report import UNKNOWN, Report
from sim.experiments.last_line import LINE
from sim.own_counts.delivered import Delivered
from sim.words.figures import two
from sim.words.listing import capital, listed, some
from sim.words.own_counts import day
from sim.words.screen import fit_screen, folded
from sim.words.tables import table

MOST_NAMED = 3
NO_LIST = "Nobody was checked: give your players with --squad FILE.csv (player, shirt)."
DRY = "Nothing is kept yet. To keep it:"


def report_in_words(
    found: Report,
    name: str,
    command: str | None,
    kept: int | None = None,
    details: bool = False,
    width: int | None = None,
) -> str:
    """What `overload import` prints.  `command` would keep it; `kept`: the number under which it has been (None: a dry run)."""
    head = f"{name} ({found.said}), read by [{found.layout}]"
    doing = next_step(found, command, kept)
    beside = [*left_out(found), *no_games(found), *doubted(found), *found.notes]
    if not found.checked:
        beside.append(NO_LIST)
    screen = fit_screen(head, answer(found), beside, doing, [LINE])
    return f"{screen}\n\n{folded(everything(found, width), width)}" if details else screen


def answer(found: Report) -> list[str]:
    """How much of it can be kept."""
    rows, all_ = len(found.kept), found.read
    if rows == 0:
        return [f"Nothing can be kept of {some(all_, 'row')}."]
    said = f"{rows} of {some(all_, 'row') if all_ == 1 else f'{all_} rows'}"
    return [f"{said} can be kept: {people(found.kept)}."]


def people(rows: Sequence[Delivered]) -> str:
    """``12 players, two drills, 28 Nov 2026``."""
    days = sorted({row.day for row in rows})
    blocks = {row.block for row in rows if row.block}
    when = day(days[0]) if len(days) == 1 else f"{day(days[0])} to {day(days[-1])}"
    parts = [some(len({row.player for row in rows}), "player"), *([some(len(blocks), "drill")] if blocks else []), when]
    return ", ".join(parts)


def next_step(found: Report, command: str | None, kept: int | None) -> list[str]:
    """What to do now."""
    if kept is not None:
        return [f"Kept as file {kept}, as it came. Look back with `overload review --by-player`."]
    if found.conflicts:
        return [f"To be put right before it can be kept: {'; '.join(found.conflicts)}."]
    if not found.kept or command is None:
        return ["Next: put the layout or the file right; --details lists every line."]
    return [DRY, f"  {command}"]


def left_out(found: Report) -> list[str]:
    """Why lines are left out, the commonest reason first."""
    if not found.left_out:
        return []
    counts = Counter(one.reason for one in found.left_out).most_common()
    parts = [
        f"{some(number, 'row')}, {reason}{who(found) if reason == UNKNOWN else ''}"
        for reason, number in counts[:MOST_NAMED]
    ]
    rest = sum(number for _, number in counts[MOST_NAMED:])
    more = [f"{rest} for other reasons"] if rest else []
    return [f"Left out: {'; '.join([*parts, *more])}."]


def who(found: Report) -> str:
    """The first of those nobody knows."""
    names = found.unknown
    more = [f"{len(names) - MOST_NAMED} more"] if len(names) > MOST_NAMED else []
    return f" ({listed([*names[:MOST_NAMED], *more])})"


def no_games(found: Report) -> list[str]:
    """Drills that are no game of ours."""
    if not found.blocks:
        return []
    names = listed([f"{block!r}" for block, _ in found.blocks[:MOST_NAMED]])
    more = f" and {len(found.blocks) - MOST_NAMED} more" if len(found.blocks) > MOST_NAMED else ""
    are = "are no games" if len(found.blocks) > 1 else "is no game"
    return [f"{names}{more} {are} of yours: held against nothing; [{found.layout}.blocks] can say which."]


def doubted(found: Report) -> list[str]:
    """What is hard to believe."""
    if not found.doubts:
        return []
    first = found.doubts[0]
    more = f", and {len(found.doubts) - 1} more" if len(found.doubts) > 1 else ""
    return [f"Hard to believe, kept all the same: {first.who}, {first.what} (line {first.line}){more}."]


def everything(found: Report, width: int | None) -> str:
    """Every line that is left out, every doubt, every row."""
    parts = []
    if found.left_out:
        rows = [(str(one.line), one.who, one.reason) for one in found.left_out]
        parts.append("Left out\n" + table(("line", "who", "why"), rows, width, left=(1, 2)))
    if found.doubts:
        rows = [(str(one.line), one.who, one.what) for one in found.doubts]
        parts.append("Hard to believe\n" + table(("line", "who", "what"), rows, width, left=(1, 2)))
    notes = [
        *found.conflicts,
        *found.notes,
        *(f"{some(n, 'row')} of {block!r}: no game of yours." for block, n in found.blocks),
    ]
    if notes:
        parts.append("Besides\n" + "\n".join(capital(one) for one in notes))
    if found.kept:
        parts.append("Can be kept\n" + rows_kept(found.kept, width))
    return "\n\n".join(parts)


def rows_kept(rows: Sequence[Delivered], width: int | None) -> str:
    """Every row in our units; an empty cell was not measured."""
    head = ("line", "date", "player", "drill", "game", "min", "m", "fast m", "sprint m", "acc", "dec", "km/h")
    lines = [
        (
            str(row.line), day(row.day), row.player, row.block, row.game, two(row.minutes),
            *("" if value is None else f"{value:.0f}" for value in (
                row.metres, row.fast_metres, row.sprint_metres, row.accelerations, row.decelerations, row.top_speed_kmh
            )),
        )
        for row in rows
    ]  # fmt: skip
    return table(head, lines, width, left=(1, 2, 3, 4))
