"""What a plan is for one player: his evenings within what he may do, his matches, his weeks, his largest jump.

Limits are kept to by doing less, never by a warning; what was fixed beforehand and breaks one (the minutes of a match) is refused.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from sim.errors import InputError, any_of
from sim.weeks.amounts import FULL_MATCH_MIN, LOADS, Amounts, Measure, added, times
from sim.weeks.bands import PRE_SEASON, TOP_UP, Band, Bands, in_amounts
from sim.weeks.choosing import Taken
from sim.weeks.days import Match, week_number
from sim.weeks.people import NO_LIMITS, Limits, Member

STARTED_MIN = 60.0
"""Whoever plays at least so long has played the match: he recovers the day after, the others are topped up (house default)."""
USUAL_SPREAD = 1.28
"""Standard deviations either side within which eight evenings in ten lie (a normal distribution)."""
WEEKS_LOOKED_BACK = 8
ENDLESS = 1e9
NO_SEATS: Mapping[date, tuple[bool, ...]] = {}
CATCHING_UP = 3
"""So many weeks of his own somebody who comes late has before he trains like the others, those of a pre-season (house default)."""

Why = Literal["trains", "match", "away", "recovers", "limited", "catching up", "not asked", "in goal", "keepers' coach"]
"""Why a day is as it is.  "not asked": the evening is for those who hardly played, or no game is chosen; a keeper is in goal in
some game of the evening, or with his own coach in all of it."""


@dataclass(frozen=True)
class Squad:
    """An evening as it is planned for the squad: its label, its bands in amounts by full match, what is taken.

    `volume`: the share of a usual week that the squad does in this one; `minutes` that the evening has; `hot`: whether a heat
    table takes away.
    """

    day: date
    labels: tuple[str, ...]
    shares: Bands
    taken: tuple[Taken, ...]
    warm_up: Amounts
    volume: float = 1.0
    minutes: float = ENDLESS
    hot: bool = False

    @property
    def for_top_up(self) -> bool:
        """Whether it is for those who hardly played."""
        return TOP_UP in self.labels


@dataclass(frozen=True)
class Season:
    """What is planned for everybody: evenings, matches, a full match as far as it is known, the first day."""

    evenings: tuple[Squad, ...]
    matches: tuple[Match, ...]
    full_match: Bands
    first: date
    pre_season: bool = False


@dataclass(frozen=True)
class Day:
    """A day of a player.  `bouts` of each game, in its order; `low` and `high`: eight evenings in ten lie between; `by`: who set
    the limit that was kept to; `band`: what the day should amount to for him; `free_min`: minutes of the evening in which he does
    nothing yet (0 in heat: nothing is added)."""

    day: date
    why: Why
    amounts: Amounts
    bouts: tuple[int, ...] = ()
    low: Amounts | None = None
    high: Amounts | None = None
    by: str = ""
    band: Bands | None = None
    free_min: float = 0.0


@dataclass(frozen=True)
class Jump:
    """The largest rise from one week to the next, in metres: `week` (from 1) and from how much to how much.

    `before`: the largest of the `known` weeks before it, at most eight (None: fewer than two were known).
    """

    week: int
    start: float
    end: float
    before: float | None
    known: int

    @property
    def larger_than_any(self) -> bool:
        """Whether he has had none as large in the weeks that are known."""
        return self.before is not None and self.end - self.start > self.before


@dataclass(frozen=True)
class Line:
    """A player's plan: a `Day` for every evening and match, in their order; what each week (from 1) amounts to."""

    member: Member
    days: tuple[Day, ...]
    weeks: Mapping[int, Amounts]
    jump: Jump | None


def line_of(member: Member, season: Season, seats: Mapping[date, tuple[bool, ...]] = NO_SEATS) -> Line:
    """The plan of one player; refused where his matches break a limit of his.

    `seats`: by day, in which of the games there is a place for him, if he must not do all of it (`sim.weeks.seats`).
    """
    require_matches(member, season.matches, season.first)
    own = own_match(member, season.full_match)
    left = minutes_left(member, season)
    days: list[Day] = [_match_day(member, match, own) for match in season.matches]
    for evening in season.evenings:
        week = week_number(evening.day, season.first)
        one = _evening(member, evening, season, left.get(week), seats.get(evening.day, ()))
        if week in left:
            left[week] -= one.amounts.get("minutes", 0.0)
        days.append(one)
    days.sort(key=lambda one: one.day)
    weeks = weeks_of(days, season.first)
    return Line(member, tuple(days), weeks, largest_jump(weeks, member.weeks_before))


