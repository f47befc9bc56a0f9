"""The sentence over each picture, as a coach would say it, computed from its frame.

Nothing here knows what any lever, size or tweak does: a sentence is made of the figures that are drawn, and says so where they
do not tell.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.words.clocks import CLOCKS, ROLLING
from sim.words.figures import metres, rounded, seconds, two
from sim.words.measure_names import wording
from sim.words.picture_labels import DEAD, DEFENDS, MOMENTS
from sim.words.picture_words import axis_noun, axis_words, from_to, measured, plain_value, setting, with_sign
from sim.words.plurals import counted

if TYPE_CHECKING:
    import pandas as pd

VERDICTS = {
    "clear, matters": "A real difference, and a big one",
    "clear, size open": "A real difference, but how big isn't clear",
    "no difference that matters": "Too small to matter",
    "cannot tell": "That could still be luck",
}
SHARE = 10.0  # %: the pass run so few possessions reach is named
FASTER = 2  # place of the band that begins with running
OFTEN = 0.95  # of ten times: fewer than once in ten is said in a hundred


def levers_said(frame: pd.DataFrame) -> str:
    """Which row moves the measure most, and how many could be luck."""
    measure, scope, unit, clock = measured(frame)
    what = axis_noun(measure, scope)
    sure = frame[frame["told_apart"]]
    if sure.empty:
        return f"Nothing here clearly changes this: {what}. All of it could be luck."
    top = sure.iloc[sure["effect"].abs().argmax()]
    change = figure_phrase(with_sign(top["effect"]), give_or_take(top), measure, scope, unit, clock)
    text = f'What moves it most: "{top["lever"]}", {change}.'
    rest = len(frame) - len(sure)
    return f"{text} {rest} of the {len(frame)} rows could still be luck." if rest else text


def figure_phrase(text: str, doubt_: str, measure: str, scope: str, unit: str, clock: str) -> str:
    """``3.2 (give or take 0.3) losses a minute with the ball rolling``, ``90 % of the time on the watch with the ball rolling``."""
    if unit != "%":
        return f"{text}{doubt_} {axis_words(measure, scope, unit, clock)}"
    said = (wording(measure).of or f"({axis_noun(measure)}, {{clock}})").format(clock=CLOCKS[clock])
    return f"{text} %{doubt_} {said}" + ("" if scope == "game" else f", {scope.partition(':')[2]}")


def give_or_take(row: pd.Series) -> str:
    """`` (give or take 0.3)``: half the way from end to end."""
    return "" if row["low"] != row["low"] else f" (give or take {two((row['high'] - row['low']) / 2)})"


def variants_said(frame: pd.DataFrame) -> str:
    """The difference from the first variant, and how sure it is; of several the largest."""
    about = measured(frame)
    conditions = frame.drop_duplicates("condition")
    first, others = conditions.iloc[0], conditions.iloc[1:]
    told = others.dropna(subset=["difference", "low", "high"])
    if told.empty:
        return f"No telling yet whether this differs: {axis_noun(*about[:2])}."
    most = told.iloc[told["difference"].abs().argmax()]
    only = "" if len(others) == 1 else f" Of the {len(others)} it differs most."
    gap = f"the difference is {two(abs(most['difference']))}{give_or_take(most).replace(' (', ', ').replace(')', '')}"
    return (
        f'With "{most["condition"]}" {figure_phrase(two(most["mean"]), "", *about)}; '
        f'with "{first["condition"]}" {two(first["mean"])}. '
        f"{VERDICTS[most['verdict']]}: {gap}.{only}"
    )


def at(row: pd.Series) -> str:
    """``8 m`` or ``8 m with 2 touches``."""
    ends = [end for end in ("", "_2") if f"key{end}" in row]
    return " with ".join(setting(row[f"key{end}"], row[f"value{end}"], row[f"key_unit{end}"]) for end in ends)


def give(row: pd.Series) -> str:
    """``8 m gives``, ``2 touches give``."""
    text = at(row)
    several = "key_2" not in row and text.endswith(("touches", "passes", "players", "defenders", "floaters", "bouts"))
    return f"{text} {'give' if several else 'gives'}"


def amount(row: pd.Series) -> str:
    """``about 1.8 (give or take 0.4) losses a minute with the ball rolling``."""
    return f"about {figure_phrase(two(row['mean']), give_or_take(row), *row[['measure', 'scope', 'unit', 'clock']])}"


def curve_said(frame: pd.DataFrame) -> str:
    """What the answer gives beside what was asked for; without an answer where the measure is highest and lowest."""
    answers = frame[frame["what"].isin(["answer", "played again"])]
    if answers.empty:
        return ends_said(frame)
    row = answers.iloc[-1]
    if row["goal"] in ("most", "least"):
        return (
            f"{give(row)} {amount(row)}, the {row['goal']} of the {len(frame[frame['what'] != 'played again'])} tried."
        )
    target = plain_value(row["target"]) + (" %" if row["unit"] == "%" else "")
    if not row["reached"]:
        return f"Nothing tried gets to {target}. The nearest: {give(row)} {amount(row)}."
    return f"{give(row)} {amount(row)}; you asked for {target}."


surface_said = curve_said


def ends_said(frame: pd.DataFrame) -> str:
    """Where the measure is highest and lowest, and whether these two can be told apart by their ranges."""
    known = frame.dropna(subset=["mean"])
    top, bottom = known.iloc[known["mean"].argmax()], known.iloc[known["mean"].argmin()]
    text = f"{give(top)} most: {amount(top)}. {give(bottom)} least: {two(bottom['mean'])}{give_or_take(bottom)}."
    if known[["low", "high"]].isna().any(axis=None):
        return f"{text} From so few bouts nobody can say how sure that is."
    return text if top["low"] > bottom["high"] else f"{text} Too close to call."


def exposure_said(frame: pd.DataFrame) -> str:
    """What one session does to whoever defends most, beside the even share; nobody is named."""
    most = frame[frame["kind"] == "most"].iloc[0]
    if most["mean"] != most["mean"] or most["fair"] != most["fair"]:
        return "Nobody defends in this game."
    some = (
        f" (usually {from_to(most['session_low'], most['session_high'], rounded)})"
        if most["session_low"] == most["session_low"]
        else ""
    )
    return (
        f"In one session somebody defends for about {rounded(most['mean'])} % of the time {ROLLING}{some}; an even share is "
        f"{rounded(most['fair'])} %."
    )


def bands_said(frame: pd.DataFrame) -> str:
    """Which role runs most by the minute, for how long it is held, and how much of that is running or faster, as far as shown."""
    roles = frame.drop_duplicates("role").set_index("role")
    total = roles["total"]
    at_most = int(total.argmax())
    top, most = roles.index[at_most], metres(total.iloc[at_most])
    held = seconds(roles["held"].iloc[at_most])
    text = f"As {top} they cover {most} m a minute on the watch, for about {held} s of a bout"
    if len(total) > 1:
        text = f"{text}; as {roles.index[int(total.argmin())]} {metres(total.min())} m a minute"
    fast = frame[(frame["role"] == top) & (frame["order"] >= FASTER)].sort_values("order")
    if fast.empty:
        return f"{text}."
    start, end = fast.iloc[0]["from"], fast.iloc[-1]["to"]
    speed = f"at {' to '.join([start.split()[0], end])}" if end else f"above {start}"
    return f"{text}. Of the {most}, {metres(fast['mean'].sum())} m are {speed}."


def runs_said(frame: pd.DataFrame) -> str:
    """How many possessions reach what the game asks for, or what few of them reach."""
    if frame.empty:
        return "Nobody had the ball."
    side = frame.iloc[0]["side"]
    own = frame[frame["side"] == side]
    asked = own["asked"].iloc[0]
    half = float(own[own["share"] >= 50]["passes"].max())
    start = f"Half the time {side} string {plain_value(half)} {counted('pass', half)} or more together"
    if asked == asked:
        hit = own[own["passes"] == asked]
        share = 0.0 if hit.empty else float(hit["share"].iloc[0])
        return f"{start}; they get to the {plain_value(float(asked))} you ask for {times_in(share)}."
    far = own[own["share"] >= SHARE].iloc[-1]
    return f"{start}; {times_in(float(far['share']))} it is {plain_value(float(far['passes']))} or more."


def times_in(percent: float) -> str:
    """``about 4 times in 10``, ``about 3 times in 100``, ``hardly ever``."""
    if percent < 1:
        return "hardly ever"
    count, of = (round(percent / 10), 10) if percent >= 10 * OFTEN else (round(percent), 100)
    if count == of:
        return "nearly every time"
    return f"about {'once' if count == 1 else f'{count} times'} in {of}"


def strip_said(frame: pd.DataFrame) -> str:
    """How often the ball is lost in this one bout, how long it rolls, and the longest anybody defends at a stretch."""
    length = float(frame.iloc[0]["bout_s"])
    dead = frame[frame["what"] == DEAD]
    in_play = length - float((dead["end_s"] - dead["start_s"]).sum())
    lost = int((frame["what"] == MOMENTS["loss"]).sum())
    own = frame[frame["what"] == DEFENDS]
    text = f"One bout of {length:.0f} s on the watch: they {loses(lost)}, and the ball rolls for {in_play:.0f} s"
    if own.empty:
        return f"{text}."
    longest = float((own["end_s"] - own["start_s"]).max())
    return f"{text}. {own['row'].nunique()} players defend, the longest spell is {longest:.0f} s."


def loses(count: int) -> str:
    """``lose it twice``, behind "they"."""
    return {0: "never lose it", 1: "lose it once", 2: "lose it twice"}.get(count, f"lose it {count} times")
