"""The answer of an estimate as a coach reads it: the small screen, and behind `--details` all the tables there are.

A range in brackets is what is usual: eight sessions in ten lie there; the error of the simulation itself is in the JSON only.
"""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.cautions import STOPPED
from sim.experiments.last_line import LINE
from sim.game.model import Game
from sim.game.names import spoken_of
from sim.measures.internal_load import has_minors
from sim.results import Measure, Result
from sim.words.assumptions import own_assumptions, replaced_in_words
from sim.words.clocks import CLOCKS, ROLLING, WATCH
from sim.words.commands import Given
from sim.words.counting import losses_a_bout, mean_of
from sim.words.estimate_beside import CAUSES, SEEN, cause_of
from sim.words.estimate_leads import Key
from sim.words.estimate_screen import short_answer
from sim.words.evening_out import evened_out
from sim.words.figures import percent, ranged
from sim.words.load_table import load_in_words
from sim.words.losses import LOSS, NO_SHOT
from sim.words.measure_names import wording
from sim.words.passing import corrected, passing
from sim.words.rule_counts import points, rules_fired
from sim.words.running_tables import of_players, of_roles, usual_figure
from sim.words.screen import folded
from sim.words.tables import table

RATES = (
    "balls_lost_per_min",
    "turnovers_per_clock_min",
    "shot_ends_per_min",
    "transfers_per_min",
    "break_aways_per_bout",
    "shots_per_bout",
    "goals_per_bout",
)
USUAL_IN_BRACKETS = "In brackets what is usual, in eight sessions of ten."


def answer_in_words(
    result: Result,
    game: Game,
    given: Given | None = None,
    details: bool = False,
    width: int | None = None,
    unit: str = "m",
    asked: Key | None = None,
) -> str:
    """What `overload estimate` prints; `given`: how the user asked; `asked`: the measure he cares about, which leads.

    `details`: everything after the small screen, in tables that fit `width` columns.  `unit`: what the file counts lengths in.
    """
    own, learned = replaced_in_words(result.provenance.assumptions), result.provenance.own_data
    told = own_assumptions((), learned) if learned is not None else [own] if own else []
    screen = short_answer(result, game, given, unit, told, asked)
    if not details:
        return screen
    scopes = scopes_of(game)
    parts = [
        of_the_game(result, game, width),
        [line for line in (points(result, game), rules_fired(result, game)) if line],
        of_roles(result, game, scopes, width),
        load_in_words(result, game, scopes, width),
        at_the_ends(result, game),
        of_players(result, game, width),
        corrected(result),
        [own] if learned is not None else [],
        [NO_SHOT if game.goals else LOSS, LINE],
    ]
    return "\n\n".join([screen, *("\n".join(folded(one, width) for one in part) for part in parts if part)])


def going_on(cautions: Sequence[str], given: Given) -> str:
    """How to go on where an answer was stopped (else nothing)."""
    if not any(line.startswith(STOPPED) for line in cautions):
        return ""
    if given.asked("--save") is None:
        return "Stopped. What is finished is in the answer; to be able to go on another time: --save FILE."
    return f"Stopped. To go on:\n  {given.again()}"


def of_the_game(result: Result, game: Game, width: int | None) -> list[str]:
    """What holds for the game as a whole."""
    bout = losses_a_bout(result, game)
    rows = [] if bout is None else [("losses a bout", WATCH, ranged(bout.mean, bout.low, bout.high))]
    for measure in RATES:
        row = result.row(measure)
        if row.mean or (row.mean == 0 and measure in always_told(game)):
            rows.append((wording(measure).row_head(bool(game.goals)), *clocked(row)))
    rows.append(("the ball rolls, share of the bout", WATCH, usual_figure(result.row("in_play_share"), percent)))
    for row in result.rows("threshold_chance"):
        if row.mean is not None:
            what, per = row.definition.removeprefix("threshold: ").split(";")[0], row.unit.removeprefix("1/")
            rows.append(
                (f"{what}, times {'each time they have it' if per == 'possession' else f'a {per}'}", *clocked(row))
            )
    lines = [f"The game as a whole. {USUAL_IN_BRACKETS}", table(("", "clock", "how often"), rows, width, left=(0, 1))]
    lines += passing(result, game)
    causes = [(mean_of(row), CAUSES[cause_of(row)]) for row in causes_of(result)]
    if causes:
        shares = ", ".join(f"{cause} {percent(share)}" for share, cause in sorted(causes, key=lambda one: -one[0]))
        lines.append(f"How they lose it: {shares}.")
    return lines


def always_told(game: Game) -> set[str]:
    """Rates that are told even where they are nought, because the game is about them."""
    found = {"balls_lost_per_min", "turnovers_per_clock_min"}
    if game.family == "transfer":
        found.add("transfers_per_min")
    if game.family == "break-away":
        found.add("break_aways_per_bout")
    return found | ({"shot_ends_per_min", "shots_per_bout", "goals_per_bout"} if game.goals else set())


def clocked(row: Measure) -> tuple[str, str]:
    """(clock, figure with what is usual) of a row."""
    return CLOCKS[row.clock], usual_figure(row)


def causes_of(result: Result) -> list[Measure]:
    """Rows of the causes of losses that are worth a word."""
    return [row for row in result.rows("loss_share_by_cause") if row.mean is not None and row.mean >= SEEN]


def scopes_of(game: Game) -> list[str]:
    """Teams, where there is more than one, and roles."""
    teams = [f"team:{team.name}" for team in game.teams] if len(game.teams) > 1 else []
    return teams + [f"role:{role.name}" for role in game.roles]


def at_the_ends(result: Result, game: Game) -> list[str]:
    """Who defends most and least on average, how far it goes in one session, and which rotation would even it out."""
    most, chance = result.row("defending_share_most"), result.row("chance_someone_defends_over_60")
    least = result.row("defending_share_least")
    if most.mean is None or least.mean is None or chance.mean is None:
        return []
    names = {f"player:{player}": name for player, name in spoken_of(game).items()}
    rows = [
        row for row in result.rows("defending_share") if row.scope in names and row.mean is not None and row.mean > 0
    ]
    lines = []
    if rows and not has_minors(game):  # children are not ranked
        top, bottom = max(rows, key=mean_of), min(rows, key=mean_of)
        text = (
            f"Over many sessions {names[top.scope]} defends most, {usual_figure(top, percent)} of the time {ROLLING}, and "
            f"{names[bottom.scope]} least, {usual_figure(bottom, percent)}"
        )
        apart = top.low is not None and bottom.high is not None and top.low > bottom.high
        lines.append(text + ("." if apart else ": no clear difference."))
    lines.append(
        f"On the night, whoever it is: most {usual_figure(most, percent)}, least {usual_figure(least, percent)}; "
        f"in {percent(chance.mean)} of sessions somebody does more than 60 %."
    )
    return lines + evened_out(game)
