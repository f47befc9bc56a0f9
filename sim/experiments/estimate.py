"""`estimate`: play many sessions of one game, and say what came out with its ranges."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from sim import __version__
from sim.assumptions import NONE, Assumptions
from sim.errors import InputError
from sim.evidence.published import domains
from sim.experiments.cautions import cautions_for
from sim.experiments.checkpoints import Checkpoint, made_of, require_same
from sim.experiments.executors import Workers, too_small
from sim.experiments.keeping import NowAndThen
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import Played, Progress, replicate, sessions_for
from sim.experiments.stopping_rule import Precision, until_narrow
from sim.game.model import Game
from sim.game.names import names_of
from sim.measures.session_counts import SessionCounts
from sim.measures.summary import summarise
from sim.measures.thresholds import limits_of
from sim.results import FORMAT, Named, Provenance, Result


def estimate(
    game: Game,
    bouts: int = 200,
    seed: int = 1,
    workers: Workers = None,
    progress: Progress | None = None,
    changes: Sequence[str] = (),
    precision: Precision | None = None,
    saved: Checkpoint | None = None,
    keep: Callable[[Checkpoint], None] | None = None,
    assumptions: Assumptions = NONE,
    begun: Checkpoint | None = None,
) -> Result:
    """Whole sessions of `game` until at least `bouts` bouts are done; the same bits for any number of workers.

    `progress(done, wanted)` is told of bouts.  `changes` are the "KEY=VALUE" the game was loaded with, kept with the
    result.  Ctrl-C keeps the sessions that are finished.  With a `precision` they go on until it is met or its budget is
    spent.  `saved` sessions (of this game and seed) are not played again: `bouts` come on top of those they were asked for.
    `begun` are sessions that a run of this very question had finished when it ended early: they are not played again, and the
    answer is as if it had not.  `keep` is given all sessions, to be saved, at the end and now and then before it.  `assumptions`
    replace the program's own, and are kept with the result.
    """
    problems = too_small(bouts=(bouts, 1), seed=(seed, 0), workers=(workers, 1))
    if precision is not None and precision.budget < 2 * game.bouts.count:
        problems.append(f"budget must be at least two sessions, {2 * game.bouts.count} bouts (got {precision.budget})")
    if problems:
        raise InputError(problems)
    provenance = provenance_of(limits_of(game), assumptions)
    made = made_of(game, seed, provenance)
    if saved is not None:
        require_same(saved.made, made, "--extend")
    if begun is not None:
        require_same(begun.made, made, "--save")
    known = (dict(begun.sessions) if begun else {}) | (dict(saved.sessions) if saved else {})
    before = saved.asked if saved else 0
    settled = max(before, begun.asked if begun else 0)

    def put_away(asked: int) -> None:
        if keep is not None and known:
            keep(Checkpoint(made, asked, dict(known)))

    now_and_then = NowAndThen(lambda: put_away(settled))

    def tell(_arm: int, finished: Mapping[int, SessionCounts]) -> None:
        known.update(finished)
        now_and_then()

    def play(sessions: int) -> Played:
        count = sessions * game.bouts.count
        there, heard = dict(known), tell if keep is not None else None
        played = replicate(game, count, seed, workers, progress, known=there, assumptions=assumptions, tell=heard)
        known.update((one.replicate, one) for one in played.sessions)
        return played

    try:
        if precision is None:
            played, line = play(sessions_for(game, before + bouts)), None
        else:
            first = max(len(saved.sessions) if saved else 0, sessions_for(game, bouts))
            played, line = until_narrow(game, precision, first, play, assumptions.table)
    except BaseException:
        put_away(settled)
        raise
    if len(played.sessions) == played.wanted:
        settled = max(settled, before + bouts if precision is None else sum(one.bouts for one in played.sessions))
    put_away(settled)
    return result_of(game, played, seed, changes, line, provenance)


def result_of(
    game: Game, played: Played, seed: int, changes: Sequence[str], line: str | None, provenance: Provenance
) -> Result:
    """The answer these sessions give; `line` is one more thing to be said."""
    measures = summarise(game, played.sessions, values=provenance.parameters, evidence=domains())
    cautions = cautions_for(game, measures, played.sessions[0].thresholds, len(played.sessions), played.wanted)
    return Result(
        format=FORMAT,
        game=game.name,
        seed=seed,
        bouts=sum(session.bouts for session in played.sessions),
        population=population_of(game),
        players=tuple(Named(*one) for one in names_of(game).items()),
        version=__version__,
        changes=tuple(changes),
        cautions=cautions if line is None else (line, *cautions),
        measures=measures,
        provenance=provenance,
    ).about(game)


def population_of(game: Game) -> str:
    """The preset of all teams, or each team's own."""
    presets = {team.population for team in game.teams}
    return presets.pop() if len(presets) == 1 else "; ".join(f"{team.name}: {team.population}" for team in game.teams)
