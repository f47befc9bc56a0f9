"""The answer of an estimate as a coach reads it in the terminal: headline, table, players, footer.

A range in brackets is where 8 sessions in 10 lie; the error of the simulation itself is in the JSON only.
"""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.cautions import STOPPED
from sim.game.model import Game
from sim.game.names import names_of
from sim.measures.strain import has_minors
from sim.results import Measure, Result
from sim.words.assumptions import replaced_in_words
from sim.words.commands import Given
from sim.words.figures import percent, ranged, two
from sim.words.fired import never_fired, points, rules_fired
from sim.words.load import load_in_words
from sim.words.losses import LOSS, NO_SHOT
from sim.words.onward import after_estimate
from sim.words.passing import corrected, passing
from sim.words.running import of_players, of_roles, said


def answer_in_words(result: Result, game: Game, given: Given | None = None) -> str:
    """Everything `overload estimate` prints; `given`: how the user asked."""
    parts = [
        headline(result, game),
        "\n".join(of_the_game(result, game)),
        "\n".join(line for line in (points(result, game), never_fired(result, game), rules_fired(result, game)) if line),
        "\n".join(of_roles(result, game, scopes_of(game))),
        "\n".join(load_in_words(result, game, scopes_of(game))),
        "\n".join(at_the_ends(result, game)),
        "\n".join(of_players(result, game)),
        "\n".join(corrected(result)),
        "\n".join(after_estimate(result, game, given)),
        replaced_in_words(result.provenance.assumptions),
        "\n".join([NO_SHOT if game.goals else LOSS, *result.cautions]),
    ]
    return "\n\n".join(part for part in parts if part)


def going_on(cautions: Sequence[str], given: Given) -> str:
    """How to go on where an answer was stopped (else nothing)."""
    if not any(line.startswith(STOPPED) for line in cautions):
        return ""
    if given.asked("--save") is None:
        return "Stopped. What is finished is in the answer; to be able to go on another time: --save FILE."
    return f"Stopped. To go on:\n  {given.again()}"


def headline(result: Result, game: Game) -> str:
    """One sentence: what this kind of game is played for, how often, on which clock, and how much sessions differ."""
    balls, clock = result.row("balls_lost_per_min"), result.row("turnovers_per_clock_min")
    lost = f"they lose it about {middle(balls)} times a minute of play{around(balls)}"
    if game.goals:
        lost += f" and end it with a shot {middle(result.row('shot_ends_per_min'))} times"
    if game.family == "transfer":
        across = result.row("transfers_per_min")
        text = f"the ball goes across about {middle(across)} times a minute of play{around(across)}; {lost}"
    elif game.family == "break-away":
        breaks, goals = result.row("break_aways_per_bout"), result.row("goals_per_bout")
        text = f"{lost}; about {middle(breaks)} break-aways a bout{around(breaks)} and {middle(goals)} goals"
    elif game.family in ("even with goals", "overload with goals"):
        goals, shots = result.row("goals_per_bout"), result.row("shots_per_bout")
        text = f"{lost}; about {middle(goals)} goals a bout{around(goals)} from {middle(shots)} shots"
    else:
        text = f"{lost}; that is {middle(clock)} times a minute on the watch"
    return f"{game.title}: {text}."


def middle(row: Measure) -> str:
    return ranged(row.mean, None, None)


def around(row: Measure) -> str:
    if row.session_low is None or row.session_high is None:
        return ""
    return f" (8 sessions in 10: {two(row.session_low)} to {two(row.session_high)})"


def of_the_game(result: Result, game: Game) -> list[str]:
    """What holds for the game as a whole."""
    lines = [f"Ball in play: {said(result.row('in_play_share'), percent)} of the bout on the watch."]
    lines += passing(result, game)
    causes = [(row.mean, row.definition.removeprefix("cause: ").split(";")[0]) for row in causes_of(result)]
    if causes:
        shares = ", ".join(f"{cause} {percent(share)}" for share, cause in sorted(causes, key=lambda one: -one[0]))
        lines.append(f"How it is lost: {shares}.")
    lines += [
        f"{row.definition.removeprefix('threshold: ').split(';')[0]}: reached {said(row)} times a "
        f"{row.unit.removeprefix('1/')}."
        for row in result.rows("threshold_chance")
        if row.mean is not None
    ]
    return lines


def causes_of(result: Result) -> list[Measure]:
    return [row for row in result.rows("loss_share_by_cause") if row.mean is not None and row.mean >= 0.005]


def scopes_of(game: Game) -> list[str]:
    """Teams, where there is more than one, and roles."""
    teams = [f"team:{team.name}" for team in game.teams] if len(game.teams) > 1 else []
    return teams + [f"role:{role.name}" for role in game.roles]


def at_the_ends(result: Result, game: Game) -> list[str]:
    """Who defends most and least on average, and how far it goes in one session."""
    most, chance = result.row("defending_share_most"), result.row("chance_someone_defends_over_60")
    least = result.row("defending_share_least")
    if most.mean is None or least.mean is None or chance.mean is None:
        return []
    names = {f"player:{player}": name for player, name in names_of(game).items()}
    rows = [
        row
        for row in result.rows("defending_share")
        if row.scope in names and row.mean is not None and row.mean > 0
    ]
    lines = []
    if rows and not has_minors(game):  # children are not ranked
        top, bottom = max(rows, key=lambda row: row.mean), min(rows, key=lambda row: row.mean)
        text = (
            f"Defends most on average: {names[top.scope]}, {said(top, percent)} of the time in play; least: "
            f"{names[bottom.scope]}, {said(bottom, percent)}"
        )
        apart = top.low is not None and bottom.high is not None and top.low > bottom.high
        lines.append(text + ("." if apart else " (no clear difference)."))
    lines.append(
        f"In one session, whoever it is: most {said(most, percent)}, least {said(least, percent)}; chance that somebody "
        f"exceeds 60 %: {percent(chance.mean)}."
    )
    return lines
