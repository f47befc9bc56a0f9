"""The look at a game file before anything is built from it: too large, too deep, too many.

A file is read by whoever has been given it, so nothing in it may cost more than looking at it once.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from typing import Any

from sim.errors import InputError
from sim.game.bounds import DEEPEST, MOST_DIGITS, MOST_OF_ONE
from sim.game.messages import Problem, written_path
from sim.game.toml_words import told_in_words

_BARE = r"[A-Za-z0-9_-]+"
_PART = rf"(?:(?<![A-Za-z0-9_-]){_BARE}|\"[^\"\n]*\"|'[^'\n]*')"
# TOML's reader takes a time that grows with the square of the parts of a dotted key: too deep a key is found without it.
_DEEP_KEY = re.compile(rf"(?:{_PART}[ \t]*\.[ \t]*){{{DEEPEST},}}{_PART}")
_TOO_DEEP = f"must nest at most {DEEPEST} tables and lists (got more)"


def parsed(text: str, source: str, what: str = "the file") -> dict[str, Any]:
    """The tables of a text of TOML; refused where it is none, or where it nests too deep to be read."""
    if _DEEP_KEY.search(text):
        raise InputError(f"{what} {_TOO_DEEP}", source)
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise InputError(f"{what} {_TOO_DEEP}", source) from None
    except tomllib.TOMLDecodeError as error:
        raise InputError(f"{what} must be valid TOML (got: {told_in_words(text, str(error))})", source) from None
    except ValueError:  # Python reads no whole number of more than some thousand digits
        raise InputError(
            f"{what} must hold whole numbers of at most {MOST_DIGITS} digits (got a longer one)", source
        ) from None


def size_problems(data: Mapping[str, Any]) -> list[Problem]:
    """What is too deep, too many or too long for a number anywhere in plain data (walked without recursion)."""
    found = []
    waiting: list[tuple[tuple, Any]] = [((), data)]
    while waiting:
        path, value = waiting.pop()
        where = written_path(path) or "the file"
        if isinstance(value, (Mapping, list)):
            if len(path) >= DEEPEST:
                return [Problem("the file", _TOO_DEEP)]
            if len(value) > MOST_OF_ONE:
                found.append(Problem(where, f"must hold at most {MOST_OF_ONE} of them (got {len(value)})"))
                continue
            inside = value.items() if isinstance(value, Mapping) else enumerate(value)
            waiting.extend(((*path, key), one) for key, one in reversed(list(inside)))
        elif isinstance(value, int) and abs(value) >= 10**MOST_DIGITS:
            found.append(Problem(where, f"must be a number of at most {MOST_DIGITS} digits (got a longer one)"))
    return found
