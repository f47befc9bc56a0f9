"""The one place that knows singular and plural: of things, and of roles that are words for somebody who does something."""

from __future__ import annotations

NO_DOERS = (
    *("inner", "outer", "upper", "lower", "other", "former", "corner", "number"),
    *("center", "perimeter", "border", "quarter", "interior", "exterior", "corridor"),
    *("amber", "silver", "copper", "ginger", "lavender"),
)
"""Words in -er that name no one who does something: places, and colours of bibs."""
_HISSING = ("s", "x", "z", "ch", "sh")


def plural(noun: str) -> str:
    """More than one of a thing: ``passes``, ``balls``."""
    return f"{noun}es" if noun.endswith(_HISSING) else f"{noun}s"


def counted(noun: str, count: float) -> str:
    """A thing as it is called after its number: ``pass`` after 1, ``passes`` after any other."""
    return noun if count == 1 else plural(noun)


def figured(count: float, noun: str) -> str:
    """So many of a thing, in figures: ``1 pace``, ``11 paces``, ``3.5 points``."""
    return f"{round(count, 1):g} {counted(noun, count)}"


def after_figure(figure: str, noun: str) -> str:
    """So many of a thing, of a figure as it is written: ``1 goal``, ``0.93 goals``."""
    return f"{figure} {noun if figure == '1' else plural(noun)}"


def names_a_doer(role: str) -> bool:
    """Whether the name of a role is a word for somebody who does something: a builder, a centre-player, a west-keeper."""
    return role.endswith(("er", "or")) and role.rpartition("-")[2] not in NO_DOERS and role != "player"


def names_doers(role: str) -> bool:
    """Whether it is such a word in the plural: chasers, west-keepers, players."""
    one = role.removesuffix("s")
    return one != role and (one == "player" or names_a_doer(one))


def doer(role: str) -> str | None:
    """One in a role whose name is a word for somebody who does something, in singular or plural: ``chaser``; None for others."""
    one = role.removesuffix("s") if names_doers(role) else role
    return one if one == "player" or names_a_doer(one) else None
