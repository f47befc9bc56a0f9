"""Loading: a file or a shipped name, some changes, and out comes a frozen, validated `Game`.

A file is brought into the full form first (`sim.game.whole`).  The resolved form loads, too: it (its `areas` are a list) is read
into a `Game`, written back as a file and checked like any other: one path, one set of rules, one set of messages.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from sim.errors import InputError, any_of, nearest
from sim.game.borders import between_problems
from sim.game.bounds import LARGEST_FILE, MOST_PLAYERS
from sim.game.changes import apply_changes
from sim.game.intake import parsed, size_problems
from sim.game.left_out import left_out
from sim.game.messages import Problem, broken, mended, shape_problems, show, unknown
from sim.game.model import Game
from sim.game.nearby import numbers_in, of_numbers, own_file
from sim.game.playability import playability_problems
from sim.game.references import reference_problems
from sim.game.resolve import to_game
from sim.game.roster import head_count, roster
from sim.game.shipped import shipped_games
from sim.game.spec import GameSpec
from sim.game.values import label_trouble
from sim.game.whole import Whole, whole
from sim.game.write import save_resolved, save_short, to_resolved, to_short
from sim.populations import named, no_population

__all__ = ["load_game", "read_game", "resolve", "save_resolved", "save_short", "to_resolved", "to_short"]


def _shaped(full: Whole, source: str) -> GameSpec:
    """The full form as a model, or every problem of the file: of shape first, then of names."""
    try:
        return GameSpec.model_validate(full.spec)
    except ValidationError as error:
        problems = shape_problems(error, GameSpec)
        rest = mended(full.spec, error, GameSpec)
    try:
        known = [] if rest is None else reference_problems(GameSpec.model_validate(rest))
    except ValidationError:
        known = []
    elsewhere = [one for one in known if not any(one.concerns(problem.path) for problem in problems)]
    raise InputError(full.as_written([*problems, *elsewhere]), source)


def resolve(spec: Mapping[str, Any], source: str, name: str = "game") -> Game:
    """The resolved game of a file given as plain data; `source` is named in complaints, `name` is what the file is called."""
    _require_size(spec, source)
    full = whole(spec, name)
    _require_size(full.spec, source)
    return _resolved(full, source, name)


def _resolved(full: Whole, source: str, name: str) -> Game:
    """The game of a full form."""
    shaped = _shaped(full, source)
    named = [*_own_name(shaped, name), *reference_problems(shaped)]
    problems = named if named or full.problems else playability_problems(shaped)
    if problems or full.problems:
        raise InputError(full.as_written(problems), source)
    game = to_game(shaped, name)
    unplayed = between_problems(game)
    if unplayed:
        raise InputError(full.as_written(unplayed), source)
    speeds = [*(team.pressing_speed for team in game.teams), *(player.pressing_speed for player in game.players)]
    if any(speed is not None for speed in speeds):
        from sim.players import roster_problems

        too_fast = roster_problems(game)
        if too_fast:
            raise InputError(too_fast, source)
    return game


def _require_size(data: Mapping[str, Any], source: str) -> None:
    """Refuse what is too deep or too many to be looked at any closer."""
    problems = size_problems(data)
    if problems:
        raise InputError([str(problem) for problem in problems], source)


def _own_name(spec: GameSpec, name: str) -> list[Problem]:
    """A game that is named by its file alone needs a file with a name."""
    wrong = None if spec.name is not None else label_trouble(name)
    return (
        []
        if wrong is None
        else [broken("name", f"be given, as the name of the file will not do: a name must {wrong}", name)]
    )


def _from_resolved(data: dict[str, Any], source: str) -> Game:
    """A game from the resolved form, which has to agree with itself."""
    try:
        game = Game.model_validate_json(json.dumps(data, default=str), strict=True)
    except ValidationError as error:
        raise InputError([str(problem) for problem in shape_problems(error, Game)], source) from None
    again = resolve(to_short(game), source)
    differing = [field for field in Game.model_fields if getattr(again, field) != getattr(game, field)]
    if differing:
        rule = "must agree with the rest of the resolved form: centred, sorted, every name once (got something else)"
        raise InputError([str(Problem(field, rule)) for field in differing], source)
    return game


def _no_such_game(name: str) -> Problem:
    """The shipped games that somebody may have meant, or all of them."""
    meant = nearest(name, shipped_games())
    if not meant:
        return unknown("GAME", "a file or a shipped game", name, shipped_games())
    return broken("GAME", f"be a file or a shipped game: did you mean {any_of(meant)}?", name)


def _read(source: str | Path) -> tuple[dict[str, Any], str]:
    """A file's data and the name the file gives it."""
    text = str(source)
    try:
        own = own_file(text) if numbers_in(text) else None
        file = own or shipped_games().get(shipped_name(text), Path(source))
        if not file.is_file():
            raise InputError(str(_no_such_game(text)))
        with file.open("rb") as stream:
            data = stream.read(LARGEST_FILE + 1)
    except OSError as error:
        raise InputError(f"must be a file that can be read (got: {error.strerror})", str(source)) from None
    if len(data) > LARGEST_FILE:
        raise InputError(f"the file must be at most {LARGEST_FILE // 1_000_000} MB (got more)", str(source))
    try:
        return parsed(data.decode("utf-8").replace("\r\n", "\n"), str(source)), file.name.removesuffix(".toml")
    except UnicodeDecodeError as error:
        raise InputError(
            f"the file must be UTF-8 text (got a byte that is not, at {error.start})", str(source)
        ) from None


