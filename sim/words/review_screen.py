"""The look back in words: how often our ranges held, what was planned and counted, and whether the same game goes better now."""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.last_line import LINE
from sim.own_counts.columns import COUNTS
from sim.own_counts.review import FEWEST, Change, Coverage, Looked, Review, Trust
from sim.own_counts.verdict import Judged, Verdict
from sim.words.figures import percent, two
from sim.words.listing import capital, listed, some
from sim.words.losses import USUALLY
from sim.words.own_counts import MANY, ON, VERDICTS, day, expected, minutes, some_of
from sim.words.same_game_later import later_in_words, next_step, not_the_same
from sim.words.screen import WIDTH, Screen, folded
from sim.words.tables import table

HAND_IN = "`overload tally GAME --minutes 8 --losses 14 --logbook FILE`"
NOTHING = f"Nothing to look back on yet: hand in a count with {HAND_IN}."
ALL_CHANGED = "Nothing to look back on yet: every bout was changed on the grass, so it was another game."
NO_FORECAST = (
    f"Nothing to look back on yet: no forecast was finished. Give the command anew that kept the count: {HAND_IN}."
)
TRUSTED = {
    Trust.HOLDS: "as often as they should: trust the next range as it stands.",
    Trust.TOO_NARROW: "less often than they should: take the next range wider.",
    Trust.TOO_WIDE: "more often than they should: the next range is wider than you need.",
    Trust.NOTHING_AGAINST: "nothing speaks against our ranges yet: go on counting.",
    Trust.TOO_FEW: f"too few to say how far to trust the next: go on until there are {FEWEST}.",
}
CHANGED = {
    Change.BETTER: "better",
    Change.WORSE: "worse",
    Change.MORE: "more",
    Change.FEWER: "fewer",
    Change.CANNOT_TELL: "cannot tell",
}
MOST_GAMES = 4


def review_in_words(found: Review, details: bool = False, width: int | None = None) -> str:
    """What `overload review` prints."""
    nights = [one for looked in found.games.values() for one in looked]
    if not any(one.judged for one in nights):
        return folded(why_nothing(nights), width or WIDTH)
    head = f"Looking back: {some(len(nights), 'session')} of {some(len(found.games), 'game')}"
    answer = [trusted(one) for one in found.coverage[:1]]
    beside = [*missed(found), *beforehand(found), *(last_of(looked) for looked in latest_first(found))][:MOST_GAMES]
    since = {setup: later_in_words(lines[0], found.games[setup]) for setup, lines in found.later.items() if lines}
    latest = max(found.games, key=lambda setup: found.games[setup][-1].evening.day)
    lines, looked = found.later.get(latest, ()), found.games[latest]
    differed = [not_the_same(lines[0], looked)] if lines else []
    others = [said for setup, said in since.items() if setup != latest][: MOST_GAMES - 1]
    doing = [*others, *(since[setup] for setup in since if setup == latest), *differed, *next_step(looked, lines)]
    screen = Screen(head, answer, [line for line in beside if line], doing, [USUALLY, LINE]).text()
    return screen if not details else f"{screen}\n\n{folded(everything(found, width), width)}"


def why_nothing(nights: Sequence[Looked]) -> str:
    """Why there is nothing to look back on."""
    if not nights:
        return NOTHING
    return ALL_CHANGED if all(one.changed for night in nights for one in night.evening.standing) else NO_FORECAST


def latest_first(found: Review) -> list[tuple[Looked, ...]]:
    """Games, that of the latest session first."""
    return sorted(found.games.values(), key=lambda looked: looked[-1].evening.day, reverse=True)


def trusted(one: Coverage) -> str:
    """How often our ranges of a measure held, with what is sure of it, and what that says."""
    held = f"{capital(MANY[one.measure])}: {one.inside} of {one.forecasts} forecasts held"
    return f"{held} ({percent(one.low)} to {percent(one.high)} in the long run), {TRUSTED[one.trust]}"


def missed(found: Review) -> list[str]:
    """The counts after the first of which not all forecasts held; the worst first, nothing where all did."""
    those = sorted((one for one in found.coverage[1:] if one.inside < one.forecasts), key=lambda one: one.share)
    held = [f"{MANY[one.measure]} {one.inside} of {one.forecasts}" for one in those]
    return [f"Of the other counts not all held: {listed(held)}."] if held else []


def beforehand(found: Review) -> list[str]:
    """How often those ranges held that were kept before the session; nothing where none was."""
    return [
        f"Planned beforehand, of {MANY[one.measure]}: {one.inside} of {one.forecasts} held."
        for one in found.planned[:1]
    ]


