"""What a calibration found, as people read it: one small screen; or fit, profile, what is not identified, and the refits."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.evidence.calibrate import Calibration, Screened
from sim.experiments.last_line import LINE
from sim.words.screen import Screen
from sim.words.tables import table

GAP = "A gap is (ours - published) over the size that counts: between -1 and 1 is inside."
SPREADS = "Distances of constants are in their stated spreads; each is pulled to its default by it."
TYPICAL = "Played by typical players with common random numbers; `overload evidence` judges with drawn players."
OTHER_ENGINE = "The checkpoint is of another version of the engine: started anew."
STOPPED = "Stopped; what is finished is kept. To go on:"


MOST_SCREENED = 20  # constants of a screening that are shown
MOST_MOVED = 3  # constants on the small screen
OFF = 1.0  # a gap beyond which a row is outside


def evaluation(number: int, seconds: float) -> str:
    """The line of progress."""
    return f"{number} sets of constants tried ({seconds:.0f} s for the last)"


def calibration_screen(found: Calibration, again: str) -> Screen:
    """How much closer the figures come, by what, and what stays open; `again` is the command for everything."""
    fit, names = found.fit, found.constants
    moved = sorted(zip(names, fit.z, strict=True), key=lambda one: -abs(one[1]))[:MOST_MOVED]
    off = [part for part, gap in found.gaps.items() if abs(gap) > OFF]
    unclear = found.profile.not_identified
    return Screen(
        asked=f"Which values of {len(names)} constants bring it closest to the published figures?",
        answer=[
            f"They take the distance from {fit.loss_default:.2f} to {fit.loss:.2f} ({fit.evaluations} sets of values tried)."
        ],
        beside=[
            "Moved most: " + ", ".join(f"{name} to {fit.values[name]:.4g}" for name, _ in moved) + ".",
            *([f"The figures cannot tell what is right for: {', '.join(unclear)}."] if unclear else []),
            f"Still off: {', '.join(off)}." if off else "No figure is off any more.",
        ],
        doing=["Nothing is changed yet: the values are proposals, in fit.json. To see everything:", f"  {again}"],
        cautions=[LINE],
    )


def screening_in_words(screened: Sequence[Screened], searched: Sequence[str]) -> str:
    """What moving each constant alone does: those that move the rows most, the ones to be searched marked."""
    rows = []
    for one in screened[:MOST_SCREENED]:
        most = sorted(one.effects.items(), key=lambda item: -abs(item[1]))[:3]
        told = ", ".join(f"{name} {effect:+.2f}" for name, effect in most)
        mark = "*" if one.name in searched else " "
        rows.append([f"{mark} {one.name}", f"{one.weight:.2f}", f"most on {told}"])
    return "\n".join(
        [
            "Screening: effect of one spread on all fitted rows together, in gaps",
            "Marked and first: those to be searched, with which the fit promises to come furthest",
            table((), rows, left=(0, 2)),
        ]
    )


def calibration_in_words(found: Calibration) -> str:
    """Everything a calibration found, paragraph by paragraph."""
    parts = [
        fit_in_words(found),
        constants_in_words(found),
        profile_in_words(found),
        correlations_in_words(found),
        left_out_in_words(found),
        gaps_in_words(found),
        "\n".join([GAP, SPREADS, TYPICAL, LINE]),
    ]
    return "\n\n".join(part for part in parts if part)


def fit_in_words(found: Calibration) -> str:
    """How close the fit comes, and how far it had to go from the defaults."""
    fit = found.fit
    return (
        f"Loss {fit.loss:.2f} (of it {fit.pull:.2f} pull to the defaults); at the defaults {fit.loss_default:.2f}; "
        f"{fit.evaluations} sets of constants tried."
    )


def block(title: str, rows: Sequence[Sequence[str]], left: Sequence[int] = (0,)) -> str:
    """A table under its title, two columns further in."""
    return "\n".join([title, *(f"  {line}" for line in table((), rows, left=left).splitlines())])


def constants_in_words(found: Calibration) -> str:
    """Every fitted constant: its value, how far it has moved, how unsure it is still, and whether the data tell it at all."""
    profile = found.profile
    rows = [
        [
            name,
            f"{found.fit.values[name]:.4g}",
            f"{z:+.2f}",
            f"{profile.spread_left[name]:.2f}",
            "not identified" if name in profile.not_identified else "",
        ]
        for name, z in zip(found.constants, found.fit.z, strict=True)
    ]
    return block("Constants: value, distance from the default, spread left", rows, left=(0, 4))


def profile_in_words(found: Calibration) -> str:
    """How the fit grows worse along each constant alone."""
    rows = [[name, *(f"{z:+.2f}: {loss:.2f}" for z, loss in points)] for name, points in found.profile.along.items()]
    return block("Loss along each constant (distance from the default: loss)", rows)


def correlations_in_words(found: Calibration) -> str:
    """Only what is strong enough to matter."""
    pairs = [
        (abs(value), value, found.constants[i], found.constants[j])
        for i, row in enumerate(found.profile.correlations)
        for j, value in enumerate(row)
        if j < i
    ]
    strong = [
        f"  {one} and {other}: {value:+.2f}" for size, value, one, other in sorted(pairs, reverse=True) if size > 0.3
    ]
    return "\n".join(["Correlations beyond 0.3 (the data tell only a mixture of the two)", *(strong or ["  none"])])


def left_out_in_words(found: Calibration) -> str:
    """The fits that did not see one study; nothing where none was made."""
    lines = ["Refits without one study"]
    for study, fit in found.left_out.items():
        told = ", ".join(f"{name} {value:.4g}" for name, value in fit.values.items())
        lines.append(f"  without {study}: loss {fit.loss:.2f}; {told}")
    return "\n".join(lines) if found.left_out else ""


def gaps_in_words(found: Calibration) -> str:
    """How far each fitted row is off, before and after."""
    rows = [[part, gap_figure(found.gaps_default[part]), gap_figure(gap)] for part, gap in found.gaps.items()]
    return block("Gaps of the fitted rows: at the defaults, fitted", rows)


def gap_figure(gap: float) -> str:
    """A gap with its sign; a hyphen where there is none."""
    return "-" if math.isnan(gap) else f"{gap:+.2f}"
