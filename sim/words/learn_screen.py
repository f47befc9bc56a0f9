"""What the user's counts say of the club: its values in a coach's words, our doubt, what cannot be told, and what to do next."""

from __future__ import annotations

import shlex

from sim.experiments.last_line import LINE
from sim.learning.changes import Change
from sim.learning.learn import FEWEST_BOUTS, Answer, Outcome
from sim.learning.values import PASSING, PRESSING, RESTARTS, WILLINGNESS
from sim.words.assumptions import own_data
from sim.words.commands import options_of, try_next
from sim.words.figures import count, percent, two
from sim.words.listing import capital, listed, number_word, some
from sim.words.own_counts import MANY, ON
from sim.words.screen import Screen, folded
from sim.words.tables import table

KMH = 3.6
NAMES = {
    PASSING: "how well they pass", PRESSING: "how hard they press", RESTARTS: "how soon the ball is back",
    WILLINGNESS: "how willing they are to run",
}  # fmt: skip
HIGHER = {
    PASSING: "They pass better", PRESSING: "They press harder", RESTARTS: "The ball is back later", WILLINGNESS: "They run more",
}  # fmt: skip
LOWER = {
    PASSING: "They pass worse", PRESSING: "They press softer", RESTARTS: "The ball is back sooner", WILLINGNESS: "They run less",
}  # fmt: skip
NOT_YET = {
    Outcome.ONE_ROW: "Nothing learned yet: all of it stands in one row. Count bout by bout, so that one can be held back to check.",
    Outcome.NO_BETTER: "Nothing learned yet: held back in turn, your counts are forecast better by what we assume than by what "
    "they would teach.",
    Outcome.NOTHING: "Nothing learned yet: your counts say nothing that our forecast does not say already.",
}
CHECKED = "Each part held back in turn: what the rest teaches forecasts it as well as ours or better."


def learned_in_words(
    found: Answer,
    save: str | None = None,
    details: bool = False,
    width: int | None = None,
    game: str = "GAME",
    logbook: str | None = None,
) -> str:
    """What `overload learn` prints; `save`: the file they were kept in; `game`: what to forecast next, as typed; `logbook`: as
    the command to keep them names it."""
    titles = listed(found.games) or "no game"
    head = f"What your counts say of your players: {own_data(found.own_data)} of {titles}"
    screen = Screen(head, answer(found), beside(found), doing(found, save, game, logbook), [LINE]).text()
    return screen if not details or not found.changes else f"{screen}\n\n{folded(everything(found, width), width)}"


def answer(found: Answer) -> list[str]:
    """The headline: the value that moved most; or why there is none."""
    if found.outcome is Outcome.LEARNED:
        return [said(told(found)[0])]
    if found.outcome is Outcome.TOO_FEW:
        bouts = found.own_data.bouts
        so_far = f"there {'is' if bouts == 1 else 'are'} {number_word(bouts) if bouts else 'none'}"
        return [f"Nothing learned yet: {so_far}, and it takes {number_word(FEWEST_BOUTS)} bouts at least."]
    return [NOT_YET[found.outcome]]


def told(found: Answer) -> list[Change]:
    """The values of which the counts say something, the one that moved furthest first."""
    return sorted((one for one in found.changes if one.is_told), key=lambda one: -abs(one.score))


def said(one: Change) -> str:
    """``They pass worse than we assumed: 92 of 100 simple passes come off (give or take 2), not 96.``; with *perhaps* before it
    where the difference is smaller than our doubt."""
    now, before, around = shown(one, one.after), shown(one, one.before), shown_doubt(one)
    if now == before:
        return f"{capital(NAMES[one.name])}: as we assumed, {unit(one, now)} (give or take {around})."
    words = (HIGHER if one.after > one.before else LOWER)[one.name]
    if abs(one.after - one.before) < half_range(one):
        words = f"Perhaps {words[0].lower()}{words[1:]}"
    if one.name == RESTARTS:
        return f"{words} than the game file says: by {two(abs(one.after))} s (give or take {around})."
    return f"{words} than we assumed: {unit(one, now)} (give or take {around}), not {before}."


def shown(one: Change, value: float) -> str:
    """A value as people say it."""
    if one.name == PASSING:
        return f"{100 * value:.0f}"
    if one.name == PRESSING:
        return f"{KMH * value:.1f}"
    return f"{value:+.1f}" if one.name == RESTARTS else f"{100 * value:.0f}"


def shown_doubt(one: Change) -> str:
    """Half of the range of eight in ten, in the unit in which people say it."""
    return two({PASSING: 100, PRESSING: KMH, RESTARTS: 1, WILLINGNESS: 100}[one.name] * half_range(one))


def half_range(one: Change) -> float:
    """Half of the range of eight in ten."""
    return (one.high - one.low) / 2


