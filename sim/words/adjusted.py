"""The card for the grass: the aim, the levers with what they do, when to pull which, what is refused, footer."""

from __future__ import annotations

import math
import textwrap

from sim.bands import minors_of
from sim.experiments.adjusted import Card, Effect, Refusal, Trigger
from sim.experiments.comparison import Row
from sim.words.assumptions import replaced_in_words
from sim.words.commands import Given, try_next
from sim.words.comparison import NAMES, gap
from sim.words.figures import two
from sim.words.levers import name_of, to_do, why_not
from sim.words.losses import footer
from sim.words.tuned import SHARES, scale

WIDTH = 110
LOADS = {
    "total_distance_m": "metres",
    "high_speed_distance_m": "metres at high speed",
    "accelerations": "accelerations",
}
MORE_NAMES = {"wins_per_min": "balls won/min"}
NUMBERS = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}
SAME_EVENT = {"turnovers_per_min": "turnovers_per_clock_min", "turnovers_per_clock_min": "turnovers_per_min"}


def card_in_words(card: Card, given: Given | None = None) -> str:
    """Everything `overload adjust` prints; `given`: how the user asked."""
    parts = [
        headline(card),
        "\n".join(levers(card)),
        "\n".join(on_the_grass(card)),
        "\n".join(refused(card)),
        "\n".join(left_out(card)),
        "\n".join(notes(card)),
        "\n".join(next_step(card, given)),
        replaced_in_words(card.provenance.assumptions),
        "\n".join([footer({card.measure, *(row.measure for one in card.effects for row in one.others)}), *card.cautions]),
    ]
    return "\n\n".join(part for part in parts if part)


def wrapped(text: str, indent: str) -> str:
    return textwrap.fill(text, WIDTH, initial_indent=indent, subsequent_indent=indent + "  ", break_on_hyphens=False)


def role_of(what: Card | Row) -> str:
    return f" {what.scope.removeprefix('role:')}" if what.scope != "game" else ""


def name(what: Card | Row) -> str:
    return (NAMES | MORE_NAMES)[what.measure].removesuffix(", %") + role_of(what)


def unit(what: Card | Row) -> str:
    return " %" if what.measure in SHARES else ""


def headline(card: Card) -> str:
    """The game, the aim, and where the game is without any lever."""
    by, clock = scale(card.measure), "in play" if card.clock == "in play" else "by the watch"
    goal = card.goal if isinstance(card.goal, str) else two(by * card.goal) + unit(card)
    now = f"{two(by * card.mean)} ({two(by * card.low)} to {two(by * card.high)}){unit(card)}"
    lines = [f"{card.game.title}. Aim: {goal} {name(card)}, {clock}.", f"As it is: {now}{against(card)}."]
    if card.start is not None:
        lever = card.effects[card.start]
        lines.append(f"To begin with: {to_do(lever.lever)}; that gives {two(by * lever.aim.second)}{unit(card)}.")
    elif missed(card):
        way = 1 if card.mean < card.goal else -1
        past = any(one.moves == way and not one.refusals for one in card.effects)
        lines.append(
            "No lever below brings it nearer: those that clearly move it that way go too far past the aim."
            if past
            else "No lever below can be told to bring it nearer."
        )
    return "\n".join(lines)


def missed(card: Card) -> bool:
    return not isinstance(card.goal, str) and not card.low <= card.goal <= card.high


def against(card: Card) -> str:
    if isinstance(card.goal, str):
        return ""
    if missed(card):
        return ", under the aim" if card.mean < card.goal else ", over the aim"
    return ", not to be told from the aim"


def levers(card: Card) -> list[str]:
    """The levers by what they do to the aim, the strongest first."""
    free = [one for one in card.effects if not one.refusals]
    ups, downs = ([one for one in free if one.moves == way] for way in (1, -1))
    order = [("raises it", ups), ("lowers it", downs)]
    if free and free[0].moves < 0:
        order.reverse()
    small = [one for one in free if not one.moves and one.aim.verdict == "no difference that matters"]
    open_ = [one for one in free if not one.moves and one.aim.verdict != "no difference that matters"]
    order += [
        ("too small to matter", small),
        (f"cannot tell from this many sessions ({card.sessions})", open_),
    ]
    width = max((len(name_of(one.lever)) for one in free), default=0)
    lines = [f"What moves it, the strongest first ({name(card)}{unit(card)}, change with its 95 % range):"]
    if not free:
        return ["No lever can be proposed here; why stands below."]
    if not ups and not downs:
        lines = [f"None of these levers can be told to move it ({name(card)}{unit(card)}, change with its 95 % range):"]
    for title, members in order:
        if members:
            lines.append(f"  {title}")
        for one in members:
            lines.append(f"    {name_of(one.lever).ljust(width)}  {figures(card, one)}".rstrip())
            if one.moves or one.others:
                lines.append(wrapped(f"also: {also(card, one)}", "      "))
    return lines


def figures(card: Card, one: Effect) -> str:
    if one.aim.difference is None:
        return "not known"
    by = scale(card.measure)
    return f"{two(by * one.aim.first):>4} -> {two(by * one.aim.second):>4}  {gap(one.aim)}"


def also(card: Card, one: Effect) -> str:
    """What else clearly moves by a size that matters."""
    others = [row for row in one.others if SAME_EVENT.get(row.measure) != card.measure]
    both = {row.measure for row in others}
    for less, more in (("turnovers_per_clock_min", "turnovers_per_min"), ("turnovers_per_min", "balls_lost_per_min")):
        others = [row for row in others if row.measure != less or more not in both]
    found = []
    for row in others:
        by = scale(row.measure)
        found.append(f"{name(row)} {two(by * row.first)} -> {two(by * row.second)}{unit(row)}")
    return "; ".join(found) if found else "nothing else that matters"