def keeper_line(member: Member, season: Season, goals: Mapping[date, tuple[int, ...]]) -> Line:
    """The plan of a keeper: minutes, and the bouts in which he is in goal (`goals`, by day); his metres are not known."""
    require_matches(member, season.matches, season.first)
    left = minutes_left(member, season)
    days = [_match_day(member, match, {}) for match in season.matches]
    for evening in season.evenings:
        one = _keepers_evening(member, evening, season, left.get(week_number(evening.day, season.first)), goals)
        week = week_number(evening.day, season.first)
        if week in left:
            left[week] -= one.amounts.get("minutes", 0.0)
        days.append(one)
    days.sort(key=lambda one: one.day)
    return Line(member, tuple(days), weeks_of(days, season.first), None)


def weeks_of(days: Sequence[Day], first: date) -> dict[int, Amounts]:
    """What each week comes to, by its number."""
    numbers = sorted({week_number(one.day, first) for one in days})
    return {number: added(one.amounts for one in days if week_number(one.day, first) == number) for number in numbers}


def _keepers_evening(
    member: Member, evening: Squad, season: Season, left: float | None, goals: Mapping[date, tuple[int, ...]]
) -> Day:
    if not member.there(evening.day):
        return Day(evening.day, "away", {})
    if evening.for_top_up and _played_the_day_before(member, season.matches, evening.day):
        return Day(evening.day, "recovers", {})
    whole = evening.warm_up["minutes"] + sum(one.minutes for one in evening.taken)
    most = [one for one in (whole, member.limits.minutes, left) if one is not None]
    bouts = goals.get(evening.day, ())
    why: Why = "in goal" if any(bouts) else "keepers' coach"
    return Day(evening.day, why, {"minutes": max(0.0, min(most))}, bouts)


def own_match(member: Member, full_match: Bands) -> Bands:
    """A full match of his: his own values where they are known, everybody's else; nothing of adults for a minor."""
    own = {name: Band(value, value) for name, value in member.full_match.items()}
    return own if member.minor else {**full_match, **own}


def require_matches(member: Member, matches: Sequence[Match], first: date) -> None:
    """Refuse match minutes that break a limit of his, with who set it."""
    limits, problems = member.limits, []
    weeks: dict[int, float] = {}
    for match in matches:
        minutes = match.minutes.get(member.shirt, 0.0)
        week = week_number(match.day, first)
        weeks[week] = weeks.get(week, 0.0) + minutes
        if minutes and not member.can_play(match.day):
            problems.append(
                f"{match.name} of {match.day} must be without {member.name}, who is away (got {minutes:g} min)"
            )
        if limits.minutes is not None and minutes > limits.minutes:
            problems.append(_too_much(member, f"{match.name} of {match.day}", limits.minutes, minutes))
        if minutes and limits.kept:
            problems.append(
                f"{match.name} of {match.day} must be without {member.name}, for whom {any_of(sorted(limits.kept), 'and')} holds: "
                f"set by {limits.by} (got {minutes:g} min)"
            )
    if limits.week_minutes is not None:
        problems += [
            _too_much(member, f"the matches of week {week}", limits.week_minutes, minutes)
            for week, minutes in weeks.items()
            if minutes > limits.week_minutes
        ]
    if problems:
        raise InputError(problems)


def _too_much(member: Member, what: str, most: float, got: float) -> str:
    return f"{what} must be at most {most:g} min for {member.name}: set by {member.limits.by} (got {got:g} min)"


def minutes_left(member: Member, season: Season) -> dict[int, float]:
    """Minutes that are left of every week where weeks are limited; matches come first."""
    most = member.limits.week_minutes
    if most is None:
        return {}
    left = {week_number(one.day, season.first): most for one in season.evenings}
    for match in season.matches:
        week = week_number(match.day, season.first)
        left[week] = left.get(week, most) - match.minutes.get(member.shirt, 0.0)
    return left


def _played_the_day_before(member: Member, matches: Sequence[Match], day: date) -> bool:
    """Whether he played the match of the day before; where nobody's minutes are said, everybody is taken to have played."""
    before = [match for match in matches if (day - match.day).days == 1]
    return any(not match.minutes or match.minutes.get(member.shirt, 0.0) >= STARTED_MIN for match in before)


def _share(member: Member, evening: Squad, pre_season: bool) -> float:
    """Of the bouts of an evening that a late joiner plays: his own week of a pre-season beside the squad's."""
    if member.joins is None or member.joins > evening.day:
        return 1.0
    own = week_number(evening.day, member.joins)
    if own > CATCHING_UP:
        return 1.0
    squad = evening.volume if pre_season else 1.0
    return min(1.0, PRE_SEASON[own - 1].volume.high / squad)


def _match_day(member: Member, match: Match, own: Bands) -> Day:
    minutes = match.minutes.get(member.shirt, 0.0)
    if not member.can_play(match.day):
        return Day(match.day, "away", {})
    if not match.minutes:
        return Day(match.day, "match", {})
    share = minutes / FULL_MATCH_MIN
    amounts: dict[Measure, float] = {"minutes": minutes}
    amounts.update({name: share * own[name].middle for name in LOADS if name in own})
    return Day(match.day, "match", amounts)