def unit(one: Change, value: str) -> str:
    """The value with what it is of."""
    return {
        PASSING: f"{value} of 100 simple passes come off",
        PRESSING: f"{value} km/h to the ball",
        RESTARTS: f"{value} s beside the game file",
        WILLINGNESS: f"{value} where a usual group has 100",
    }[one.name]


def beside(found: Answer) -> list[str]:
    """The other values, what cannot be told apart, and what the counts hide."""
    lines = [said(one) for one in told(found)[1:]] if found.outcome is Outcome.LEARNED else []
    lines += [
        f"{capital(NAMES[a])} and {NAMES[b]}: these counts cannot tell the two apart; one may stand for the other."
        for a, b in found.inseparable
        if found.outcome is Outcome.LEARNED
    ]
    silent = [one for one in found.changes if not one.is_told]
    if silent and found.outcome is Outcome.LEARNED:
        lines.append(f"Your counts say nothing on {listed([NAMES[one.name] for one in silent], 'or')}.")
    if found.changes:
        lines += [hidden(one, found) for one in silent if one.name == PASSING and 0 < abs(one.shows) < one.night]
    if found.outcome is Outcome.LEARNED:
        lines.append(CHECKED)
    if found.changed:
        lines.append(f"{capital(some(found.changed, 'bout'))} changed on the grass: left out, another game.")
    return lines


def hidden(one: Change, found: Answer) -> str:
    """Why a far weaker club would hardly be noticed."""
    moves = f"{percent(abs(one.shows))} {'more' if one.shows > 0 else 'fewer'} {MANY[found.fits[0][1]]}"
    return (
        f"Weak passing hides in the range: {100 * one.far:.0f} of 100 simple passes coming off would bring {moves}, "
        f"and a night differs by {percent(one.night)} anyway, by luck and by who plays."
    )


def doing(found: Answer, save: str | None, game: str, logbook: str | None) -> list[str]:
    """What to do now."""
    if found.outcome is not Outcome.LEARNED:
        return [
            "Next: count the same game again, bout by bout; more sessions would change it, and balls out counted besides losses."
        ]
    if save is None:
        again = " ".join(["overload learn", *options_of([("--logbook", logbook), ("--save", "own.toml")])])
        return try_next("to keep this and forecast with it", again)
    return [
        "More sessions would narrow it. To take it back: overload learn --undo with the same file.",
        *try_next(
            "a forecast of your own",
            " ".join(["overload estimate", shlex.quote(game), *options_of([("--assumptions", save)])]),
        ),
    ]


def everything(found: Answer, width: int | None) -> str:
    """All values, how well the counts are emulated, and the check."""
    rows = [
        (NAMES[one.name], figure(one, one.before), figure(one, one.after), f"{figure(one, one.low)} to {figure(one, one.high)}",
         percent(one.narrower), percent(one.shows), "yes" if one.is_told else "no")
        for one in found.changes
    ]  # fmt: skip
    head = ("value", "before", "now", "range (8 in 10)", "doubt left", "2 sd lower moves", "told")
    fits = [(game, MANY[measure], ON[clock], two(off)) for game, measure, clock, off in found.fits]
    lines = [
        "Every value (passing: share that comes off; pressing: m/s; restarts: s beside the file; running: 1 is usual)",
        table(head, rows, width, left=(0, 6)),
        "",
        "How well each count is emulated (held-out clubs lie so many standard deviations off; 1 is to be expected)",
        table(("game", "count", "clock", "off"), fits, width, left=(0, 1, 2)),
    ]
    if found.held_out is not None:
        one = found.held_out
        lines += [
            "",
            f"Held back in {count(one.parts)} parts: log score {one.own:.1f} by your values, {one.population:.1f} by ours.",
            "Synthetic likelihood on emulated counts (negative binomial or gamma count), drawn by sequential Monte Carlo.",
        ]
    return "\n".join(lines)


def figure(one: Change, value: float) -> str:
    """A value in a table, in its own unit."""
    return f"{value:.1f}" if one.name == RESTARTS else f"{value:.3f}" if one.name != PRESSING else f"{value:.2f}"


def stopped_in_words(done: int, wanted: int) -> str:
    """Where the clubs have not all played."""
    return f"Stopped: {done} of {wanted} sessions to learn from have been played. The same command goes on."


def kept_in_words(path: str, new: bool) -> str:
    """Said on stderr when it is kept."""
    return f"Kept in {path}." if new else f"Already in {path}: nothing new."


def not_kept_in_words(path: str) -> str:
    """Said on stderr when there was nothing to keep."""
    return f"Nothing written to {path}: nothing was learned."


def undone_in_words(path: str, date: str) -> str:
    """Said when the last entry was taken back."""
    return f"Taken back: what was learned on {date}. What stood in {path} before it is in force again."