def last_of(looked: Sequence[Looked]) -> str:
    """The latest session of a game: what was counted, what was planned."""
    last = looked[-1]
    one = next((one for one in last.judged if one.verdict is not Verdict.NOT_JUDGED), None)
    if one is None:
        return f"{last.evening.game}, {day(last.evening.day)}: nothing to judge."
    said = f"{some_of(one.what.measure, one.what.count)}, planned {expected(one)}"
    return f"{last.evening.game}, {day(last.evening.day)}: {said}: {VERDICTS[one.verdict]}."


def everything(found: Review, width: int | None) -> str:
    """All tables: every session, every bout, how often ranges held, and first against last."""
    parts = [
        sessions(found, width),
        bouts(found, width),
        rates(found, width),
        f"How often our ranges held\n{coverage(found.coverage, width)}",
    ]
    if found.planned:
        parts.append(f"How often those held that were kept before the session\n{coverage(found.planned, width)}")
    if found.later:
        parts.append(first_and_last(found, width))
    return "\n\n".join(part for part in parts if part)


def sessions(found: Review, width: int | None) -> str:
    """Planned and counted, session by session."""
    rows = [
        (looked.evening.game, day(looked.evening.day), *counted(one))
        for games in found.games.values()
        for looked in games
        for one in looked.judged
    ]
    left = [
        f"{looked.evening.game}, {day(looked.evening.day)}: left out, {row.changed}."
        for games in found.games.values()
        for looked in games
        for row in looked.left_out
    ]
    told = table(("game", "date", "counted", "minutes", "planned", "answer"), rows, width, left=(0, 1, 2, 3, 4, 5))
    return "\n".join(["Planned and counted, by session", told, *left])


def bouts(found: Review, width: int | None) -> str:
    """The same, bout by bout, where bouts have numbers."""
    rows = [
        (looked.evening.game, day(looked.evening.day), str(bout.bout), *counted(bout.judged))
        for games in found.games.values()
        for looked in games
        for bout in looked.bouts
    ]
    if not rows:
        return ""
    head = ("game", "date", "bout", "counted", "minutes", "planned", "answer")
    return "Planned and counted, by bout\n" + table(head, rows, width, left=(0, 1, 3, 4, 5, 6))


def counted(one: Judged) -> tuple[str, str, str, str]:
    """(counted, minutes, planned, answer) of a count."""
    judged = one.verdict is not Verdict.NOT_JUDGED
    told = minutes(one.what.minutes), expected(one) if judged else "", VERDICTS[one.verdict]
    return some_of(one.what.measure, one.what.count), *told


def rates(found: Review, width: int | None) -> str:
    """What the user's own counts come to, all sessions together."""
    rows = [
        (found.games[setup][0].evening.game, some_of(one.measure, one.count), f"{minutes(one.minutes)} {ON[one.clock]}",
         two(one.count / one.minutes), f"{two(one.low)} to {two(one.high)}")
        for setup, lines in found.rates.items()
        for one in lines
    ]  # fmt: skip
    head = ("game", "counted", "in", "a minute", "give or take (95 %)")
    return "Your own counts, all sessions together\n" + table(head, rows, width, left=(0, 1, 2))


def coverage(found: Sequence[Coverage], width: int | None) -> str:
    """How often ranges held, measure by measure; what had to be expected is a little more than 80 %, because counts are whole."""
    rows = [
        (MANY[one.measure], f"{one.inside} of {one.forecasts}", percent(one.share), f"{percent(one.low)} to {percent(one.high)}",
         percent(one.promised), one.trust.value)
        for measure in COUNTS
        for one in found
        if one.measure == measure
    ]  # fmt: skip
    head = ("count", "held", "share", "give or take (95 %)", "to be expected", "our ranges")
    return table(head, rows, width, left=(0, 1, 5))


def first_and_last(found: Review, width: int | None) -> str:
    """The same game later, count by count."""
    rows = [
        (found.games[setup][0].evening.game, f"{day(one.first_day)}, {day(one.last_day)}", MANY[one.measure],
         f"{one.evenings}", *(two(rate) for rate in one.rates),
         f"{two(one.low)} to {two(one.high) if one.high < 1000 else 'any'}", CHANGED[one.change])
        for setup, lines in found.later.items()
        for one in lines
    ]  # fmt: skip
    head = ("game", "first, last", "count", "evenings", "a minute then", "now", "times as many (95 %)", "answer")
    return "The same game later\n" + table(head, rows, width, left=(0, 1, 2, 7))