def spell(card: Card) -> str:
    """``two bouts``."""
    count = card.spells.bouts
    return "a bout" if count == 1 else f"{NUMBERS.get(count, count)} bouts"


def on_the_grass(card: Card) -> list[str]:
    """When to pull which lever."""
    if card.spells is None:
        return ["On the grass: no trigger, as most bouts have nothing to count."]
    if not card.triggers:
        return [f"On the grass: no trigger; {spell(card)} may well give none at all without anything being wrong."]
    lines = ["On the grass", *(wrapped(trigger(card, one), "  ") for one in card.triggers)]
    seen = f"({card.spells.number} such stretches seen)"
    return [*lines, f"  By luck alone {spell(card)} of the game as it is come to that one time in ten {seen}."]


def trigger(card: Card, one: Trigger) -> str:
    """``Fewer than 0.79 turnovers a minute of play for two bouts (fewer than 3 in all): touch limit 1 for outside.``"""
    by, sign = scale(card.measure), "Fewer than" if one.below else "More than"
    value = two(by * one.value)
    clock = " a minute of play" if card.clock == "in play" else " a minute"
    if card.measure in SHARES:
        what = f"{name(card)} {'under' if one.below else 'over'} {value} %"
        what = what[0].upper() + what[1:]
    else:
        what = f"{sign} {value} {name(card).replace('/min', clock).replace('/bout', ' a bout')}"
    total = ""
    if card.spells.minutes is not None:
        count = one.value * card.spells.minutes
        whole = math.ceil(count) if one.below else math.floor(count)
        total = " (none at all)" if one.below and whole <= 1 else f" ({sign.lower()} {whole} in all)"
    return f"{what} for {spell(card)}{total}: {actions(card, one)}."


def actions(card: Card, one: Trigger) -> str:
    """The first lever, then the others; those that take more players say so."""
    if not one.effects and any(each.moves == (1 if one.below else -1) and not each.refusals for each in card.effects):
        return f"what clearly {'raises' if one.below else 'lowers'} it would go too far past the aim"
    if not one.effects:
        here = "that may be proposed" if any(each.refusals for each in card.effects) else "here"
        return f"nothing {here} can be told to {'raise' if one.below else 'lower'} it"
    words = []
    for place in one.effects:
        lever = card.effects[place].lever
        with_more = (
            f"with {'a player' if lever.people == 1 else f'{lever.people} players'} more, " if lever.people > 0 else ""
        )
        words.append(with_more + to_do(lever))
    return "; or ".join(words)


def refused(card: Card) -> list[str]:
    """Levers that players on reduced load stand against, with the reason."""
    found = [one for one in card.effects if one.refusals]
    if not found:
        return []
    minors = minors_of([part.split(": ")[-1] for part in card.game.population.split("; ")])
    who = ", ".join(dict.fromkeys(refusal.name for one in found for refusal in one.refusals))
    lines = [f"Not proposed, as more for a player on reduced load ({who}) cannot be ruled out:"]
    for one in found:
        by_player: dict[str, list[Refusal]] = {}
        for refusal in one.refusals:
            by_player.setdefault(refusal.name, []).append(refusal)
        reasons = "; ".join(reason(player, every, bool(minors)) for player, every in by_player.items())
        lines.append(wrapped(f"{name_of(one.lever)}: {reasons}", "  "))
    return lines


def reason(player: str, refusals: list[Refusal], minor: bool) -> str:
    """``squad 5 up to 17 metres, 3.1 accelerations more a bout``; without figures for a minor."""
    if minor:
        return f"{player}, {', '.join(LOADS[one.measure] for one in refusals)}"
    if all(one.high is None for one in refusals):
        return f"{player}, cannot be told"
    known = [one for one in refusals if one.high is not None]
    return f"{player} up to {', '.join(f'{two(one.high)} {LOADS[one.measure]}' for one in known)} more a bout"


def left_out(card: Card) -> list[str]:
    if not card.left_out:
        return []
    return [wrapped(f"Not in this game: {', '.join(why_not(card.left_out))}.", "")]


def notes(card: Card) -> list[str]:
    """How it was made, and how sure it is."""
    lines = [
        f"Each lever alone, over the same {card.sessions} sessions ({card.bouts} bouts) with the same players and luck.",
        "Each range is 95 % on its own. What moves the aim is said with all levers in mind, what else moves with all measures of "
        "all levers: for each, one false alarm in 20 such cards at most (Holm). The first of several looks a little better than "
        "it is.",
    ]
    asked = card.precision
    if asked is not None:
        width = "not known how far off" if asked.widest is None else f"within {100 * asked.widest:.2g} %"
        share = f"{100 * asked.share:.2g} %"
        lines.append(
            f"As precise as asked: every effect to within {share} of the game's own value."
            if asked.reached
            else f"Not as precise as asked: effects are {width} of the game's own value instead of {share}."
        )
    return [wrapped(line, "").replace("\n  ", "\n") for line in lines]


def next_step(card: Card, given: Given | None) -> list[str]:
    """One thing to do, as a command: the first lever whole, or more of the same where no lever could be told to do anything."""
    free = [one for one in card.effects if not one.refusals]
    best = next((one for one in free if one.moves and one.lever.changes), None)
    if best is not None:
        whole = given and given.against(None, best.lever.changes)
        return try_next("to see the first lever whole", whole, best.lever.changes)
    if not free or any(one.moves for one in free):
        return []
    more = ("--bouts", 2 * card.bouts) if card.precision is None else ("--budget", 2 * card.precision.budget)
    return try_next("to be surer, more sessions (or larger steps, --step)", given and given.again(more))
