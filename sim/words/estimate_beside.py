"""What may stand beside the answer of an estimate, a line each: who defends how long, metres, points, waits, losses."""

from __future__ import annotations

from sim.game.model import Game
from sim.game.names import spoken_of
from sim.game.verbs import Score
from sim.measures.internal_load import has_minors
from sim.results import Measure, Result
from sim.words.changes import spelt
from sim.words.clocks import ROLLING, WATCH
from sim.words.counting import losses_a_bout, mean_of, per_bout, spanned, times
from sim.words.evening_out import roles_change_hands
from sim.words.figures import count, metres, of_ten, percent, seconds, two, usual
from sim.words.listing import capital, listed
from sim.words.plurals import figured
from sim.words.rule_counts import points_of
from sim.words.screen import WIDTH

TOO_OFTEN = 0.25
"""In more bouts than this without a point nobody plays for it (practice notes)."""
SEEN = 0.005
"""A share below half a per cent is not worth a word."""
CAUSES = {
    "interception": "cut out", "tackle": "tackled", "miscontrol": "heavy touch", "misplaced": "astray", "out": "out",
    "time limit": "held too long", "rule fault": "a rule broken",
}  # fmt: skip


def bouts(result: Result) -> str:
    """``1 bout``, ``200 bouts``."""
    return figured(result.bouts, "bout")


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
    return f"{capital(name)} {does}, {percent(mean_of(top))} {ROLLING}{ends}."


MUCH = "60 %"
"""Of the rolling time: more than that is a lot for one player (`sim.measures.summary.MUCH`)."""
OFTEN = 0.25
"""How often somebody may defend for more than that before it is worth a word, unless it was asked for (house default)."""


def on_the_night(result: Result, game: Game, asked: bool = False) -> str:
    """How unequal defending can be in one session, whoever it is, and how often somebody has a lot; `asked`: that always, and
    with the range of one evening."""
    top = result.row("defending_share_most")
    most, least = top.mean, result.row("defending_share_least").mean
    if most is None or least is None or not roles_change_hands(game):
        return ""
    does = "be in for" if in_the_middle(game) else "defend"
    ends = usual(top.session_low, top.session_high, percent, most) if asked else ""
    told = f"On the night one player may {does} {percent(most)} of the rolling time{ends}, another {percent(least)}"
    much = result.row("chance_someone_defends_over_60").mean
    if much is None or (much <= OFTEN and not asked):
        return f"{told}."
    return f"{told}; somebody over {MUCH} {of_ten(much).replace('times', 'evenings').replace('time', 'evening')}."


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


def without_point(result: Result, game: Game) -> list[tuple[str, Measure]]:
    """(side, share of bouts in which it gets no point) of the sides that a rule gives points."""
    rows = result.rows("bouts_without_point")
    found = []
    for side, points in points_of(result, game):
        if not can_score(game, side):
            continue
        own = [row for row in rows if row.scope == points.scope and row.mean is not None]
        found += [(side, own[0])] if own else []
    return found


def can_score(game: Game, side: str) -> bool:
    """Whether any rule gives points to this side."""
    return any(
        isinstance(action, Score)
        and (
            action.to == side or action.to in ("winner", "loser") or (action.to == "holder" and rule.by in (None, side))
        )
        for phase in game.phases
        for rule in phase.rules
        for action in rule.do
    )


def enough_passes(result: Result, game: Game) -> int | None:
    """The most passes for a point with which no side would have gone without in more than a quarter of these bouts.

    Read off the longest run of each bout; None where points are for something else, or not even one pass would do.
    """
    scopes = {row.scope for _, row in without_point(result, game)}
    short: dict[int, list[float]] = {}
    for row in result.rows("bouts_without_run"):
        if row.scope in scopes and row.mean is not None:
            short.setdefault(passes_of(row), []).append(row.mean)
    return max((passes for passes, own in short.items() if max(own) <= TOO_OFTEN), default=None)


def passes_of(row: Measure) -> int:
    """How many passes a row of `bouts_without_run` is about."""
    return int(row.definition.removeprefix("passes: ").partition(";")[0])


def go_without(result: Result, game: Game, asked: bool = False) -> list[str]:
    """How often a bout goes by without a point; where that is too often, the number of passes that would do.

    `asked`: also where it is not often.
    """
    found = without_point(result, game)
    often = [one for one in found if mean_of(one[1]) > TOO_OFTEN]
    if not found or not (often or asked):
        return []
    said = listed([f"{side} {percent(mean_of(row))}" for side, row in found])
    lines = [f"Bouts without a point: {said}."]
    if often and (fewer := enough_passes(result, game)) is not None:
        lines.append(f"More than one bout in four: ask for {spelt(fewer)} instead, by the longest runs of these bouts.")
    return lines


def between_transfers(result: Result) -> str:
    """How long from one ball across to the next: the middle one, and the ends of the middle three in five."""
    p20, middle, p80 = (one_of(result, f"between_transfers_{name}_s") for name in ("p20", "median", "p80"))
    if middle is None:
        return ""
    ends = []
    if p20 is not None:
        ends.append(f"one in five within {seconds(p20)} s")
    if p80 is not None:
        ends.append(f"one in five over {seconds(p80)} s")
    return f"From one to the next about {seconds(middle)} s {WATCH}: {', '.join(ends)}." if ends else ""


def one_of(result: Result, measure: str) -> float | None:
    """The mean of a row of the game; None where the game has no such row, or nothing was seen."""
    return next((row.mean for row in result.rows(measure) if row.scope == "game"), None)


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
