"""`estimate`: play many sessions of one game, and say what came out with its ranges."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager

from sim import __version__
from sim.assumptions import NONE, Assumptions
from sim.errors import InputError
from sim.evidence.published import domains
from sim.experiments.cautions import cautions_for
from sim.experiments.checkpoints import Checkpoint, require_same
from sim.experiments.executors import Workers, too_small
from sim.experiments.keeping import NowAndThen
from sim.experiments.made_of import Made, made_of
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import Played, Progress, replicate, sessions_for
from sim.experiments.stopping_rule import Precision, until_narrow
from sim.game.model import Game
from sim.game.names import names_of
from sim.measures.session_counts import SessionCounts
from sim.measures.summary import summarise
from sim.measures.thresholds import limits_of
from sim.results import FORMAT, Named, Provenance, Result


class Known:
    """Sessions that are there by number: those of saved work, those that a run had begun, and those played since.

    `before`: the bouts that saved work was asked for; `settled`: those that have been asked for and played to the end.  `keep`
    is given all of them, to be saved, now and then and at the end.
    """

    def __init__(
        self, made: Made, saved: Checkpoint | None, begun: Checkpoint | None, keep: Callable[[Checkpoint], None] | None
    ):
        if saved is not None:
            require_same(saved.made, made, "--extend")
        if begun is not None:
            require_same(begun.made, made, "--save")
        self.made, self.keep = made, keep
        self.sessions = (dict(begun.sessions) if begun else {}) | (dict(saved.sessions) if saved else {})
        self.before = saved.asked if saved else 0
        self.settled = max(self.before, begun.asked if begun else 0)
        self.first = len(saved.sessions) if saved else 0
        self.now_and_then = NowAndThen(self.put_away)

    def put_away(self) -> None:
        """Have them saved."""
        if self.keep is not None and self.sessions:
            self.keep(Checkpoint(self.made, self.settled, dict(self.sessions)))

    def tell(self, _place: int, finished: Mapping[int, SessionCounts]) -> None:
        """More that are finished."""
        self.sessions.update(finished)
        self.now_and_then()

    @contextmanager
    def kept(self) -> Iterator[None]:
        """Whatever ends the playing, they are saved."""
        try:
            yield
        finally:
            self.put_away()


def estimate(  # noqa: PLR0913 - the public face: what may be asked for by keyword
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
    check(game, bouts, seed, workers, precision)
    provenance = provenance_of(limits_of(game), assumptions)
    known = Known(made_of(game, seed, provenance), saved, begun, keep)
    tell = known.tell if keep is not None else None

    def play(sessions: int) -> Played:
        count, there = sessions * game.bouts.count, dict(known.sessions)
        played = replicate(game, count, seed, workers, progress, known=there, assumptions=assumptions, tell=tell)
        known.sessions.update((one.replicate, one) for one in played.sessions)
        return played

    with known.kept():
        if precision is None:
            asked, line = known.before + bouts, None
            played = play(sessions_for(game, asked))
        else:
            first = max(known.first, sessions_for(game, bouts))
            played, line = until_narrow(game, precision, first, play, assumptions.table)
            asked = sum(one.bouts for one in played.sessions)
        if len(played.sessions) == played.wanted:
            known.settled = max(known.settled, asked)
    return result_of(game, played, seed, changes, line, provenance)


def check(game: Game, bouts: int, seed: int, workers: Workers, precision: Precision | None) -> None:
    """Refuse what cannot be estimated."""
    problems = too_small(bouts=(bouts, 1), seed=(seed, 0), workers=(workers, 1))
    if precision is not None and precision.budget < 2 * game.bouts.count:
        problems.append(f"budget must be at least two sessions, {2 * game.bouts.count} bouts (got {precision.budget})")
    if problems:
        raise InputError(problems)


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
