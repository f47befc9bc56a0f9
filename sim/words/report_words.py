"""The words of a report for the staff meeting: the question, and what else stands on its page beside what the screen says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sim.experiments.adjusted import Card
from sim.experiments.comparison import Compared, Comparison
from sim.experiments.tuned import Tuned
from sim.experiments.typical import Typical
from sim.experiments.why import Why
from sim.game.model import Game
from sim.words.adjust_details import in_unit, measure_with_rate
from sim.words.clocks import WATCH
from sim.words.commands import Given
from sim.words.compare_details import other_of, scale_of_row
from sim.words.compare_screen import SAME_LOSS, called, of_several_rows, what
from sim.words.differences import counts, lost_a_bout
from sim.words.figures import NOT_KNOWN, present, two
from sim.words.listing import capital, listed
from sim.words.losses import LOSS, NO_SHOT
from sim.words.measure_names import is_counted, wording
from sim.words.measure_phrases import SAME_BALL, name_in_table
from sim.words.measure_phrases import noun as noun_of
from sim.words.playing import shots_allowed
from sim.words.replay_words import picked
from sim.words.screen import Screen
from sim.words.setting_up import spelt_time
from sim.words.tune_screen import behind, knob_noun, wish
from sim.words.why import changed, how_far_out, matters, split

PAGE = {
    "replay": "Watch it",
    "else": "What else changes",
    "each": "What each change does",
    "matters": "What matters most",
    "count": "What to count",
    "all": "All the figures",
    "no script": "The replay needs a browser with JavaScript.",
}
AS_IT_IS = "as it is"
ALONE = "There is nothing to set beside the game as it is."
CANNOT = "What matters most can't be worked out for this one."
STOPPED = "Stopped before it was known what matters most."
TOO_RARE = "Too rare to say what matters most to it."
REAL = "In bold: a real difference from the game as it is."
TRY = "Try "
"""How sentences begin that say what to ask next."""
COUNT_LOSSES = "Count how often they lose it in a bout."
TOGETHER = "Each is one bout on its own: what happens in one bout is mostly luck, the figures above are not."

Table = tuple[str, Sequence[str], Sequence[Sequence[str]]]
"""What it is, its head, its rows; a row with nothing behind its first cell is a heading."""


def question_of_compared(found: Compared, games: Sequence[Game], given: Given | None, unit: str) -> str:
    """``What difference does one touch for outside make?``"""
    every = found.comparisons
    if len(every) > 1:
        return f"What difference do they make: {listed(names_of(found, games, given, unit))}?"
    if other_of(every[0], given) is not None:
        return f"{games[0].title}, or {called(every[0], games[1], given, unit)}?"
    return f"What difference does {what(every[0], games[1], given, unit)} make?"


def names_of(found: Compared, games: Sequence[Game], given: Given | None, unit: str) -> list[str]:
    """What each variant is called."""
    return [called(one, game, given, unit) for one, game in zip(found.comparisons, games[1:], strict=True)]


def question_of_tuned(found: Tuned) -> str:
    """``Which size gives 3 losses a minute with the ball rolling?``"""
    what_turned = knob_noun(found)
    which = "What gives" if what_turned == "value" else f"Which {what_turned} gives"
    return f"{which} {wish(found)} {behind(found)}?"


def question_of_card(card: Card, game: Game) -> str:
    """``How do we get 3 losses a minute with the ball rolling?``"""
    if isinstance(card.goal, str):
        how_much = "more" if card.goal == "more" else wording(card.measure).less
        return f"How do we get {how_much} {noun_of(card.measure, card.scope, shots_allowed(game))}?"
    if card.unit in ("1/min", "1/bout"):
        return f"How do we get {card.goal:g} {measure_with_rate(card)}?"
    return f"How do we get to {in_unit(card, card.goal)}: {measure_with_rate(card)}?"


def answer_of_several(found: Compared, names: Sequence[str], key: tuple[str, str]) -> str:
    """Which of several variants really change what the answer leads with, in one sentence."""
    losing = key[1] == "game" and key[0] in SAME_LOSS
    more, fewer = ("more often", "less often") if losing else ("more", wording(key[0]).less)
    ways: dict[str, list[str]] = {more: [], fewer: []}
    for row, name in zip([one.row(*key) for one in found.comparisons], names, strict=True):
        if row.verdict.startswith("clear"):
            ways[more if present(row.difference) > 0 else fewer].append(name)
    said = [f"{way} with {listed(which)}" for way, which in ways.items() if which]
    if losing:
        return f"They lose it {'; '.join(said)}." if said else "None of them clearly changes how often they lose it."
    what_of = noun_of(*key)
    told = f"{capital(what_of)}: {'; '.join(said)}."
    return told if said else f"{told.partition(':')[0]}: none of them clearly changes that."


def answer_table(found: Compared, key: tuple[str, str], games: Sequence[Game], names: Sequence[str]) -> Table:
    """What the answer leads with in the game as it is and in each variant, and how sure each difference is."""
    head, *rows = of_several_rows(found.comparisons, key, games, names)
    return head[0], ("", *head[1:]), rows


def figures_of_one(found: Comparison, cells: Sequence[Sequence[str]], name: str) -> Table:
    """Every measure of a comparison."""
    about = f"From {found.sessions} sessions of each with the same players. In brackets our doubt about the difference."
    return about, ("", "clock", found.first.name, name, "difference", ""), cells


def figures_of_several(found: Compared, names: Sequence[str]) -> tuple[Table, list[list[bool]]]:
    """Every measure that all variants have, and in which cells the difference is real."""
    every = found.comparisons
    shared = set.intersection(*({(row.measure, row.scope) for row in one.rows} for one in every))
    rows, real = [], []
    for first in (row for row in every[0].rows if (row.measure, row.scope) in shared):
        own = [one.row(first.measure, first.scope) for one in every]
        by, measures = scale_of_row(first), {row.measure for row in every[0].rows}
        values = [NOT_KNOWN if one is None else two(by * one) for one in (first.first, *(row.second for row in own))]
        rows.append([name_in_table(first.measure, first.scope, measures), *values])
        real.append([False, False, *(row.verdict.startswith("clear") for row in own)])
    return (REAL, ("", every[0].first.name, *names), rows), real


def why_told(found: Why, game: Game) -> list[str]:
    """What the number would move with, in a few sentences."""
    return [how_far_out(found), *matters(found), *changed(found, game), *split(found)]


def answer_of_card(screen: Screen) -> list[str]:
    """What to change first, or that nothing helps, and then how it is now."""
    now, *wish = screen.answer
    first = " ".join([*wish, *screen.beside[:1]] if wish[-1].endswith(":") else wish)
    return [first if first.endswith(".") else f"{first}.", now]


def counting(doing: Sequence[str], game: Game, measure: str | None = None) -> list[str]:
    """What to do on the grass, without commands, and what a loss is; `measure`: what the answer is about, if not losses."""
    told = parted(doing)[0]
    count = (
        COUNT_LOSSES
        if measure is None or not is_counted(measure) or measure in SAME_BALL
        else f"Count the {noun_of(measure)} in every bout."
    )
    return [*(told or [count]), NO_SHOT if game.goals else LOSS]


def counting_tuned(found: Tuned, games: tuple[Game, Game], label: str) -> list[str]:
    """The count that a coach would make with the answer, and as it is."""
    lengths = games[0].bouts.seconds, games[1].bouts.seconds
    lost = lost_a_bout(found.effects, lengths) if found.effects else None
    if lost is None or found.as_it_is:
        return [COUNT_LOSSES]
    before, after = counts(*lost)
    now, then = (f"{n} in {spelt_time(s)}" for n, s in zip((before, after), lengths, strict=True))
    return [f"{COUNT_LOSSES} {capital(WATCH)} about {then} with {label}, {now} as it is."]


def parted(doing: Sequence[str]) -> tuple[list[str], list[str]]:
    """(what to do on the grass, what to try next with its command)."""
    at = next((k for k, line in enumerate(doing) if line.startswith(TRY)), len(doing))
    return list(doing[:at]), list(doing[at:])


def bouts_told(found: Mapping[str, Typical]) -> str:
    """Which bouts are shown, out of how many."""
    if len(found) == 1:
        return picked(*found.values())
    which = "; ".join(f"{name}: bout {one.bout + 1} of session {one.session + 1}" for name, one in found.items())
    of = max(one.bouts for one in found.values())
    return f"A typical bout of each: of {of} the one nearest the middle in losses, passes and running ({which})."


def report_written(place: str) -> str:
    """What the command says when it has written a report."""
    return f"The report is in {place}: open it in a browser, and print it from there."