def shipped_name(text: str) -> str:
    """The shipped game that is meant by its numbers (``4v2``); anything else as it is."""
    wanted = numbers_in(text)
    return (
        text
        if wanted is None or own_file(text)
        else of_numbers(wanted, {name: load_game(name) for name in shipped_games()})
    )


def _ids(spec: dict[str, Any]) -> list[str]:
    """The players' ids, where the file is sound enough to have some."""
    try:
        shaped = GameSpec.model_validate(spec)
        return [place.id for place in roster(shaped)] if head_count(shaped) <= MOST_PLAYERS else []
    except ValidationError:
        return []


def _with_population(spec: dict[str, Any], population: str, changes: Sequence[str]) -> dict[str, Any]:
    """The short form with every team drawn from one population."""
    chosen = named(population)
    if chosen is None:
        raise InputError(
            f"must name a population: {no_population(population)} (got {show(population)})", "--population"
        )
    clash = [c for c in changes if c.partition("=")[0].strip().endswith(".population")]
    if clash:
        raise InputError(str(broken("population", "be given once", f"--population and --set {clash[0]}")))
    teams = spec.get("teams")
    if not isinstance(teams, dict) or not all(isinstance(team, dict) for team in teams.values()):
        return spec
    return spec | {"teams": {name: team | {"population": chosen} for name, team in teams.items()}}


@dataclass(frozen=True)
class Reading:
    """A game as it was read, and what its file left out: (path, value) as one would write it there."""

    game: Game
    left_out: tuple[tuple[str, Any], ...]


def load_game(source: str | Path | Mapping, changes: Sequence[str] = (), population: str | None = None) -> Game:
    """A game from a path, a shipped name, the numbers of a shipped game (``4v2``) or plain data, in any form.

    `changes` are "KEY=VALUE" (`sim.game.changes`); `population` replaces that of every team.  Everything is
    checked after the changes; all problems of a file come in one `InputError`.
    """
    return read_game(source, changes, population).game


def read_game(source: str | Path | Mapping, changes: Sequence[str] = (), population: str | None = None) -> Reading:
    """The same with what the file leaves out."""
    if isinstance(source, Mapping):
        data, name, label = dict(source), "game", "game"
    else:
        (data, name), label = _read(source), str(source)
    _require_size(data, label)
    if isinstance(data.get("areas"), list):
        data = to_short(_from_resolved(data, label))
    full = whole(data, name)
    _require_size(full.spec, label)
    if changes:
        game_of = lambda spec: _resolved(full.changed(spec), label, name)  # noqa: E731
        full = full.changed(apply_changes(full.spec, full.in_full(changes), _ids(full.spec), game_of))
    if population is not None:
        full = full.changed(_with_population(full.spec, population, changes))
    full = full.changed(whole(full.spec, name).spec)  # a change may leave out what was there
    return Reading(_resolved(full, label, name), tuple(left_out(full, GameSpec.model_validate(full.spec))))
