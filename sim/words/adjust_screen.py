"""The card for the grass on one small screen: how it is, what to change first, when to do it, and for whom not."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from sim.experiments.adjusted import Card, Effect, Trigger
from sim.experiments.comparison import Row
from sim.experiments.levers import Lever
from sim.game.model import Game
from sim.game.names import spoken_of
from sim.words.assumptions import replaced_in_words
from sim.words.changes import spelt
from sim.words.commands import Given, try_next
from sim.words.differences import both
from sim.words.figures import percent, present, two
from sim.words.levers import lever_name, more_players, named_together, short_name, to_do
from sim.words.listing import capital, listed
from sim.words.measure_names import is_counted, wording
from sim.words.measure_phrases import (
    SAME_BALL,
    happens,
    holds,
    instead_of,
    noun,
    per,
    per_of_rate,
    value,
    whole_or_tenths,
)
from sim.words.playing import shots_allowed
from sim.words.plurals import counted
from sim.words.screen import LINES, Screen
from sim.words.setting_up import question_line, spelt_time, time_of

MOST_LEVERS = 3
MOST_NAMED = 2  # levers that go the other way, or too far


def card_screen(card: Card, game: Game, given: Given | None = None) -> Screen:
    """As much as fits on one screen: what is too close to call goes first, then levers, side effects, and what does not help."""
    screens = [Grass(card, game, given, room).screen() for room in ROOMS]
    return next((one for one in screens if len(one.text().splitlines()) <= LINES), screens[-1])


def whole_of_card(card: Card, game: Game, given: Given | None = None) -> Screen:
    """All there is to say in a few sentences, whether or not it fits on a screen."""
    return Grass(card, game, given, ROOMS[0]).screen()


def first_change(card: Card, game: Game) -> Effect | None:
    """The change to try first, of those that can be written down."""
    return Grass(card, game, None, ROOMS[0]).first()


def target_of(card: Card) -> float | None:
    """What is aimed at where it is a number; None where it is only more or less."""
    return None if isinstance(card.goal, str) else card.goal


def missed(card: Card) -> bool:
    """Whether the game as it is surely misses the number that is aimed at."""
    goal = target_of(card)
    return goal is not None and not card.low <= goal <= card.high


class Room(NamedTuple):
    """What there is room for: so many levers, their side effects, what does not help, and what is too close to call."""

    levers: int
    asides: bool
    others: bool
    close: bool


ROOMS = (
    *(Room(levers, True, True, close) for levers in range(MOST_LEVERS, 0, -1) for close in (True, False)),
    Room(1, False, True, False),
    Room(1, False, False, False),
)


class Grass:
    """The words for one card, as far as there is `room` for them."""

    def __init__(self, card: Card, game: Game, given: Given | None, room: Room):
        self.card, self.game, self.given, self.room = card, game, given, room
        self.shots = shots_allowed(game)
        self.free = [one for one in card.effects if not one.refusals]
        self.helping, self.far = self.sorted_out()
        self.shown = self.helping[: room.levers]

    def sorted_out(self) -> tuple[list[Effect], list[Effect]]:
        """Levers that clearly bring it nearer, the first to be pulled first, and those that go too far."""
        moving, target = [one for one in self.free if self.way() and one.moves == self.way()], target_of(self.card)
        if target is None:
            return moving, []
        misses = [abs(present(one.aim.second) - target) for one in moving]
        nearer = [miss < abs(self.card.mean - target) for miss in misses]
        order = sorted((place for place, is_nearer in enumerate(nearer) if is_nearer), key=lambda place: misses[place])
        far = [one for one, is_nearer in zip(moving, nearer, strict=True) if not is_nearer]
        return [moving[place] for place in order], far

    @property
    def on_target(self) -> bool:
        """Whether the game as it is cannot be told from the number that is aimed at."""
        return target_of(self.card) is not None and not missed(self.card)

    def screen(self) -> Screen:
        """The whole screen, as far as there is room for it."""
        return Screen(
            asked=question_line(
                self.game, f"{self.card.bouts} bouts of {time_of(self.game.bouts.seconds)}", self.unit()
            ),
            answer=[self.now(), self.heading()],
            beside=[*(self.line(one) for one in self.shown), *([self.rest()] if self.rest() else [])],
            doing=[*self.triggers(), *self.next_step()],
            cautions=[*self.own(), *self.refused(), *self.card.cautions],
        )

    def unit(self) -> str:
        """What the file counts lengths in, as its levers have it."""
        return next((one.lever.unit for one in self.card.effects if one.lever.kind == "size"), "m")

    # how it is

    def now(self) -> str:
        """What the game gives as it is: counted in a bout first where it can be counted."""
        card = self.card
        about = f"about {whole_or_tenths(self.in_bouts(card.mean, 1))}" if self.counted else ""
        doubt = self.doubt()
        if not self.counted:
            said = holds(card.measure, f"about {self.said(card.mean)}", card.scope, card.clock)
            return f"As it is {said} (give or take {doubt})."
        said = happens(card.measure, about, card.scope, self.shots)
        bout = f"As it is {said} a bout, {spelt_time(self.game.bouts.seconds)} on the watch"
        if card.unit == "1/bout":
            return f"{bout} (give or take {doubt})."
        return f"{bout}: {two(card.mean)} {per(card.unit, card.clock)} (give or take {doubt})."

    @property
    def counted(self) -> bool:
        """Whether it is a count, and how many make a bout is known."""
        card = self.card
        known = card.unit == "1/bout" or (
            card.unit == "1/min" and card.spells is not None and card.spells.minutes is not None
        )
        return is_counted(card.measure) and known

    def in_bouts(self, amount: float, bouts: int) -> float:
        """What a rate comes to in so many bouts."""
        card = self.card
        if card.unit == "1/bout":
            return amount * bouts
        spells = present(card.spells)
        return amount * present(spells.minutes) / spells.bouts * bouts

    def said(self, amount: float) -> str:
        """A figure of the aim."""
        return value(self.card.measure, self.card.unit, amount)

    def doubt(self) -> str:
        """Half the 95 % range of the game as it is, in the unit of the aim."""
        half = (self.card.high - self.card.low) / 2
        return percent(half) if self.card.unit == "share" else two(half)

    # what to change

    def heading(self) -> str:
        """What is wanted, and whether anything brings it: ``For more balls won, change first (a minute with the ball rolling):``"""
        card = self.card
        what, rate = noun(card.measure, card.scope, self.shots), self.rate()
        if isinstance(card.goal, str):
            wish = f"{'more' if card.goal == 'more' else wording(card.measure).less} {what}"
            start, nothing = f"For {wish}, change first{rate}:", f"Nothing here clearly brings {wish}."
        else:
            goal = self.said(card.goal) if card.unit == "share" else f"{card.goal:g}"
            goal += {"1/min": " a minute", "m/min": " a minute", "1/bout": " a bout"}.get(card.unit, "")
            if self.on_target:
                return f"You want {goal}: that's as good as on target, so leave it as it is."
            start = f"You want {goal}, so change first{rate or f' ({what})'}:"
            why = ": what moves it goes too far" if self.far else ""
            nothing = f"Nothing here clearly brings it to the {goal} you want{why}."
        if self.shown:
            return start
        return nothing if self.free else "There's nothing to propose here."

    def rate(self) -> str:
        """What the figures of the levers are counted against, where they are rates."""
        found = per_of_rate(self.card.unit, self.card.clock)
        return f" ({found})" if found else ""

    def line(self, one: Effect) -> str:
        """``one touch for outside: 0.98 -> 2.3; they string 6 passes, not 12``."""
        aside, (before, now) = self.aside(one) if self.room.asides else "", both(one.aim)
        text = f"{lever_in_short(one.lever)}: {self.said(before)} -> {self.said(now)}"
        return f"{text}; {aside}" if aside else text

    def aside(self, one: Effect) -> str:
        """What else it does, the largest of all."""
        rows = [
            (abs(math.log(row.second / row.first)), row)
            for row in one.others
            if row.first and row.second and not (row.measure in SAME_BALL and self.card.measure in SAME_BALL)
        ]
        rows.sort(key=lambda sized: -sized[0])
        said = (beside_it(row, self.card.clock) for _, row in rows)
        return next((text for text in said if text), "")

    def rest(self) -> str:
        """What goes too far, what goes the other way, what does nothing, and what cannot be told."""
        free, parts = self.free, []
        if not self.room.others:
            return ""
        if self.far:
            parts.append(f"Too far: {self.with_figures(self.far)}.")
        way = self.way()
        if other := [one for one in free if way and one.moves == -way]:
            parts.append(f"The other way: {self.with_figures(other)}.")
        still = [one for one in free if not one.moves]
        none = [one.lever for one in still if one.aim.verdict == "no difference that matters"]
        if none:
            names = named_together(none)
            text = f"{listed(names)} {'makes' if len(names) == 1 else 'make'} no difference."
            parts.append(capital(text))
        unknown = [one.lever for one in still if one.lever not in none]
        if unknown and self.room.close:
            parts.append(f"Too close to call: {listed(named_together(unknown))}.")
        return " ".join(parts)

    def way(self) -> int:
        """1 where more of it helps, -1 where less does; 0 where it is as it should be."""
        goal = target_of(self.card)
        if goal is None:
            return 1 if self.card.goal == "more" else -1
        return 0 if self.on_target else 1 if self.card.mean < goal else -1

    def with_figures(self, effects: Sequence[Effect]) -> str:
        """The first few levers with what each comes to, and how many more there are."""
        named = [f"{short_name(one.lever)} ({self.said(present(one.aim.second))})" for one in effects[:MOST_NAMED]]
        more = len(effects) - len(named)
        return ", ".join(named) + (f" and {more} more" if more else "")

    # when

    def triggers(self) -> list[str]:
        """When to do what on the grass, and how often that is luck."""
        card = self.card
        if card.spells is None or not card.triggers:
            return [] if not self.helping else ["No number to watch for: too few bouts have any at all."]
        lines = [self.trigger(one) for one in card.triggers if one.effects]
        return [" ".join([*lines, "One time in ten that's just luck."])] if lines else []

    def trigger(self, one: Trigger) -> str:
        """When to do what: ``If they lose it fewer than 4 times in two bouts, go to one touch.``"""
        return f"If {self.seen(one)}, {self.actions(one)}."

    def seen(self, one: Trigger) -> str:
        """``they lose it fewer than 4 times in two bouts``."""
        card, bouts = self.card, present(self.card.spells).bouts
        stretch = "a bout" if bouts == 1 else f"{spelt(bouts)} bouts"
        if not self.counted:
            less = "fewer" if wording(card.measure).whole else "less"
            amount = f"{less if one.below else 'more'} than {self.said(one.value)}"
            return f"{holds(card.measure, amount, card.scope, card.clock)} over {stretch}"
        total = self.in_bouts(one.value, bouts)
        whole = math.ceil(total) if one.below else math.floor(total)
        if one.below and whole <= 1:
            return f"{stretch} {'goes' if bouts == 1 else 'go'} by with no {noun(card.measure, card.scope, self.shots)}"
        amount = f"{'fewer' if one.below else 'more'} than {whole}"
        return f"{happens(card.measure, amount, card.scope, self.shots)} in {stretch}"

    def actions(self, one: Trigger) -> str:
        """The first lever; what it comes to stands above where it is shown there, or how many players it takes."""
        first = self.card.effects[one.effects[0]]
        lever, above = first.lever, first in self.shown
        return to_do(lever, not above) + (f", with {more_players(lever)}" if lever.people > 0 and not above else "")

    # what next

    def first(self) -> Effect | None:
        """The change to try first, of those that can be written down."""
        return next((one for one in [*self.shown, *self.far] if one.lever.changes), None)

    def next_step(self) -> Iterator[str]:
        """What to ask next, with its command."""
        best = self.first()
        if best is not None:
            yield from try_next("to see the first one whole", self.whole(best.lever), best.lever.changes)
        elif self.free and not any(one.moves for one in self.free) and not self.on_target:
            wanted = self.card.precision
            more = ("--bouts", 2 * self.card.bouts) if wanted is None else ("--budget", 2 * wanted.budget)
            yield from try_next("more bouts, to be surer", self.given and self.given.again(more))
        elif self.on_target:
            yield from try_next("to see the game whole", self.given and self.given.about("estimate"))

    def whole(self, lever: Lever) -> str | None:
        """The command that plays the game with a lever and without it."""
        return self.given and self.given.against(None, lever.changes)

    # what must be said

    def own(self) -> list[str]:
        """Assumptions of the user's own, and a precision that was not reached."""
        wanted, found = self.card.precision, replaced_in_words(self.card.provenance.assumptions)
        lines = [found] if found else []
        if wanted is not None and not wanted.reached:
            how = "it isn't clear how close" if wanted.widest is None else f"within {percent(wanted.widest)} instead"
            lines.append(f"Not as close as you asked ({percent(wanted.share)} of today's figure): {how}.")
        return lines

    def refused(self) -> list[str]:
        """Levers that are not proposed, and because of whom."""
        found = [one for one in self.card.effects if one.refusals]
        if not found:
            return []
        names = spoken_of(self.game)
        who = list(dict.fromkeys(names.get(each.player, each.name) for one in found for each in one.refusals))
        levers = named_together([one.lever for one in found])
        return [f"May be more work for {listed(who)} (reduced load), so not: {listed(levers)}."]


def lever_in_short(lever: Lever) -> str:
    """``one touch for outside``, ``a metre in (10 x 10 m)``, ``a third defender (one more player)``."""
    if lever.kind == "touches" and len(set(lever.after)) == 1 and lever.after[0] is not None:
        limit = lever.after[0]
        return f"{spelt(limit)} {counted('touch', limit)} for {listed(lever.what)}"
    if lever.kind in ("defenders", "floaters") and lever.people > 0:
        return f"{short_name(lever)} ({more_players(lever)})"
    return lever_name(lever)


def beside_it(row: Row, clock: str) -> str:
    """``they string 6 passes, not 12``; `clock` of the figures above it, which need not be said again."""
    before, after = (value(row.measure, row.unit, amount) for amount in both(row))
    if before == after:
        return ""
    alike = row.clock == clock and row.unit in ("1/min", "m/min")
    rate = "a minute" if alike else per_of_rate(row.unit, row.clock)
    return instead_of(row.measure, after, before, row.scope, rate)
