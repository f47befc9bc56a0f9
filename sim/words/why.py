"""What moves a measure, as a coach reads it: headline, table of the most telling, the rest in one line, footer."""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.why import Moved, Why
from sim.words.assumptions import replaced_in_words
from sim.words.commands import Given, try_next
from sim.words.comparison import NAMES
from sim.words.figures import two

KINDS = {"play": "how play is modelled", "players": "how little we know of the players"}
HOW = (
    "Assumptions were moved all at once between the two values shown: constants by their spread, means of players by how unsure\n"
    "we are of them.  Share: of the variance they make together, each by itself.  A lever was turned by itself; its step is a\n"
    "choice, no doubt, so it has no share.  +- is one standard error."
)
SURE = 2.0  # standard errors
LEAST = 0.02  # a smaller share is not named in the first line


def why_in_words(found: Why, most: int = 12, given: Given | None = None) -> str:
    """Everything `overload why` prints; `most` rows; `given`: how the user asked."""
    shown = [row for row in found.rows if row.change][:most]
    parts = [
        headline(found),
        "\n".join(table(found, shown)),
        "\n".join(the_rest(found, shown)),
        HOW,
        "\n".join(next_step(found, given)),
        replaced_in_words(found.provenance.assumptions),
        "\n".join(found.cautions),
    ]
    return "\n\n".join(part for part in parts if part)


def called(found: Why) -> str:
    whose = "" if found.scope == "game" else f" of {found.scope.replace(':', ' ')}"
    return NAMES.get(found.measure, found.measure.replace("_", " ")).removesuffix(", %") + whose


def headline(found: Why) -> str:
    start = f"{found.title}: {called(found)}, {said(found, found.mean)} on average"
    if not found.clear:
        return f"{start}. Cannot tell what moves it: everything together hardly stands out of the luck. Ask for more bouts."
    sure = [row for row in found.rows if abs(row.change) > SURE * row.change_se and (row.share is None or row.share > LEAST)]
    text = f"{start}. What is not known moves it by {said(found, found.doubt)} either way (one standard deviation)"
    doubts, levers = ([row for row in sure if (row.kind == "lever") == lever] for lever in (False, True))
    if doubts:
        text += f", {named(doubts[:3])} most"
    return f"{text}.\nOf what you can turn, it answers to {named(levers)}." if levers else f"{text}."


def named(rows: Sequence[Moved]) -> str:
    return ", ".join(row.name.replace("_", " ") for row in rows)


def said(found: Why, value: float) -> str:
    by = 100.0 if found.unit == "share" else 1.0
    return f"{'-' if value < 0 else ''}{two(abs(by * value))}{' %' if found.unit == 'share' else ''}"


def signed(found: Why, value: float) -> str:
    text = said(found, value)
    return text if text.startswith("-") else f"+{text}"


def percent(row: Moved) -> str:
    if row.share is None or row.share_se is None:
        return "a choice" if row.kind == "lever" else "cannot tell"
    return f"{100 * row.share:.0f} +- {max(1.0, 100 * row.share_se):.0f}"


def table(found: Why, shown: Sequence[Moved]) -> list[str]:
    rows = [["", "kind", "from", "to", "unit", "change", "+-", "share, %"]]
    for row in shown:
        change, error = signed(found, row.change), said(found, row.change_se)
        cells = [row.name, row.kind, f"{row.low:.3g}", f"{row.high:.3g}", row.unit, change, error]
        rows.append([*cells, percent(row)])
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    left = (0, 1, 4)
    return [
        "  ".join(cell.ljust(w) if i in left else cell.rjust(w) for i, (cell, w) in enumerate(zip(row, widths, strict=True)))
        .rstrip()
        for row in rows
    ]  # fmt: skip


def the_rest(found: Why, shown: Sequence[Moved]) -> list[str]:
    """What is not in the table, and how the three kinds share."""
    rest = [row for row in found.rows if row not in shown]
    lines = [f"{len(rest)} others are smaller. {found.runs} runs, {found.bouts} bouts."]
    if found.clear:
        sums = {kind: sum(row.share or 0.0 for row in found.rows if row.kind == kind) for kind in KINDS}
        whole = sum(sums.values()) or 1.0
        told = ", ".join(f"{100 * part / whole:.0f} % {KINDS[kind]} ({kind})" for kind, part in sums.items())
        lines.append(f"Of what is not known: {told}.")
    return lines


def next_step(found: Why, given: Given | None) -> list[str]:
    """The same question with twice the bouts, where nothing stands out of the luck."""
    if found.clear:
        return []
    return try_next("to be surer, more bouts", given and given.again(("--bouts", 2 * int(given.asked("--bouts")))))
