"""Every complaint about a game file in the one pattern: where, which rule, what was there.

``areas.square.length must be greater than 0 (got -3.0)``.  `Problem` is one of them; `shape_problems` turns what
pydantic found into problems, and `mended` makes the best of a broken file so that the checks of `sim.game.references`
can still look at the rest of it and everything wrong with a file is told at once.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from sim.errors import any_of, given, nearest
from sim.game.bounds import PATTERNS
from sim.game.keys import fields, model_at
from sim.game.other_words import choices, key_meant, value_meant, why_not
from sim.game.short_words import short_keys
from sim.game.verbs import KINDS


@dataclass(frozen=True)
class Problem:
    """One broken rule: the dotted `path` of the place and what must hold there."""

    path: str
    rule: str

    def __str__(self) -> str:
        return f"{self.path} {self.rule}"

    def concerns(self, path: str) -> bool:
        """True if `path` is this place, lies inside it, or holds it."""
        mine, other = self.path.split("."), path.split(".")
        shorter = min(len(mine), len(other))
        return mine[:shorter] == other[:shorter]


LONGEST_SHOWN = 200  # characters of a value in a complaint
MOST_NAMED = 20  # names offered in a complaint
FEW = 6  # names that are all offered
# Signs that move the cursor, break the line or turn the direction of writing: never printed as they are.
_UNSEEN = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")
_PLAIN_PART = re.compile(r"[A-Za-z0-9_-]{1,60}")


def show(value: Any) -> str:
    """A value as a person would write it in the file, on one line, cut where it is very long."""
    text = _UNSEEN.sub(lambda sign: f"\\u{ord(sign[0]):04x}", _written(value))
    return text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}..."


def written_path(location: tuple) -> str:
    """A dotted path; items of a list go without their number, and names that are no plain word in quotes."""
    kept = [
        part
        for i, part in enumerate(location)  # pydantic tells a verb twice: as the kind of its table, and as a key in it
        if not (i > 1 and isinstance(location[i - 2], int) and part == location[i - 1])
    ]
    parts = [str(part) for part in kept if not isinstance(part, int) and part != "[key]"]
    return ".".join(part if _PLAIN_PART.fullmatch(part) else show(part) for part in parts)


def _written(value: Any) -> str:
    if isinstance(value, list):
        return f"[{', '.join(_written(one) for one in value)}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{key} = {_written(one)}' for key, one in value.items())} }}"
    if isinstance(value, (date, time)):
        return value.isoformat()
    return json.dumps(value, ensure_ascii=False) if isinstance(value, (str, bool)) else repr(value)


def broken(path: str, must: str, got: Any) -> Problem:
    """`path` must ..., but holds `got`."""
    return Problem(path, f"must {must} (got {show(got)})")


def unknown(path: str, what: str, got: str, known: Iterable[str]) -> Problem:
    """`path` should be one of `known`, but is `got`."""
    known = list(known)
    if not known:
        return Problem(path, f"must be {what}, and there is none (got {show(got)})")
    if len(known) <= FEW:
        return Problem(path, f"must be {what}: {any_of(known)} (got {show(got)})")
    return Problem(path, f"must be {what} (got {show(got)}; {meant(got, known)})")


def meant(got: str, known: Sequence[str], there: str = "there is:") -> str:
    """What somebody may have meant, of many: the nearest names, or all where none is near."""
    near = nearest(got, known)
    if near:
        return f"did you mean {any_of(near)}?"
    return f"{there} {', '.join(known[:MOST_NAMED])}{f' and {len(known) - MOST_NAMED} more' if len(known) > MOST_NAMED else ''}"


_MUST = {
    "float_type": "be a number",
    "int_type": "be a whole number",
    "bool_type": "be true or false",
    "string_type": "be text",
    "list_type": "be a list",
    "tuple_type": "be a list",
    "dict_type": "be a table",
    "model_type": "be a table",
    "finite_number": "be a finite number",
    "string_too_short": "be some text, not empty",
    "string_too_long": "have at most {max_length} characters",
    "greater_than": "be greater than {gt:g}",
    "greater_than_equal": "be at least {ge:g}",
    "less_than": "be less than {lt:g}",
    "less_than_equal": "be at most {le:g}",
    "too_short": "hold at least {min_length} of them",
    "too_long": "hold at most {max_length} of them",
}
"""What a value must do, by pydantic's kind of error; in braces what pydantic says of it."""


def _must(error: ErrorDetails) -> str:
    kind, context = error["type"], error.get("ctx", {})
    if kind in _MUST:
        return _MUST[kind].format(**context)
    if kind == "string_pattern_mismatch":
        return f"be {PATTERNS[context['pattern']]}"
    if kind == "literal_error":
        expected = context["expected"].replace("'", "")
        return f"be {'one of ' if ',' in expected or ' or ' in expected else ''}{expected}"
    return error["msg"].removeprefix("must ")


def _missing(path: str, location: tuple, root: type[BaseModel]) -> Problem:
    """A key that must be given, with the words among which it chooses."""
    table = model_at(root, location[:-1])
    field = None if table is None else fields(table).get(str(location[-1]))
    words = [] if field is None else choices(field.annotation)
    which = f": {any_of([show(word) for word in words])}" if len(words) > 1 else ""
    return Problem(path, f"must be given{which} (got nothing)")


