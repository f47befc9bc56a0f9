"""What a calibration found, as people read it: one small screen; or weights, constants, luck, fit, profile, and the refits."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from statistics import mean

from sim.evidence.calibrate import Calibration
from sim.evidence.fitting import fit_loss
from sim.evidence.luck import CLEAR, Luck, less, mean_and_error, spread
from sim.evidence.screening import Screened
from sim.evidence.targets import BAND, MEASUREMENT, TRACKING, WEIGHTS, rows_by_kind, shares
from sim.experiments.last_line import LINE
from sim.words.screen import Screen
from sim.words.tables import table

GAP = "A gap is (ours - middle) over half the width in which it should lie: between -1 and 1 is inside."
SPREADS = "Distances of constants are in their stated spreads; each is pulled to what it was before the first fit."
PLAYERS = (
    "Played with common random numbers: measurements by typical players, bands and tracking by drawn ones; `overload evidence`"
    " judges all of them with drawn players."
)
RULE = (
    f"The rule, set beforehand: the values are taken only if the loss on fresh seeds is lower by more than {CLEAR:g} standard"
    " errors of the paired difference, and no fewer bands are inside there."
)
OTHER_ENGINE = "The checkpoint is of another version of the engine: started anew."
STOPPED = "Stopped; what is finished is kept. To go on:"
NOT_SCREENED = "named by hand; not screened"
KINDS = {MEASUREMENT: "published measurements", BAND: "bands of keep-ball", TRACKING: "rows of tracking"}
STUDY = {BAND: "the bands", TRACKING: "the rows of tracking"}


MOST_SCREENED = 20  # constants of a screening that are shown
MOST_MOVED = 3  # constants on the small screen
OFF = 1.0  # a gap beyond which a row is outside


def evaluation(number: int, seconds: float) -> str:
    """The line of progress."""
    return f"{number} sets of constants tried ({seconds:.0f} s for the last)"


def calibration_screen(found: Calibration, again: str) -> Screen:
    """How much closer the figures come, whether that is luck, by what, and what stays open; `again`: the command for everything."""
    fit, luck = found.fit, found.luck
    moved = sorted(found.chosen, key=lambda one: -abs(fit.values[one.name] - one.before) / one.spread)
    off = sum(abs(gap) > OFF for gap in found.gaps.values())
    unclear = found.profile.not_identified
    change, error = luck.difference
    verdict = "taken" if luck.taken else "not taken"
    return Screen(
        asked=f"Which values of {len(found.chosen)} constants bring it closest to the evidence?",
        answer=[
            f"They take the distance from {fit.loss_before:.2f} to {fit.loss:.2f} ({fit.evaluations} sets of values tried).",
            f"On {len(luck.seeds)} fresh seeds it changes by {change:+.2f}, standard error {error:.2f}; bands inside "
            f"{luck.fitted.bands_inside} of {luck.bands}, before {luck.before.bands_inside}. By the rule set beforehand "
            f"they are {verdict}.",
        ],
        beside=[
            "Moved most: " + ", ".join(f"{one.name} to {fit.values[one.name]:.4g}" for one in moved[:MOST_MOVED]) + ".",
            *([f"The figures cannot tell what is right for: {', '.join(unclear)}."] if unclear else []),
            f"Still off: {off} of {len(found.gaps)} figures." if off else "No figure is off any more.",
        ],
        doing=["Nothing is changed yet: the values are proposals, in fit.json. To see everything:", f"  {again}"],
        cautions=[LINE],
    )


def screening_in_words(screened: Sequence[Screened], searched: Sequence[str]) -> str:
    """What moving each constant alone does: those that move the rows most, the ones to be searched marked."""
    rows = []
    for one in screened[:MOST_SCREENED]:
        mark = "*" if one.name in searched else " "
        rows.append([f"{mark} {one.name}", f"{one.weight:.2f}", f"most on {effects_in_words(one.most(3))}"])
    return "\n".join(
        [
            "Screening: effect of one spread on all fitted rows together, in gaps",
            "Marked and first: those to be searched, with which the fit promises to come furthest",
            table((), rows, left=(0, 2)),
        ]
    )


def effects_in_words(effects: Iterable[tuple[str, float]]) -> str:
    """Parts and how far one spread moves them."""
    return ", ".join(f"{name} {effect:+.2f}" for name, effect in effects)


def calibration_in_words(found: Calibration) -> str:
    """Everything a calibration found, paragraph by paragraph."""
    parts = [
        weights_in_words(),
        chosen_in_words(found),
        fit_in_words(found),
        luck_in_words(found),
        constants_in_words(found),
        profile_in_words(found),
        correlations_in_words(found),
        left_out_in_words(found),
        gaps_in_words(found),
        "\n".join([GAP, SPREADS, PLAYERS, LINE]),
    ]
    return "\n\n".join(part for part in parts if part)


def weights_in_words() -> str:
    """What each kind of row counts in the loss, and how many rows it has."""
    rows = [[KINDS[kind], str(many), f"{WEIGHTS[kind]:g}"] for kind, many in rows_by_kind().items()]
    return block("The loss: squared gaps of rows, by kind: rows, weight of each", rows)


def chosen_in_words(found: Calibration) -> str:
    """Every constant searched: what it means, and what the screening says of it."""
    lines = ["Constants searched, and why: what one spread of each moves most, in gaps"]
    for one in found.chosen:
        unit = "" if one.unit == "1" else f" ({one.unit})"
        why = f"moves {effects_in_words(one.moves.items())}" if one.moves else NOT_SCREENED
        lines.append(f"  {one.name}{unit}: {one.meaning}; {why}")
    return "\n".join(lines)


def fit_in_words(found: Calibration) -> str:
    """How close the fit comes, and how far it had to go from the defaults."""
    fit = found.fit
    return (
        f"Loss {fit.loss:.2f} (of it {fit.pull:.2f} pull to the defaults); with the values in force {fit.loss_before:.2f}; "
        f"{fit.evaluations} sets of constants tried."
    )


def luck_in_words(found: Calibration) -> str:
    """Both sets on fresh seeds, by kind and in all, and what the rule says."""
    luck = found.luck
    rows = [["", "before", "(spread)", "fitted", "(spread)", "difference", "(error)"]]
    rows += [losses(KINDS[kind], old, luck.fitted.by_kind[kind]) for kind, old in luck.before.by_kind.items()]
    rows.append(losses("all", luck.before.of_seed, luck.fitted.of_seed))
    title = f"Loss without the pull on {len(luck.seeds)} fresh seeds, {luck.seeds[0]} to {luck.seeds[-1]}"
    return "\n".join([block(title, rows), bands_in_words(luck), RULE, verdict_in_words(luck)])


def losses(name: str, before: Sequence[float], fitted: Sequence[float]) -> list[str]:
    """A row: means and spreads between seeds, and the paired difference with its standard error."""
    means = [one for values in (before, fitted) for one in (f"{mean(values):.2f}", f"({spread(values):.2f})")]
    change, error = mean_and_error(less(fitted, before))
    return [name, *means, f"{change:+.2f}", f"({error:.2f})"]


def bands_in_words(luck: Luck) -> str:
    """How many bands are inside, by their mean over the fresh seeds."""
    now, before = luck.fitted.bands_inside, luck.before.bands_inside
    return f"Bands inside on the mean of these seeds: {now} of {luck.bands}, before {before}."


def verdict_in_words(luck: Luck) -> str:
    """What the rule says."""
    if luck.taken:
        return "So the fitted values are taken."
    why = "fewer bands are inside" if luck.clear else "the difference is not clear of luck"
    return f"So the fitted values are not taken: {why}."


def block(title: str, rows: Sequence[Sequence[str]], left: Sequence[int] = (0,)) -> str:
    """A table under its title, two columns further in."""
    return "\n".join([title, *(f"  {line}" for line in table((), rows, left=left).splitlines())])


def constants_in_words(found: Calibration) -> str:
    """Every fitted constant: its values, how far it has moved, how unsure it is still, and whether the data tell it at all."""
    profile = found.profile
    rows = [
        [
            one.name,
            f"{one.before:.4g}",
            f"{found.fit.values[one.name]:.4g}",
            f"{z:+.2f}",
            f"{profile.spread_left[one.name]:.2f}",
            "not identified" if one.name in profile.not_identified else "",
        ]
        for one, z in zip(found.chosen, found.fit.z, strict=True)
    ]
    return block("Constants: in force, fitted, distance from the default, spread left", rows, left=(0, 5))


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
    """The fits that did not see one study, and how it looks to them; nothing where none was made."""
    lines = ["Refits without one study, and how far off that study is: in force, fitted with it, fitted without it"]
    for study, refit in found.left_out.items():
        own = shares(only=study)
        off = ", ".join(f"{fit_loss(gaps, own):.2f}" for gaps in (found.gaps_before, found.gaps, refit.gaps))
        told = ", ".join(f"{name} {value:.4g}" for name, value in refit.fit.values.items())
        lines.append(f"  without {STUDY.get(study, study)}: {off}; {told}")
    return "\n".join(lines) if found.left_out else ""


def gaps_in_words(found: Calibration) -> str:
    """How far each fitted row is off, before and after."""
    rows = [[part, gap_figure(found.gaps_before[part]), gap_figure(gap)] for part, gap in found.gaps.items()]
    return block("Gaps of the fitted rows: in force, fitted", rows)


def gap_figure(gap: float) -> str:
    """A gap with its sign; a hyphen where there is none."""
    return "-" if math.isnan(gap) else f"{gap:+.2f}"
