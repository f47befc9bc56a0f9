"""The sentence over each picture, computed from its frame.

Nothing here knows what any lever, size or tweak does: a sentence is made of the figures that are drawn, and says so where they
do not tell.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.words.comparison import gap_of
from sim.words.figures import metres, seconds, two
from sim.words.labels import DEAD, DEFENDS
from sim.words.plots import NOTHING, WHEN, axis_words, measured, noun, plain, setting, signed, span, unit_words
from sim.words.strip import MARKS

if TYPE_CHECKING:
    import pandas as pd

VERDICTS = {
    "clear, matters": "is clear, and large enough to matter",
    "clear, size open": "is clear, but whether it is large enough to matter is open",
    "no difference that matters": "is too small to matter, if there is one",
    "cannot tell": "cannot be told from luck",
}
SHARE = 10.0  # %: the pass run so few possessions reach is named
FASTER = 2  # place of the band that begins with running


def levers_said(frame: pd.DataFrame) -> str:
    """Which row moves the measure most, and how many cannot be told from nothing."""
    measure, scope, unit, clock = measured(frame)
    what = noun(measure, scope)
    sure = frame[frame["told_apart"]]
    if sure.empty:
        return f"What changes {what} cannot be told: no change here can be told from nothing."
    top = sure.loc[sure["effect"].abs().idxmax()]
    text = (
        f'The largest clear change of {what} comes with "{top["lever"]}": {signed(top["effect"])} '
        f"({span(top['low'], top['high'], signed)}) {unit_words(unit, clock)}"
    )
    rest = len(frame) - len(sure)
    return f"{text}; {rest} of {len(frame)} {NOTHING}." if rest else f"{text}."


def variants_said(frame: pd.DataFrame) -> str:
    """The difference from the first variant with its range, and the word of confidence; of several the largest."""
    measure, scope, unit, clock = measured(frame)
    arms = frame.drop_duplicates("arm")
    first, others = arms.iloc[0], arms.iloc[1:]
    told = others.dropna(subset=["difference", "low", "high"])
    if told.empty:
        return f"Whether {noun(measure, scope)} differs cannot be told."
    most = told.loc[told["difference"].abs().idxmax()]
    lead = first_up(axis_words(measure, scope, unit, clock))
    only = "" if len(others) == 1 else f" Of {len(others)} variants this one differs most."
    start = f'{lead}: {two(most["mean"])} with "{most["arm"]}", {two(first["mean"])} with "{first["arm"]}".'
    return f"{start} The difference, {gap_of(most['difference'], most['low'], most['high'])}, {VERDICTS[most['verdict']]}.{only}"


def at(row: pd.Series) -> str:
    """``side = 10 m`` or ``side = 10 m, touches = 2``."""
    ends = [end for end in ("", "_2") if f"key{end}" in row]
    return ", ".join(setting(row[f"key{end}"], row[f"value{end}"], row[f"key_unit{end}"]) for end in ends)


def ranged(row: pd.Series) -> str:
    return two(row["mean"]) if row["low"] != row["low"] else f"{two(row['mean'])} ({span(row['low'], row['high'])})"


def amount(row: pd.Series) -> str:
    """``1.8 (1.4 to 2.2) turnovers per minute of ball in play``."""
    measure, scope, unit, clock = row["measure"], row["scope"], row["unit"], row["clock"]
    if unit == "%":
        return f"{ranged(row)} % {noun(measure, scope)}, {WHEN[clock]}"
    return f"{ranged(row)} {axis_words(measure, scope, unit, clock)}"


def curve_said(frame: pd.DataFrame) -> str:
    """What the answer gives beside the target; without an answer where the measure is highest and lowest."""
    answers = frame[frame["what"].isin(["answer", "played again"])]
    if answers.empty:
        return ends_said(frame)
    row = answers.iloc[-1]
    gives = f"{at(row)} gives {amount(row)}"
    if row["goal"] in ("most", "least"):
        return f"{gives}, the {row['goal']} of the {len(frame[frame['what'] != 'played again'])} tried."
    target = plain(row["target"]) + (" %" if row["unit"] == "%" else "")
    if not row["reached"]:
        return f"No value tried gets to {target}. The nearest: {gives}."
    return f"{gives}; the target is {target}."


surface_said = curve_said


def ends_said(frame: pd.DataFrame) -> str:
    """Where the measure is highest and lowest, and whether these two can be told apart by their ranges."""
    what = first_up(axis_words(*measured(frame)))
    known = frame.dropna(subset=["mean"])
    top, bottom = known.loc[known["mean"].idxmax()], known.loc[known["mean"].idxmin()]
    text = f"{what}: most at {at(top)}, {ranged(top)}; least at {at(bottom)}, {ranged(bottom)}"
    if known[["low", "high"]].isna().any(axis=None):
        return f"{text}. From so few bouts no range can be told."
    return f"{text}." if top["low"] > bottom["high"] else f"{text}. These ranges overlap."


def first_up(text: str) -> str:
    return text[:1].upper() + text[1:]


def exposure_said(frame: pd.DataFrame) -> str:
    """What one session does to whoever defends most, beside the even share; nobody is named."""
    most = frame[frame["kind"] == "most"].iloc[0]
    if most["mean"] != most["mean"] or most["fair"] != most["fair"]:
        return "Nobody defends in this game."
    some = (
        f" ({span(most['session_low'], most['session_high'], whole)})"
        if most["session_low"] == most["session_low"]
        else ""
    )
    return (
        f"Whoever defends most in a session does so for {whole(most['mean'])} % of the time in play{some}; "
        f"shared evenly it would be {whole(most['fair'])} %."
    )


def whole(value: float) -> str:
    return f"{value:.0f}"


def bands_said(frame: pd.DataFrame) -> str:
    """Which role runs most by the minute, for how long it is held, and how much of that is running or faster, as far as shown."""
    roles = frame.drop_duplicates("role").set_index("role")
    total = roles["total"]
    top = total.idxmax()
    most, held = f"{metres(total[top])} m", f"in the role for {seconds(roles['held'][top])} s of a bout"
    text = f"Per minute in the role {top} covers {most} ({held})"
    if len(total) > 1:
        least = f"{total.idxmin()} least, {metres(total.min())} m"
        text = f"Per minute in the role {top} covers most, {most} ({held}), and {least}"
    fast = frame[(frame["role"] == top) & (frame["order"] >= FASTER)].sort_values("order")
    if fast.empty:
        return f"{text}."
    start, end = fast.iloc[0]["from"], fast.iloc[-1]["to"]
    speed = f"at {' to '.join([start.split()[0], end])}" if end else f"above {start}"
    return f"{text}; {top} does {metres(fast['mean'].sum())} m of it {speed}."


def runs_said(frame: pd.DataFrame) -> str:
    """How many possessions reach what the game asks for, or what few of them reach."""
    if frame.empty:
        return "Nobody had the ball."
    side = frame.iloc[0]["side"]
    own = frame[frame["side"] == side]
    asked = own["asked"].iloc[0]
    half = own[own["share"] >= 50]["passes"].max()
    start = f"Every second possession of {side} has {plain(float(half))} {'pass' if half == 1 else 'passes'} or more"
    if asked == asked:
        hit = own[own["passes"] == asked]
        share = "under 1" if hit.empty else two(float(hit["share"].iloc[0]))
        return f"{start}; {share} % reach the {plain(float(asked))} that the game asks for."
    far = own[own["share"] >= SHARE].iloc[-1]
    return f"{start}; {two(float(far['share']))} % have {plain(float(far['passes']))} or more."


def strip_said(frame: pd.DataFrame) -> str:
    """The longest anybody defends at a stretch, how often the ball is lost, how long it is in play."""
    length = float(frame.iloc[0]["bout_s"])
    dead = frame[frame["what"] == DEAD]
    in_play = length - float((dead["end_s"] - dead["start_s"]).sum())
    lost = int((frame["what"] == MARKS["loss"][1]).sum())
    own = frame[frame["what"] == DEFENDS]
    text = f"In one bout of {length:.0f} s the ball is in play for {in_play:.0f} s and lost {times(lost)}"
    if own.empty:
        return f"{text}."
    longest = float((own["end_s"] - own["start_s"]).max())
    people = own["row"].nunique()
    return f"{text}; {people} players defend, {longest:.0f} s at the longest stretch."


def times(count: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(count, f"{count} times")