def _evening(member: Member, evening: Squad, season: Season, left: float | None, seats: Sequence[bool]) -> Day:
    if not member.there(evening.day):
        return Day(evening.day, "away", {})
    if evening.for_top_up and _played_the_day_before(member, season.matches, evening.day):
        return Day(evening.day, "recovers", {})
    band = in_amounts(evening.shares, own_match(member, season.full_match))
    limits = member.limits
    if left is not None:
        most = left if limits.minutes is None else min(left, limits.minutes)
        limits = replace(limits, minutes=max(0.0, most))
    if evening.day in member.spent:
        limits = replace(limits, bouts=0)
    share = _share(member, evening, season.pre_season)
    if not evening.taken:
        return Day(evening.day, "not asked", {}, band=band)
    bouts = within(limits, evening.warm_up, evening.taken, share, seats)
    whole, free = (within(NO_LIMITS, evening.warm_up, evening.taken, one) for one in (1.0, share))
    day = _amounts(evening, bouts, limits)
    why: Why = "trains" if bouts == whole else "catching up" if bouts == free else "limited"
    spare = 0.0 if evening.hot else max(0.0, evening.minutes - day.amounts["minutes"])
    return replace(day, why=why, by=limits.by if why == "limited" else "", band=band, free_min=spare)


def within(
    limits: Limits, warm_up: Amounts, taken: Sequence[Taken], share: float = 1.0, seats: Sequence[bool] = ()
) -> tuple[int, ...]:
    """Bouts of each game that a player may have: at most his share of them, and nothing beyond a limit.

    Fast metres are kept to with what one bout in ten may bring on top.  Who must not do all of a game is in it only where he has
    one of the `seats`.
    """
    minutes = ENDLESS if limits.minutes is None else limits.minutes - warm_up.get("minutes", 0.0)
    left = ENDLESS if limits.bouts is None else float(limits.bouts)
    fast = ENDLESS if limits.fast_metres is None else limits.fast_metres - warm_up.get("fast_metres", 0.0)
    found = []
    for i, one in enumerate(taken):
        offer = one.offer
        placed = not limits.kept or (i < len(seats) and seats[i])
        usual = offer.each.get("fast_metres", 0.0) + USUAL_SPREAD * offer.spread.get("fast_metres", 0.0)
        most = min(
            max(1, int(share * one.bouts)) if one.bouts else 0,
            int(left),
            int(max(0.0, minutes - offer.around_min) / offer.bout_min),
            int(max(0.0, fast) / usual) if usual > 0 else one.bouts,
            one.bouts if placed else 0,
        )
        found.append(most)
        left -= most
        minutes -= (offer.around_min + most * offer.bout_min) if most else 0.0
        fast -= usual * most
    return tuple(found)


def _amounts(evening: Squad, bouts: Sequence[int], limits: Limits) -> Day:
    parts = [Taken(one.offer, count) for one, count in zip(evening.taken, bouts, strict=True) if count]
    warm_up = evening.warm_up
    most = limits.minutes
    if most is not None and most < warm_up["minutes"]:
        warm_up = times(warm_up, most / warm_up["minutes"])
    amounts = added([warm_up, *(one.amounts for one in parts)])
    low, high = spread_of(amounts, parts)
    return Day(evening.day, "trains", amounts, tuple(bouts), low, high)


def spread_of(amounts: Amounts, parts: Sequence[Taken]) -> tuple[Amounts, Amounts]:
    """Between which amounts eight evenings in ten lie; minutes are as planned.

    It is the same player on the same day in all games: who runs much does so in each of them, and what games differ by adds up.
    """
    low, high = dict(amounts), dict(amounts)
    for measure in LOADS:
        if measure in amounts:
            wide = USUAL_SPREAD * sum(one.bouts * one.offer.spread.get(measure, 0.0) for one in parts)
            low[measure], high[measure] = max(0.0, amounts[measure] - wide), amounts[measure] + wide
    return low, high


def largest_jump(weeks: Mapping[int, Amounts], before: Sequence[float]) -> Jump | None:
    """The largest rise of metres from one week to the next; None where none rises or metres are not known."""
    known = [*before, *(one.get("metres", 0.0) for one in weeks.values())]
    rises = [(known[k] - known[k - 1], k) for k in range(max(1, len(before)), len(known))]
    if not rises or max(rises)[0] <= 0:
        return None
    rise, k = max(rises)
    earlier = known[max(0, k - WEEKS_LOOKED_BACK) : k]
    steps = [later - sooner for sooner, later in zip(earlier, earlier[1:], strict=False)]
    return Jump(k - len(before) + 1, known[k - 1], known[k], max(steps) if steps else None, len(earlier))
