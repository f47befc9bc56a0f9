"""Everything on the card for the grass, as `--details` has it: every lever with what it does, what is refused, how it was made."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sim.experiments.adjusted import Card, Effect, Refusal, Trigger
from sim.experiments.comparison import Row
from sim.game.model import Game
from sim.speed_zones import minors_of
from sim.words.adjust_screen import card_screen, missed, target_of
from sim.words.assumptions import replaced_in_words
from sim.words.changes import spelt
from sim.words.clocks import CLOCKS
from sim.words.commands import Given
from sim.words.compare_details import gap
from sim.words.differences import both
from sim.words.figures import present, two
from sim.words.levers import lever_name, more_players, to_do, why_not
from sim.words.listing import capital
from sim.words.losses import footer
from sim.words.measure_phrases import noun, per_of_rate
from sim.words.screen import wrapped
from sim.words.tables import table

LOADS = {
    "total_distance_m": "metres",
    "high_speed_distance_m": "metres at high speed",
    "accelerations": "accelerations",
}
SAME_EVENT = {"turnovers_per_min": "turnovers_per_clock_min", "turnovers_per_clock_min": "turnovers_per_min"}
HEAD = ("", "as it is", "with it", "change (95 % range)", "what else clearly changes")
LEFT = (0, 3, 4)
"""Columns of words, and the ranges."""


def adjusted_in_words(
    card: Card, game: Game, given: Given | None = None, details: bool = False, width: int | None = None
) -> str:
    """What `overload adjust` prints: one small screen, and with `details` everything else below it."""
    screen = card_screen(card, game, given).text()
    return f"{screen}\n\n{card_in_words(card, width)}" if details else screen


def card_in_words(card: Card, width: int | None = None) -> str:
    """All of the card; `width`: columns of the terminal (None: a pipe)."""
    measures = {card.measure, *(row.measure for one in card.effects for row in one.others)}
    title, rows = levers(card)
    parts = [
        in_lines(aim_and_start(card), width),
        "\n".join([in_lines([title], width), *([table(HEAD, rows, width, LEFT)] if rows else [])]),
        in_lines(when_to_change(card), width),
        in_lines(refused(card), width),
        in_lines(levers_left_out(card), width),
        in_lines(notes(card), width),
        in_lines([replaced_in_words(card.provenance.assumptions)], width),
        in_lines([footer(measures), card.cautions[-1]], width),
    ]
    return "\n\n".join(part for part in parts if part)


def in_lines(lines: Sequence[str], width: int | None) -> str:
    """Sentences in lines that fit the terminal; a line each in a pipe."""
    if width is None:
        return "\n".join(lines)
    return "\n".join(
        part for line in lines if line for part in wrapped(line.lstrip(), "  " if line.startswith(" ") else "", width)
    )


def measure_with_rate(what: Card | Row) -> str:
    """``balls won a minute with the ball rolling``, ``passes that arrive, with the ball rolling``."""
    name, rate = noun(what.measure, what.scope), per_of_rate(what.unit, what.clock)
    return f"{name} {rate}" if rate else f"{name}, {CLOCKS[what.clock]}"


def in_unit(what: Card | Row, amount: float) -> str:
    """A figure of the aim, or of another measure of the card, in two digits; a share in per cent."""
    return f"{two(100 * amount)} %" if what.unit == "share" else two(amount)


def aim_and_start(card: Card) -> list[str]:
    """The game, the aim, and where the game is without any lever."""
    goal = target_of(card)
    wanted = card.goal if goal is None else in_unit(card, goal)
    now = f"{in_unit(card, card.mean)} (95 % range {in_unit(card, card.low)} to {in_unit(card, card.high)})"
    lines = [f"{card.game.title}. Aim: {wanted} {measure_with_rate(card)}.", f"As it is: {now}{against(card)}."]
    if card.start is not None:
        lever = card.effects[card.start]
        lines.append(f"To start with: {to_do(lever.lever)}; that gives {in_unit(card, present(lever.aim.second))}.")
    elif goal is not None and missed(card):
        way = 1 if card.mean < goal else -1
        past = any(one.moves == way and not one.refusals for one in card.effects)
        lines.append(
            "Nothing below brings it nearer: what clearly moves it that way goes too far."
            if past
            else "Nothing below clearly brings it nearer."
        )
    return lines


def against(card: Card) -> str:
    """Where the game as it is stands beside the number that is aimed at."""
    goal = target_of(card)
    if goal is None:
        return ""
    if missed(card):
        return ", under the aim" if card.mean < goal else ", over the aim"
    return ", as good as on target"


def levers(card: Card) -> tuple[str, list[list[str]]]:
    """The levers by what they do to the aim, the strongest first: a title, and the rows."""
    free = [one for one in card.effects if not one.refusals]
    if not free:
        return "Nothing can be proposed here; why stands below.", []
    ups, downs = ([one for one in free if one.moves == way] for way in (1, -1))
    order = [("raises it", ups), ("lowers it", downs)]
    if free[0].moves < 0:
        order.reverse()
    small = [one for one in free if not one.moves and one.aim.verdict == "no difference that matters"]
    order += [
        ("makes no difference that matters", small),
        (
            f"too close to call over {card.sessions} sessions",
            [one for one in free if not one.moves and one not in small],
        ),
    ]
    rows = []
    for title, members in order:
        if members:
            rows.append([title, "", "", "", ""])
        for one in members:
            rows.append(
                [
                    f"  {lever_name(one.lever)}",
                    *before_and_after(card, one),
                    also(card, one) if one.moves or one.others else "",
                ]
            )
    title = f"What to change first: {measure_with_rate(card)}, the strongest change first."
    if not ups and not downs:
        title = f"Nothing here clearly changes it: {measure_with_rate(card)}."
    return title, rows


def before_and_after(card: Card, one: Effect) -> tuple[str, str, str]:
    """(as it is, with the lever, change with its range) of one lever; the change alone is told where it is not known."""
    if one.aim.difference is None:
        return "", "", "not known"
    before, now = both(one.aim)
    return in_unit(card, before), in_unit(card, now), gap(one.aim)


def also(card: Card, one: Effect) -> str:
    """What else clearly moves by a size that matters."""
    others = [row for row in one.others if SAME_EVENT.get(row.measure) != card.measure]
    named = {row.measure for row in others}
    for less, more in (("turnovers_per_clock_min", "turnovers_per_min"), ("turnovers_per_min", "balls_lost_per_min")):
        others = [row for row in others if row.measure != less or more not in named]
    found = [
        f"{measure_with_rate(row)} {in_unit(row, before)} -> {in_unit(row, now)}"
        for row in others
        for before, now in [both(row)]
    ]
    return "; ".join(found) if found else "nothing that matters"


def spell(card: Card) -> str:
    """``two bouts``."""
    count = present(card.spells).bouts
    return "a bout" if count == 1 else f"{spelt(count)} bouts"


def when_to_change(card: Card) -> list[str]:
    """When to do what."""
    if card.spells is None:
        return ["On the grass: no number to watch for, as most bouts have nothing to count."]
    if not card.triggers:
        return [
            f"On the grass: no number to watch for; {spell(card)} may well have none at all without anything being wrong."
        ]
    lines = ["On the grass", *(f"  {trigger(card, one)}" for one in card.triggers)]
    seen = f"({card.spells.number} such stretches looked at)"
    return [*lines, f"  One time in ten that's just luck: the game as it is gives that over {spell(card)} {seen}."]


def trigger(card: Card, one: Trigger) -> str:
    """``Fewer than 0.79 losses a minute with the ball rolling for two bouts (fewer than 3 in all): go to one touch.``"""
    sign, amount = "Fewer than" if one.below else "More than", in_unit(card, one.value)
    if card.unit in ("1/min", "1/bout"):
        what = f"{sign} {amount} {measure_with_rate(card)}"
    else:
        what = (
            f"{noun(card.measure, card.scope)}: {sign.lower().replace('fewer', 'less')} {amount}, {CLOCKS[card.clock]},"
        )
        what = capital(what)
    total = ""
    minutes = present(card.spells).minutes
    if minutes is not None:
        count = one.value * minutes
        whole = math.ceil(count) if one.below else math.floor(count)
        total = " (none at all)" if one.below and whole <= 1 else f" ({sign.lower()} {whole} in all)"
    return f"{what} for {spell(card)}{total}: {actions(card, one)}."


def actions(card: Card, one: Trigger) -> str:
    """The first lever, then the others; those that take more players say so."""
    if not one.effects and any(each.moves == (1 if one.below else -1) and not each.refusals for each in card.effects):
        return f"what clearly {'raises' if one.below else 'lowers'} it would go too far"
    if not one.effects:
        here = "that may be proposed" if any(each.refusals for each in card.effects) else "here"
        return f"nothing {here} clearly {'raises' if one.below else 'lowers'} it"
    words = []
    for place in one.effects:
        lever = card.effects[place].lever
        words.append(to_do(lever) + (f", with {more_players(lever)}" if lever.people > 0 else ""))
    return "; or ".join(words)


def refused(card: Card) -> list[str]:
    """Levers that players on reduced load stand against, with the reason."""
    found = [one for one in card.effects if one.refusals]
    if not found:
        return []
    minors = minors_of([part.split(": ")[-1] for part in card.game.population.split("; ")])
    who = ", ".join(dict.fromkeys(refusal.name for one in found for refusal in one.refusals))
    lines = [f"Not proposed, as it may be more work for a player on reduced load ({who}):"]
    for one in found:
        by_player: dict[str, list[Refusal]] = {}
        for refusal in one.refusals:
            by_player.setdefault(refusal.name, []).append(refusal)
        reasons = "; ".join(reason(player, every, bool(minors)) for player, every in by_player.items())
        lines.append(f"  {lever_name(one.lever)}: {reasons}")
    return lines


def reason(player: str, refusals: Sequence[Refusal], minor: bool) -> str:
    """``squad 5 up to 17 metres, 3.1 accelerations more a bout``; without figures for a minor."""
    if minor:
        return f"{player}, {', '.join(LOADS[one.measure] for one in refusals)}"
    known = [f"{two(one.high)} {LOADS[one.measure]}" for one in refusals if one.high is not None]
    return f"{player} up to {', '.join(known)} more a bout on the watch" if known else f"{player}, not known"


def levers_left_out(card: Card) -> list[str]:
    """Levers that this game cannot have, with the reasons, in one sentence; nothing where it can have all."""
    if not card.left_out:
        return []
    return [f"Not in this game: {', '.join(why_not(card.left_out))}."]


def notes(card: Card) -> list[str]:
    """How it was made, and how sure it is."""
    lines = [
        f"Each change alone, over the same {card.sessions} sessions ({card.bouts} bouts) with the same players and luck.",
        "Each 95 % range is on its own. Whether something clearly changes is judged with all changes in mind (Holm's method: at "
        "most one such card in 20 has a false alarm).",
        "The first of several looks a little better than it is.",
    ]
    asked = card.precision
    if asked is not None:
        width = "not known how far off" if asked.widest is None else f"within {100 * asked.widest:.2g} %"
        share = f"{100 * asked.share:.2g} %"
        lines.append(
            f"As precise as asked: every change is known to within {share} of the game's own figure."
            if asked.reached
            else f"Not as precise as asked: changes are known to {width} of the game's own figure instead of {share}."
        )
    return lines
