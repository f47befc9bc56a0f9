"""From an answer to its page: the picture that shows it, its frame, and where the numbers come from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sim import __version__
from sim.assumptions import NONE, Assumptions
from sim.experiments.adjusted import Card
from sim.experiments.comparison import Compared, Comparison
from sim.experiments.designs import Axis
from sim.experiments.estimate import population_of
from sim.experiments.last_line import LINE
from sim.experiments.provenance import replacements
from sim.experiments.sweep import Lines, Run, cautions_of, places
from sim.experiments.tuned import Tuned
from sim.experiments.why import Why
from sim.game.model import Game
from sim.measures.session_counts import SessionCounts
from sim.pitch.log import BoutLog
from sim.plots import bout_frames, curve, exposure, frames, levers, runs, speed_zones, strip, surface, variants
from sim.plots.page import Page
from sim.provenance import engine
from sim.results import Replaced, Result
from sim.words.assumptions import replaced_in_words
from sim.words.picture_words import COUNTED, NO_GAMES, Origin, conditions_words, played

PICTURES = ("defending", "metres", "passes")
"""What an estimate can be drawn as; the first is drawn unless another is asked for."""


def of_result(result: Result, game: Game, sessions: Sequence[SessionCounts], name: str = PICTURES[0]) -> Page:
    """One of `PICTURES`: who defends how much, metres by role and speed, or pass runs."""
    told = played(result.bouts, len(sessions))
    cautions = own_words(result.provenance.assumptions) + result.cautions
    origin = Origin(result.game, result.changes, result.population, result.seed, told, *made(result), cautions)
    if name == "metres":
        return Page(speed_zones, bout_frames.of_speed_zones(result, game), origin)
    if name == "passes":
        return Page(runs, bout_frames.of_runs(sessions, game), origin)
    return Page(exposure, bout_frames.of_exposure(result, game), origin)


def of_bout(game: Game, log: BoutLog, changes: Sequence[str] = (), assumptions: Assumptions = NONE) -> Page:
    """One bout as a strip of time."""
    told = f"session {log.replicate + 1}, bout {log.bout + 1}"
    lines = (*own_words(replacements(assumptions)), LINE)
    origin = Origin(game.name, tuple(changes), population_of(game), log.seed, told, __version__, engine(), lines)
    return Page(strip, bout_frames.of_bout(game, log), origin)


def of_compared(
    found: Compared, measure: str = "turnovers_per_min", scope: str = "game", games: Mapping[str, Game] = NO_GAMES
) -> Page:
    """The sessions of all variants, side by side; `games`: the game of each by its name, for what its changes are called."""
    first = found.comparisons[0]
    told = played(first.bouts, first.sessions)
    lines = dict.fromkeys(line for one in found.comparisons for line in one.cautions[:-1])
    cautions = (*counted(measure), *own_words(first.provenance.assumptions), *lines, first.cautions[-1])
    conditions = conditions_words(found, games)
    people = "; ".join(
        dict.fromkeys(one.population for one in (first.first, *(one.second for one in found.comparisons)))
    )
    origin = Origin(conditions, (), people, first.seed, f"{told} of each", *made(first), cautions)
    return Page(variants, frames.of_compared(found, measure, scope, games), origin)


def of_tuned(found: Tuned, length: str = "m") -> Page:
    """The curve of one knob, or the cells of two."""
    told = played(sum(one.bouts for one in found.curve) + (found.fresh.bouts if found.fresh else 0))
    cautions = (*counted(found.measure), *own_words(found.provenance.assumptions), *found.cautions)
    condition = found.game
    origin = Origin(condition.game, condition.changes, condition.population, found.seed, told, *made(found), cautions)
    return Page(curve if len(found.knobs) == 1 else surface, frames.of_tuned(found, length), origin)


def of_sweep(
    base: Game,
    axes: Sequence[Axis],
    found: tuple[Sequence[Run], Lines],
    about: tuple[str, str],
    changes: Sequence[str] = (),
    assumptions: Assumptions = NONE,
    length: str = "m",
) -> Page:
    """The curve of one key, or the cells (or discs) of two; `about`: measure and scope."""
    runs_, lines = found
    at = places(len(axes))
    firsts = [cells[0] for cells in lines.values()]
    told = played(sum(int(cells[at["bouts"]]) for cells in firsts), runs=len(firsts))
    cautions = (*counted(about[0]), *own_words(replacements(assumptions)), *cautions_of(axes, runs_, lines))
    seed = int(firsts[0][at["seed"]])
    origin = Origin(base.name, tuple(changes), population_of(base), seed, told, __version__, engine(), cautions)
    return Page(curve if len(axes) == 1 else surface, frames.of_sweep(axes, runs_, lines, *about, length), origin)


def of_card(card: Card) -> Page:
    """The levers of a card."""
    told = f"{played(card.bouts, card.sessions)} of the game and of each lever"
    condition = card.game
    cautions = (*counted(card.measure), *own_words(card.provenance.assumptions), *card.cautions)
    origin = Origin(condition.game, condition.changes, condition.population, card.seed, told, *made(card), cautions)
    return Page(levers, frames.of_card(card), origin)


def of_why(found: Why, most: int = 12) -> Page:
    """The most telling assumptions and levers."""
    told = played(found.bouts, runs=found.runs)
    cautions = (*counted(found.measure), *own_words(found.provenance.assumptions), *found.cautions)
    origin = Origin(found.game, found.changes, found.population, found.seed, told, *made(found), cautions)
    return Page(levers, frames.of_why(found, most), origin)


def made(answer: Result | Comparison | Tuned | Card | Why) -> tuple[str, str]:
    """(version, engine) that an answer came from."""
    return answer.version, answer.provenance.engine


def counted(measure: str) -> tuple[str, ...]:
    """What counts as a loss, where losses are drawn."""
    return (COUNTED[measure],) if measure in COUNTED else ()


def own_words(replaced: Sequence[Replaced]) -> tuple[str, ...]:
    """The line on the user's own assumptions, where there are any."""
    return (replaced_in_words(replaced),) if replaced else ()
