"""What a calibration found, as people read it: one small screen; or fit, profile, what is not identified, and the refits."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.evidence.calibrate import Calibration, Screened
from sim.experiments.cautions import LINE
from sim.words.screen import Screen

GAP = "A gap is (ours - published) over the size that counts: between -1 and 1 is inside."
SPREADS = "Distances of constants are in their stated spreads; each is pulled to its default by it."
TYPICAL = "Played by typical players with common random numbers; `overload evidence` judges with drawn players."
OTHER_ENGINE = "The checkpoint is of another version of the engine: started anew."
STOPPED = "Stopped; what is finished is kept. To go on:"


def evaluation(number: int, seconds: float) -> str:
    return f"{number} sets of constants tried ({seconds:.0f} s for the last)"


MOST_MOVED = 3  # constants on the small screen
OFF = 1.0  # a gap beyond which a row is outside


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
    lines = [
        "Screening: effect of one spread on all fitted rows together, in gaps",
        "Marked and first: those to be searched, with which the fit promises to come furthest",
    ]
    for one in screened[:20]:
        most = sorted(one.effects.items(), key=lambda item: -abs(item[1]))[:3]
        told = ", ".join(f"{name} {effect:+.2f}" for name, effect in most)
        lines.append(f"{'*' if one.name in searched else ' '} {one.name:<24} {one.weight:5.2f}  most on {told}")
    return "\n".join(lines)


def calibration_in_words(found: Calibration) -> str:
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
    fit = found.fit
    return (
        f"Loss {fit.loss:.2f} (of it {fit.pull:.2f} pull to the defaults); at the defaults {fit.loss_default:.2f}; "
        f"{fit.evaluations} sets of constants tried."
    )


def constants_in_words(found: Calibration) -> str:
    lines = ["Constants: value, distance from the default, spread left"]
    for name, z in zip(found.constants, found.fit.z, strict=True):
        left = found.profile.spread_left[name]
        told = "  not identified" if name in found.profile.not_identified else ""
        lines.append(f"  {name:<24} {found.fit.values[name]:8.4g}  {z:+5.2f}  {left:4.2f}{told}")
    return "\n".join(lines)


def profile_in_words(found: Calibration) -> str:
    lines = ["Loss along each constant (distance from the default: loss)"]
    for name, points in found.profile.along.items():
        lines.append(f"  {name:<24} " + "  ".join(f"{z:+5.2f}: {loss:7.2f}" for z, loss in points))
    return "\n".join(lines)


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
    lines = ["Refits without one study"]
    for study, fit in found.left_out.items():
        told = ", ".join(f"{name} {value:.4g}" for name, value in fit.values.items())
        lines.append(f"  without {study}: loss {fit.loss:.2f}; {told}")
    return "\n".join(lines) if found.left_out else ""


def gaps_in_words(found: Calibration) -> str:
    lines = ["Gaps of the fitted rows: at the defaults, fitted"]
    for part, gap in found.gaps.items():
        lines.append(f"  {part:<20} {number(found.gaps_default[part])}  {number(gap)}")
    return "\n".join(lines)


def number(gap: float) -> str:
    return "     -" if math.isnan(gap) else f"{gap:+6.2f}"