def _no_key(path: str, location: tuple, root: type[BaseModel]) -> Problem:
    """A key that is none of the table, and the one that may be meant."""
    key, table = str(location[-1]), given(model_at(root, location[:-1]))
    if reason := why_not(table.__name__, key):
        return Problem(path, f"is not a key here ({reason})")
    known = [*fields(table), *short_keys(table.__name__)]
    instead = key_meant(table.__name__, key)
    if instead is None and key in fields(root) and len(location) > 1 and not nearest(key, known)[:1] == [key]:
        instead = f"{key} of the whole file, which must stand above the first line in [ ]"
    return Problem(
        path,
        f"is not a key here ({meant(key, known, 'there can be') if instead is None else f'did you mean {instead}?'})",
    )


def _without_verbs(location: tuple, root: type[BaseModel]) -> tuple:
    """The place in a resolved game, where pydantic tells the verb of a consequence though it is no key on the way."""
    at = location.index("do") + 2 if "do" in location else len(location)
    kind = model_at(root, location[: at + 1])
    return location if kind not in KINDS.values() else (*location[:at], *location[at + 1 :])


def _no_verb(path: str, action: Any) -> Problem:
    """What is wrong with the verb of a consequence in a resolved game."""
    if isinstance(action, dict) and "verb" in action:
        return broken(f"{path}.verb", f"be one of {any_of(list(KINDS))}", action["verb"])
    return Problem(f"{path}.verb", "must be given (got nothing)")


def shape_problems(error: ValidationError, root: type[BaseModel]) -> list[Problem]:
    """What pydantic found, in our words, in its order."""
    problems = []
    for found in error.errors(include_url=False):
        path = written_path(_without_verbs(found["loc"], root))
        if found["type"] == "missing":
            problems.append(_missing(path, found["loc"], root))
        elif found["type"] in ("union_tag_invalid", "union_tag_not_found"):
            problems.append(_no_verb(path, found["input"]))
        elif found["type"] == "extra_forbidden":
            problems.append(_no_key(path, found["loc"], root))
        elif found["type"] == "literal_error":
            known = found["ctx"]["expected"].replace(" or ", ", ").split(", ")
            near = value_meant(found["input"], [word.strip("'\"") for word in known])
            problems.append(Problem(path, f"must {_must(found)} (got {show(found['input'])}{near})"))
        else:
            problems.append(broken(path, _must(found), found["input"]))
    return problems


# What stands in for a required value that is missing or out of range while the rest of the file is looked at.
_STAND_IN = {
    "format": 1,
    "title": "-",
    "purpose": "-",
    "length": 10.0,
    "width": 10.0,
    "on": "loss",
}
_STAND_IN |= {"score": 1.0, "open": "shoot", "close": "shoot", "reset": "passes", "trade": "roles", "end": "bout"}
_STAND_IN |= {
    "swap": "loser",
    "with": "winner",
    "window": 1.0,
    "step": "loser",
    "of": "all",
    "style": "free",
    "bouts": {"minutes": 1},
}
_STAND_IN_ITEM = {"do": {"end": "bout"}, "centre": 0.0}


def apart(value: Any) -> Any:
    """A copy in which nothing is held in two places, as may be in data that no file was read for."""
    if isinstance(value, dict):
        return {key: apart(one) for key, one in value.items()}
    return [apart(one) for one in value] if isinstance(value, list) else value


def _renamed(holder: dict, key: str, table: type[BaseModel]) -> None:
    """Let a key that is none stand for the one that must be meant, so that nothing is said of what follows from it."""
    value, known = holder.pop(key, None), list(fields(table))
    near = [key_meant(table.__name__, key) or "", *nearest(key, known)]
    there = [one for one in near if one in known]
    if there and there[0] not in holder:
        holder[there[0]] = value


def mended(raw: dict, error: ValidationError, root: type[BaseModel]) -> dict | None:
    """A copy of `raw` with every broken value taken out or replaced, or None where that would be guessing."""
    fixed = apart(raw)
    deepest_first = sorted(
        error.errors(include_url=False),
        key=lambda one: (len(one["loc"]), one["loc"][-1] if isinstance(one["loc"][-1], int) else -1),
        reverse=True,
    )
    for found in deepest_first:
        location = tuple(part for part in found["loc"] if part != "[key]")
        holder: Any = fixed
        for index, part in enumerate(location[:-1]):
            if not isinstance(part, int) and index and isinstance(location[index - 1], int):
                continue  # the verb of an action: pydantic's tag, not a key on the way
            holder = holder[int(part)] if isinstance(holder, list) else holder.get(part, {})
        key = location[-1]
        if isinstance(key, int):
            if location[-2] in _STAND_IN_ITEM:
                holder[key] = _STAND_IN_ITEM[location[-2]]
            else:
                del holder[key]
            continue
        parent = model_at(root, location[:-1])
        field = fields(parent).get(str(key)) if parent is not None else None
        if found["type"] == "extra_forbidden" and parent is not None:
            _renamed(holder, str(key), parent)
        elif parent is None or (field is not None and not field.is_required()):
            holder.pop(key, None)
        elif key in _STAND_IN:
            holder[key] = _STAND_IN[key]
        else:
            return None
    return fixed
