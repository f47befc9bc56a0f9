"""The small screen of an estimate: what this kind of game is played for, what stands beside it, and what to try next."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from sim.game.model import Game
from sim.game.names import spoken_of
from sim.measures.internal_load import has_minors
from sim.results import Measure, Result
from sim.words import passing
from sim.words.clocks import ROLLING, WATCH
from sim.words.commands import Given
from sim.words.counting import (
    Counted,
    bouts_taken_together,
    count_told,
    losses_a_bout,
    mean_of,
    of_rate,
    per_bout,
    rate,
    rolls,
    spanned,
    times,
)
from sim.words.figures import count, metres, percent, two, usual
from sim.words.losses import SHORT, SHORT_NO_SHOT, USUALLY
from sim.words.next_steps import after_estimate, roles_change_hands
from sim.words.rule_counts import never_fired, points_of
from sim.words.screen import LINES, MOST_BESIDE, WIDTH, Screen
from sim.words.setting_up import question_line, time_of

FEWEST_BESIDE = 2
"""So many are told however many cautions there are: the screen grows."""
WITH_GOALS = ("even with goals", "overload with goals")
TOGETHER = ("even keep-ball", "role swap", *WITH_GOALS)
"""Kinds of games in which both sides have the ball in turn, so that both lose it."""
SEEN = 0.005
"""A share below half a per cent is not worth a word."""
CAUSES = {
    "interception": "cut out", "tackle": "tackled", "miscontrol": "heavy touch", "misplaced": "astray", "out": "out",
    "time limit": "held too long", "rule fault": "a rule broken",
}  # fmt: skip


def short_answer(
    result: Result, game: Game, given: Given | None = None, unit: str = "m", more: Sequence[str] = ()
) -> str:
    """The screen; `unit` is what the file counts lengths in, `more` stands before the cautions (assumptions of the user's own)."""
    of_these = f"{bouts(result)} of {time_of(game.bouts.seconds)}"
    head, answer = question_line(game, of_these, unit), answer_of(result, game)
    doing = after_estimate(result, game, given)

    def screen(beside: Sequence[str]) -> str:
        ranges = any("(usually " in line for line in (*answer, *beside))
        means = " ".join([*([USUALLY] if ranges else []), SHORT_NO_SHOT if game.goals else SHORT])
        last = [line for line in (means, never_fired(result, game), *more) if line]
        return Screen(head, answer, beside, doing, [*last, *result.cautions]).text()

    beside: list[str] = []
    for line in candidates(result, game):
        fits = len(screen([*beside, line]).splitlines()) <= LINES
        if len(beside) < FEWEST_BESIDE or (len(beside) < MOST_BESIDE and fits):
            beside.append(line)
    return screen(beside)


def bouts(result: Result) -> str:
    """``1 bout``, ``200 bouts``."""
    return f"{result.bouts} bout{'s' if result.bouts != 1 else ''}"


def answer_of(result: Result, game: Game) -> list[str]:
    """What this kind of game is played for, as a coach counts it, with what is usual."""
    if not result.row("in_play_share").mean:
        return ["The ball never came into play."]
    if game.family == "transfer":
        row = result.row("transfers_per_min")
        return event("They", "get it across", of_rate(row, result, game), row, result, game)
    if game.family == "break-away":
        breaks = per_bout(result.row("break_aways_per_bout"))
        return [*event("They", "break away", breaks, None, result, game), *goals_told(result, game)]
    if game.family in WITH_GOALS:
        return [*goals_told(result, game), *losses_told(result, game)]
    return losses_told(result, game)


def event(who: str, do: str, found: Counted | None, row: Measure | None, result: Result, game: Game) -> list[str]:
    """``They get it across about 9 times a bout, three minutes on the watch.``, and the rate of `row` on the other clock."""
    if found is None:
        return []
    if not found.mean:
        return [f"{who} do not {do} once in {bouts(result)}."]
    lines = [fitting(lambda brief: f"{who} {do} {count_told(found, result, game, times, brief)}.")]
    if row is None:
        return lines
    ends = usual(row.session_low, row.session_high) if found.low is None else ""
    tail = "" if ends or "with goals" in game.family else f"; {rolls(result)}"
    return [*lines, f"That is {rate(row)}{ends}{tail}."]


def losses_told(result: Result, game: Game) -> list[str]:
    """How often they lose it, on both clocks."""
    who = "Between them they" if game.family in TOGETHER else "They"
    return event(who, "lose it", losses_a_bout(result, game), result.row("balls_lost_per_min"), result, game)


def goals_told(result: Result, game: Game) -> list[str]:
    """Goals, and the shots they take."""
    found, shots = per_bout(result.row("goals_per_bout")), per_bout(result.row("shots_per_bout"))
    if found is None or shots is None:
        return []
    if not shots.mean:
        return [f"Not one shot in {bouts(result)}."]
    if not found.mean:
        return [f"Not one goal in {bouts(result)}: {count_told(shots, result, game, shots_of)}."]
    tried = count(bouts_taken_together(found, game) * shots.mean)

    def say(brief: bool) -> str:
        return f"A{count_told(found, result, game, goals_of, brief)[1:]}, from {shots_of(tried)}."

    return [fitting(say)]


def goals_of(figure: str) -> str:
    """``1 goal``, ``3 goals``."""
    return f"{figure} goal{'' if figure == '1' else 's'}"


def shots_of(figure: str) -> str:
    """``1 shot``, ``9 shots``."""
    return f"{figure} shot{'' if figure == '1' else 's'}"


def fitting(say: Callable[[bool], str]) -> str:
    """A sentence as it fits a line: with how long a bout is, which the first line of the screen says too, or without."""
    return say(len(say(False)) > WIDTH)


def candidates(result: Result, game: Game) -> list[str]:
    """What may stand beside the answer, the most telling of this kind of game first."""
    if not result.row("in_play_share").mean:
        return []
    run, most, night, fatigue = (
        passing.short(result, game),
        most_of(result, game),
        on_the_night(result, game),
        running(result, game),
    )
    score, how = scored(result, game), how_lost(result)
    second = lost_beside(result, game)
    order = {
        "transfer": (second, run, fatigue, night, most, how),
        "break-away": (second, run, fatigue, night, most, how),
        "even with goals": (run, fatigue, how, score),
        "overload with goals": (run, fatigue, how, score),
        "even keep-ball": (run, score, fatigue, how, night),
        "role swap": (run, score, night, fatigue, most, how),
    }.get(game.family, (run, most, night, fatigue, score, how))
    return [line for line in order if line]


def lost_beside(result: Result, game: Game) -> str:
    """Losses in one line, where they are not the answer."""
    found, row = losses_a_bout(result, game), result.row("balls_lost_per_min")
    if found is None or row.mean is None:
        return ""
    if not found.mean:
        return f"They do not lose it once in {bouts(result)}."
    rolling = "" if spanned(found) else f", {two(row.mean)} a minute {ROLLING}"
    return f"They lose it {times(count(found.mean))} a bout {WATCH}{spanned(found) or rolling}."


def in_the_middle(game: Game) -> bool:
    """Whether whoever defends is in the middle of those who keep the ball."""
    styles = {role.style: role.side for role in game.roles}
    keeping = {role.style for role in game.roles if role.side == game.start_side}
    return len(game.areas) == 1 and keeping == {"edge"} and set(styles) == {"edge", "free"}


def most_of(result: Result, game: Game) -> str:
    """Who defends most, where it is clear: nobody is named where minors play, or where no rule gives others the job."""
    if has_minors(game) or not roles_change_hands(game):
        return ""
    names = {f"player:{player}": name for player, name in spoken_of(game).items()}
    rows = [row for row in result.rows("defending_share") if row.scope in names and row.mean]
    if len(rows) < 2:
        return ""
    top, bottom = max(rows, key=mean_of), min(rows, key=mean_of)
    if top.low is None or bottom.high is None or top.low <= bottom.high:
        return ""
    does = "is in the middle most" if in_the_middle(game) else "defends most"
    name = names[top.scope]
    ends = usual(top.session_low, top.session_high, percent, top.mean)
    return f"{name[0].upper()}{name[1:]} {does}, {percent(mean_of(top))} {ROLLING}{ends}."


def on_the_night(result: Result, game: Game) -> str:
    """How unequal defending can be in one session, whoever it is."""
    most, least = result.row("defending_share_most").mean, result.row("defending_share_least").mean
    if most is None or least is None or not roles_change_hands(game):
        return ""
    does = "be in for" if in_the_middle(game) else "defend"
    return f"On the night one player may {does} {percent(most)} of the rolling time, another {percent(least)}."


def running(result: Result, game: Game) -> str:
    """Metres: by the minute in the role where roles change hands, else by the bout; whoever runs most first, no keepers."""
    change = roles_change_hands(game)
    head = f"Metres a minute {WATCH}: " if change else f"Metres a bout {WATCH}: "
    scopes = {f"role:{role.name}": role.name for role in game.roles if role.style != "goal"}
    rows = [
        row
        for row in result.rows("distance_per_min" if change else "total_distance_m")
        if row.scope in scopes and row.mean
    ]
    if not rows:
        return ""
    first, *others = sorted(rows, key=lambda row: -mean_of(row))
    text = f"{head}{scopes[first.scope]} {metres(mean_of(first))}{usual(first.session_low, first.session_high, metres, first.mean)}"
    for row in others:
        longer = f"{text}, {scopes[row.scope]} {metres(mean_of(row))}"
        if len(longer) > WIDTH - len("  ."):
            break
        text = longer
    return f"{text}."


def scored(result: Result, game: Game) -> str:
    """The points of each side."""
    found = [(side, per_bout(row)) for side, row in points_of(result, game)]
    said = [f"{side} {count(one.mean)}{spanned(one)}" for side, one in found if one is not None]
    others = [one.replace("(usually ", "(") for one in said[1:]]
    return f"Points a bout {WATCH}: {', '.join([*said[:1], *others])}." if said else ""


def how_lost(result: Result) -> str:
    """What becomes of it: ``out 50 %, cut out 30 %``."""
    shares = [
        (row.mean, cause_of(row))
        for row in result.rows("loss_share_by_cause")
        if row.mean is not None and row.mean >= SEEN
    ]
    said = [f"{CAUSES[cause]} {percent(share)}" for share, cause in sorted(shares, key=lambda one: -one[0])]
    return f"How they lose it: {', '.join(said)}." if said else ""


def cause_of(row: Measure) -> str:
    """The cause that a row of `loss_share_by_cause` is about."""
    return row.definition.removeprefix("cause: ").split(";")[0]
