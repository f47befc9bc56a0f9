"""Levers by name: as a row of a card, as something to do, and why a game cannot have one."""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.levers import LeftOut, Lever
from sim.words.changes import spelt
from sim.words.figures import present
from sim.words.listing import listed
from sim.words.plurals import counted
from sim.words.who import counted_in, one_of

ENDS = {
    "size": ("a smaller area", "a larger area"),
    "touches": ("a touch fewer", "an extra touch"),
    "defenders": ("a defender fewer", "a defender more"),
    "floaters": ("a floater fewer", "a floater more"),
    "passes": ("a pass fewer", "a pass more"),
    "bout": ("shorter bouts", "longer bouts"),
}
ORDINALS = {2: "second", 3: "third", 4: "fourth", 5: "fifth", 6: "sixth", 7: "seventh", 8: "eighth", 9: "ninth"}
ARTICLES = {8: "an"}
BOTH = {
    "size": "a smaller or larger area",
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
    ("passes", "none"): "no rule asks for one number of passes",
    ("passes", "least"): "one pass is the least",
    ("bout", "least"): "they are too short for that",
}


def number_or_free(value: float | None) -> str:
    """A number of touches, or any other, as it is written: ``2``, ``free``."""
    return "free" if value is None else f"{value:g}"


def size_after(lever: Lever) -> str:
    """The size that a lever comes to: ``10 x 10 m``."""
    return f"{' x '.join(number_or_free(one) for one in lever.after)} {lever.unit}"


def step_of(lever: Lever) -> str:
    """How far each side of an area moves: ``a metre``, ``2.5 yd``."""
    step = abs(present(lever.after[0]) - present(lever.before[0]))
    return LENGTHS[lever.unit] if step == 1 else f"{step:g} {lever.unit}"


def short_name(lever: Lever) -> str:
    """``a metre in``, ``a third defender``, ``one touch``."""
    if lever.kind == "size":
        return f"{step_of(lever)} {'in' if lever.way < 0 else 'out'}"
    if lever.kind == "touches":
        return "a limit of touches" if None in lever.before else ENDS["touches"][lever.way > 0]
    if lever.kind in ("defenders", "floaters") and lever.way > 0:
        helper = one_of(lever.what[0]).partition(" ")[2]  # where one has another name in the file, by that
        return one_more(int(present(lever.after[0])), "defender" if lever.kind == "defenders" else helper)
    return ENDS[lever.kind][lever.way > 0]


def one_more(count: int, who: str) -> str:
    """``a third defender``; ``a floater`` where there was none."""
    if count == 1:
        return f"a {who}"
    return f"{ARTICLES.get(count, 'a')} {ORDINALS[count]} {who}" if count in ORDINALS else f"another {who}"


def detail(lever: Lever) -> str:
    """What it comes to: ``10 x 10 m``, ``1 for outside``, ``3 inside``, ``90 s``; nothing where its name says it."""
    if lever.kind == "size":
        return size_after(lever)
    if lever.kind == "touches":
        return limits(lever)
    if lever.kind == "defenders":
        return counted_in(lever.what[0], int(present(lever.after[0])))
    if lever.kind == "floaters":
        return "" if lever.way > 0 else f"{number_or_free(lever.after[0])} left"
    return number_or_free(lever.after[0]) + (" s" if lever.kind == "bout" else "")


def limits(lever: Lever) -> str:
    """Each number once, with the roles that have it: ``2 for west and east``."""
    by_limit: dict[float | None, list[str]] = {}
    for role, limit in zip(lever.what, lever.after, strict=True):
        by_limit.setdefault(limit, []).append(role)
    return ", ".join(f"{number_or_free(limit)} for {listed(roles)}" for limit, roles in by_limit.items())


def bare_name(lever: Lever) -> str:
    """``a metre in (10 x 10 m)``."""
    more = detail(lever)
    return f"{short_name(lever)} ({more})" if more else short_name(lever)


def more_players(lever: Lever) -> str:
    """``one more player``, ``2 more players``."""
    return f"{'one more player' if lever.people == 1 else f'{lever.people} more players'}"


def lever_name(lever: Lever) -> str:
    """``a third defender (3 inside, one more player)``."""
    parts = [part for part in (detail(lever), more_players(lever) if lever.people > 0 else "") if part]
    return f"{short_name(lever)} ({', '.join(parts)})" if parts else short_name(lever)


def to_do(lever: Lever, whole: bool = True) -> str:
    """What to do: ``take a metre off each side (10 x 10 m)``, ``go to one touch``; not `whole`: without what it comes to."""
    before, after = number_or_free(lever.before[0]), number_or_free(lever.after[0])
    match lever.kind:
        case "size":
            return resize(lever, whole)
        case "touches":
            return go_to(lever)
        case "defenders" | "floaters":
            more = "send in" if lever.kind == "defenders" else "bring in"
            named = bare_name(lever) if whole else short_name(lever)
            return f"{more if lever.way > 0 else 'play with'} {named}"
        case "passes":
            return f"ask for {after} {'pass' if after == '1' else 'passes'}, not {before}"
    return f"play bouts of {after} s, not {before} s"


def resize(lever: Lever, whole: bool) -> str:
    """``take a metre off each side (10 x 10 m)``; not `whole`: without the size it comes to."""
    how = f"take {step_of(lever)} off" if lever.way < 0 else f"put {step_of(lever)} on"
    where = f", {listed(lever.what)}" if len(lever.what) > 1 else ""
    return f"{how} each side" + (f" ({size_after(lever)}{where})" if whole else "")


def go_to(lever: Lever) -> str:
    """``go to one touch``; each role by name where they do not all come to the same."""
    same = len(set(lever.after)) == 1
    if not same or lever.after[0] is None:
        return f"go to these touches: {limits(lever)}"
    limit = lever.after[0]
    return f"go to {spelt(limit)} {counted('touch', limit)}"


def named_together(levers: Sequence[Lever]) -> list[str]:
    """Names in the order given, both ends of one in one: ``a metre in or out``."""
    kinds: dict[str, list[Lever]] = {}
    for lever in levers:
        kinds.setdefault(lever.kind, []).append(lever)
    return [BOTH[kind] if len(own) == 2 else short_name(own[0]) for kind, own in kinds.items()]


def why_not(left: Sequence[LeftOut]) -> list[str]:
    """``a touch fewer (one touch is the least)``, ``a pass fewer or more (...)``."""
    why: dict[tuple[str, str], list[int]] = {}
    for one in left:
        why.setdefault((one.kind, one.detail or MISSING[one.kind, one.reason]), []).append(one.way)
    return [
        f"{BOTH[kind] if len(ways) == 2 else ENDS[kind][ways[0] > 0]} ({reason})"
        for (kind, reason), ways in why.items()
    ]
