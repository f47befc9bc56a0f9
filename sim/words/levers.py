"""Levers by name: as a row of a card, as something to do, and why a game cannot have one."""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.levers import LeftOut, Lever

ENDS = {
    "size": ("smaller", "larger"),
    "touches": ("a touch fewer", "a touch more"),
    "defenders": ("a defender fewer", "a defender more"),
    "floaters": ("a floater fewer", "a floater more"),
    "passes": ("a pass fewer", "a pass more"),
    "bout": ("shorter bouts", "longer bouts"),
}
BOTH = {
    "size": "smaller or larger",
    "touches": "a touch fewer or more",
    "defenders": "a defender fewer or more",
    "floaters": "a floater fewer or more",
    "passes": "a pass fewer or more",
    "bout": "shorter or longer bouts",
}
LENGTHS = {"m": "a metre", "yd": "a yard"}
MISSING = {
    ("touches", "none"): "nobody begins with the ball",
    ("touches", "least"): "one touch is the least",
    ("touches", "most"): "ten are the most",
    ("touches", "free"): "they are free",
    ("size", "least"): "nothing would be left",
    ("defenders", "none"): "no one role begins without the ball",
    ("defenders", "least"): "one is the least",
    ("defenders", "pairs"): "it would break a pair",
    ("floaters", "none"): "there is none",
    ("floaters", "least"): "there is only one",
    ("floaters", "pairs"): "it would break a pair",
    ("floaters", "all"): "a rule gives everybody a role of a team",
    ("passes", "none"): "the rules ask for no one number of passes",
    ("passes", "least"): "one pass is the least",
    ("bout", "least"): "they are too short for that",
}


def plain(value: float | None) -> str:
    return "free" if value is None else f"{value:g}"


def size_of(lever: Lever) -> str:
    return f"{' x '.join(plain(one) for one in lever.after)} {lever.unit}"


def listed(words: tuple[str, ...]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


def short_name(lever: Lever) -> str:
    """``a metre in``, ``a defender more``."""
    if lever.kind == "size":
        step = abs(lever.after[0] - lever.before[0])
        length = LENGTHS[lever.unit] if step == 1 else f"{step:g} {lever.unit}"
        return f"{length} {'in' if lever.way < 0 else 'out'}"
    if lever.kind == "touches" and None in lever.before:
        return "a limit of touches"
    return ENDS[lever.kind][lever.way > 0]


def detail(lever: Lever) -> str:
    """What it comes to: ``10 x 10 m``, ``1 for outside``, ``3 x inside``, ``90 s``."""
    if lever.kind == "size":
        return size_of(lever)
    if lever.kind == "touches":
        return limits(lever)
    if lever.kind == "defenders":
        return f"{plain(lever.after[0])} x {listed(lever.what)}"
    return plain(lever.after[0]) + (" s" if lever.kind == "bout" else "")


def limits(lever: Lever) -> str:
    """Each number once, with the roles that have it: ``2 for west and east``."""
    by_limit: dict[float | None, list[str]] = {}
    for role, limit in zip(lever.what, lever.after, strict=True):
        by_limit.setdefault(limit, []).append(role)
    return ", ".join(f"{plain(limit)} for {listed(tuple(roles))}" for limit, roles in by_limit.items())


def bare_name(lever: Lever) -> str:
    """``a metre in (10 x 10 m)``."""
    return f"{short_name(lever)} ({detail(lever)})"


def name_of(lever: Lever) -> str:
    """``a defender more (3 x inside; needs a player more)``."""
    if lever.people <= 0:
        return bare_name(lever)
    return f"{short_name(lever)} ({detail(lever)}; needs {'a player' if lever.people == 1 else f'{lever.people} players'} more)"


def to_do(lever: Lever) -> str:
    """What to do: ``take 1 m off each side (10 x 10 m)``."""
    if lever.kind == "size":
        step = f"{abs(lever.after[0] - lever.before[0]):g} {lever.unit}"
        how = f"take {step} off" if lever.way < 0 else f"put {step} on"
        where = f", {listed(lever.what)}" if len(lever.what) > 1 else ""
        return f"{how} each side ({size_of(lever)}{where})"
    now, before = plain(lever.after[0]), plain(lever.before[0])
    if lever.kind == "touches":
        return f"touch limit {limits(lever)}"
    if lever.kind == "defenders":
        return f"{now} x {listed(lever.what)} instead of {before}"
    if lever.kind == "floaters":
        return f"{now} {'floater' if lever.after[0] == 1 else 'floaters'} instead of {'none' if lever.before[0] == 0 else before}"
    if lever.kind == "passes":
        return f"ask for {now} passes instead of {before}"
    return f"bouts of {now} s instead of {before} s"


def why_not(left: Sequence[LeftOut]) -> list[str]:
    """``a touch fewer (one touch is the least)``, ``a pass fewer or more (...)``."""
    why: dict[tuple[str, str], list[int]] = {}
    for one in left:
        why.setdefault((one.kind, one.detail or MISSING[one.kind, one.reason]), []).append(one.way)
    return [
        f"{BOTH[kind] if len(ways) == 2 else ENDS[kind][ways[0] > 0]} ({reason})"
        for (kind, reason), ways in why.items()
    ]
