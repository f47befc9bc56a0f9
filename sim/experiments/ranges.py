"""Lists and ranges as people type them, the same for every command: ``8,10,12``, ``8..14`` and ``8..14:2``.

What is in brackets or quotes is one value, whatever stands in it: ``{ amber = 4, slate = 3 }``.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal, DecimalException
from itertools import product

from sim.errors import InputError
from sim.game.messages import show

OPEN, CLOSED, QUOTES = "{[", "}]", "\"'"
LONGEST = 40  # characters of a number that is an end of a range
MOST_VARIANTS = 20  # tweaks beside one game: what somebody may still read
FURTHEST = Decimal(10**25)  # no end of a range lies further out: `decimal` reckons with 28 digits


@dataclass(frozen=True)
class Values:
    """What was typed after a key: all values, and the ends of a range.  `whole`: those ends are whole numbers.

    A range between two numbers that are not whole has no values, only ends.
    """

    listed: tuple[str, ...]
    span: tuple[float, float] | None = None
    whole: bool = True


def parts(text: str) -> list[str]:
    """What stands between the commas, but for those in brackets and quotes."""
    found, depth, quote = [""], 0, ""
    for sign in text:
        if quote:
            quote = "" if sign == quote else quote
        elif sign in QUOTES:
            quote = sign
        elif sign in OPEN + CLOSED:
            depth += 1 if sign in OPEN else -1
        elif sign == "," and depth <= 0:
            found.append("")
            continue
        found[-1] += sign
    return [part.strip() for part in found]


def is_range(text: str) -> bool:
    """Whether a value reads FROM..TO."""
    return ".." in text and text[:1] not in (*OPEN, *QUOTES)


def several(text: str) -> bool:
    """Whether more than one value was typed."""
    return len(parts(text)) > 1 or is_range(text.strip())


def values_of(text: str, key: str, option: str, most: int) -> Values:
    """The values of a key as typed, at most so many."""
    typed = parts(text)
    if not all(typed):
        raise InputError(f"{key} must have a value between the commas (got {show(text)})", option)
    found = [_range(part, key, option, most) if is_range(part) else Values((part,)) for part in typed]
    listed = tuple(dict.fromkeys(value for one in found for value in one.listed))
    if len(listed) > most:
        raise InputError(f"{key} must have {most} values at most (got {len(listed)})", option)
    if len(found) == 1:
        return found[0]
    if not all(one.listed for one in found):
        raise InputError(
            f"{key} must have a step for a range in a list, such as 1.5..4.5:0.5 (got {show(text)})", option
        )
    return Values(listed)


def variants_of(changes: Sequence[str], option: str) -> list[tuple[str, tuple[str, ...]]]:
    """(title, changes) of every combination of the values listed in some KEY=VALUE; one without a title where none is a list."""
    axes = []
    for change in changes:
        key, equals, value = (part.strip() for part in change.partition("="))
        if not equals or not several(value):
            axes.append([("", change)])
            continue
        values = values_of(value, key, option, MOST_VARIANTS).listed
        if not values:
            raise InputError(f"{key} must have a step, such as 1.5..4.5:0.5 (got {show(value)})", option)
        axes.append([(f"{key} {one}", f"{key}={one}") for one in values])
    if (count := math.prod(len(axis) for axis in axes)) > MOST_VARIANTS:
        raise InputError(f"must come to {MOST_VARIANTS} tweaks at most (got {count}): `sweep` plays more", option)
    return [
        (", ".join(title for title, _ in one if title), tuple(change for _, change in one)) for one in product(*axes)
    ]


def _range(text: str, key: str, option: str, most: int) -> Values:
    """``8..14`` and ``8..14:2``; without a step whole numbers go by one, others have none."""
    ends, colon, step = text.partition(":")
    numbers = ends.split("..")
    if len(numbers) == 3 and not colon and all(part.isdecimal() for part in numbers):
        raise InputError(
            f"{key}={text} is now written {key}={numbers[0]}..{numbers[1]}:{numbers[2]} (got {show(text)})", option
        )
    try:
        start, end = (_number(part) for part in numbers)
        by = _number(step) if colon else Decimal(1)
    except (ValueError, DecimalException):
        raise InputError(
            f"{key} must go from a number to a number, such as 8..14 or 8..14:2 (got {show(text)})", option
        ) from None
    if end <= start or by <= 0:
        raise InputError(f"{key} must go upwards, such as 8..14 or 8..14:2 (got {show(text)})", option)
    whole = "." not in "".join(numbers)
    span = float(start), float(end)
    if not whole and not colon:
        return Values((), span, whole)
    if (count := int((end - start) / by) + 1) > most:  # asked before they are built
        raise InputError(f"{key} must have {most} values at most (got {count})", option)
    return Values(tuple(f"{start + by * n:f}" for n in range(count)), span, whole)


def _number(text: str) -> Decimal:
    if len(text) > LONGEST:
        raise ValueError(text)
    found = Decimal(text.strip())
    if not found.is_finite() or abs(found) > FURTHEST:
        raise ValueError(text)
    return found
