"""A plan: every evening with its bands, its games and what it misses, and every player's line.

Nothing is played here: what games give is handed over as offers, by how many are there (`sim.weeks.table`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from itertools import combinations

from sim.errors import InputError
from sim.planning.heat import Heat, in_force, under
from sim.weeks.amounts import Amounts, Measure
from sim.weeks.bands import PRE_SEASON, TOP_UP, Bands, in_amounts, in_week, lower_of, week_of_pre_season
from sim.weeks.choosing import Evenings, Need, Offer, Taken, choose, closest, total
from sim.weeks.days import Evening, banded, labels_of, week_number
from sim.weeks.hot import in_heat
from sim.weeks.lines import ENDLESS, STARTED_MIN, Line, Season, Squad, keeper_line, line_of, require_matches, spread_of
from sim.weeks.people import Limits, Member
from sim.weeks.reasons import MANY, Missed, missed
from sim.weeks.seats import Turnout, goals_of, may_keep, seats_of
from sim.weeks.week_file import OwnValues, PlanFile

Table = Mapping[int, Sequence[Offer]]
"""What games give, by how many are there."""
FEWEST_FOR_A_GAME = 4
"""Of fewer nobody asks for a game (house default)."""
CLOSE = 0.10
"""A plan that is changed as little as can be may lie so much further off its bands than the best one, each evening, in middles of
bands (house default)."""


@dataclass(frozen=True)
class PlannedEvening:
    """An evening as planned.  `labels` as counted from the matches; `turnout`: who trains; `need` and `taken`, which is less than
    was chosen where a `heat` table takes away."""

    evening: Evening
    labels: tuple[str, ...]
    squad: Squad
    turnout: Turnout
    need: Need
    heat: Heat | None = None

    @property
    def people(self) -> int:
        """How many train, keepers not counted."""
        return self.turnout.people

    @property
    def taken(self) -> tuple[Taken, ...]:
        """The games and their bouts."""
        return self.squad.taken

    @property
    def amounts(self) -> dict[Measure, float]:
        """What it gives somebody who trains all of it."""
        return total(self.need, self.taken)

    @property
    def usual(self) -> tuple[Amounts, Amounts]:
        """Between which amounts eight evenings in ten lie, for a player."""
        return spread_of(self.amounts, self.taken)


@dataclass(frozen=True)
class Planned:
    """The whole plan: evenings, and everybody's line in order of the squad file."""

    file: PlanFile
    evenings: tuple[PlannedEvening, ...]
    lines: tuple[Line, ...]

    def week(self, number: int) -> list[PlannedEvening]:
        """The evenings of a week, from 1."""
        return [one for one in self.evenings if week_number(one.evening.day, self.file.first) == number]

    @property
    def weeks(self) -> int:
        """How many."""
        last = max([*(one.day for one in self.file.evenings), *(one.day for one in self.file.matches)])
        return week_number(last, self.file.first)


def turnouts(file: PlanFile, members: Sequence[Member]) -> list[Turnout]:
    """Who trains on the evenings of which there are enough for a game, each turnout once."""
    every = [turnout_on(file, members, one) for one in file.evenings]
    return list(dict.fromkeys(one for one in every if one.free >= FEWEST_FOR_A_GAME))


def labels_on(file: PlanFile, evening: Evening) -> tuple[str, ...]:
    """The labels of an evening: its own, or as counted; the day after a match whose minutes are said is for a top-up."""
    if evening.label is not None:
        return (evening.label,)
    labels = labels_of(evening.day, [one.day for one in file.matches])
    said = any(match.minutes for match in file.matches if (evening.day - match.day).days == 1)
    return tuple(TOP_UP if label == "MD+1" and said else label for label in labels)


def turnout_on(file: PlanFile, members: Sequence[Member], evening: Evening) -> Turnout:
    """Who trains: as many as the evening says, or all who are there, keep no goal and may be in a game at all; for a top-up those
    who hardly played."""
    asked = [one for one in members if _with_own(file, one).there(evening.day)]
    if TOP_UP in labels_on(file, evening):
        match = next(one for one in file.matches if (evening.day - one.day).days == 1)
        asked = [one for one in asked if match.minutes.get(one.shirt, 0.0) < STARTED_MIN]
    asked = [one for one in asked if evening.day not in one.spent]
    there = [one for one in asked if not one.keeper and not left_out(file, one, evening)]
    named = any(one.keeper for one in members)
    keepers = tuple(one.shirt for one in asked if may_keep(_with_own(file, one))) if named else None
    kept = tuple((one.shirt, one.limits.kept) for one in there if one.limits.kept)
    if evening.players is not None or not members:
        return Turnout(max(0, (evening.players or file.players or 0) - len(kept)), kept, keepers)
    return Turnout(len(there) - len(kept), kept, keepers)


def left_out(file: PlanFile, member: Member, evening: Evening) -> bool:
    """Whether somebody's limits, with the matches of the week, leave no bout for him on an evening: no game is made for him."""
    own = _with_own(file, member).limits
    week = week_number(evening.day, file.first)
    played = sum(one.minutes.get(member.shirt, 0.0) for one in file.matches if week_number(one.day, file.first) == week)
    minutes = [
        *([] if own.minutes is None else [own.minutes]),
        *([] if own.week_minutes is None else [own.week_minutes - played]),
    ]
    return own.bouts == 0 or min(minutes, default=ENDLESS) <= file.warm_up["minutes"]


def require_known(file: PlanFile, members: Sequence[Member]) -> None:
    """Refuse shirts that nobody in the squad has, and adults' thresholds where minors train."""
    shirts, problems = {one.shirt for one in members}, []
    named = [(f"matches of {match.day}.minutes", shirt) for match in file.matches for shirt in match.minutes]
    for where, shirt in [*named, *(("player", shirt) for shirt in file.own_values)]:
        if shirt not in shirts:
            problems.append(f"{where} must name shirts of the squad (got {shirt})")
    if file.minors or any(one.minor for one in members):
        problems += [
            f"{where} must be left out where minors train: no adults' threshold holds for them"
            for where in _fast_in(file)
        ]
    if problems:
        raise InputError(problems)


def _fast_in(file: PlanFile) -> list[str]:
    """Where a file speaks of fast metres, by its keys."""
    return [
        *(["match_values.fast_metres"] if "fast_metres" in file.full_match else []),
        *(f'bands."{label}".fast_metres' for label, own in file.own_bands.items() if "fast_metres" in own),
        *(
            f"player.{shirt}.match_values.fast_metres"
            for shirt, own in file.own_values.items()
            if "fast_metres" in own.full_match
        ),
        *(f"player.{shirt}.most_fast_metres" for shirt, own in file.own_values.items() if own.fast_metres is not None),
        *(["warm_up.fast_metres"] if file.warm_up.get("fast_metres") else []),
    ]


def planned(
    file: PlanFile, members: Sequence[Member], table: Table, before: Mapping[object, Sequence[Taken]] | None = None
) -> Planned:
    """The plan; refused where an evening cannot hold what is asked of it, or a match breaks a limit of a player.

    `before`: what was planned for a day; then as little as possible is changed.
    """
    if file.minors or any(one.minor for one in members):
        file, table = without_fast(file, table)
    refuse_matches(file, members)
    members = [_with_own(file, one) for one in members]
    evenings: list[PlannedEvening] = []
    for week in sorted({week_number(one.day, file.first) for one in file.evenings}):
        own = [one for one in file.evenings if week_number(one.day, file.first) == week]
        evenings += _week(file, members, own, table, before)
    season = Season(tuple(one.squad for one in evenings), file.matches, file.match_bands, file.first, file.pre_season)
    taken = [(one.evening.day, one.turnout, one.taken) for one in evenings]
    seats, goals = seats_of(taken), goals_of(taken)
    lines = tuple(
        keeper_line(one, season, goals.get(one.shirt, {}))
        if one.keeper
        else line_of(one, season, seats.get(one.shirt, {}))
        for one in members
    )
    return Planned(file, tuple(evenings), lines)


def refuse_matches(file: PlanFile, members: Sequence[Member]) -> None:
    """Refuse minutes of matches that break a limit of somebody, with who set it."""
    problems: list[str] = []
    for member in members:
        try:
            require_matches(_with_own(file, member), file.matches, file.first)
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)


def without_fast(file: PlanFile, table: Table) -> tuple[PlanFile, Table]:
    """A plan of minors: nothing in it is read by the fast metres of adults."""
    left = lambda amounts: {name: value for name, value in amounts.items() if name != "fast_metres"}  # noqa: E731
    offers = {
        people: [replace(one, each=left(one.each), spread=left(one.spread)) for one in own]
        for people, own in table.items()
    }
    return replace(file, warm_up=left(file.warm_up)), offers


def _with_own(file: PlanFile, member: Member) -> Member:
    own = file.own_values.get(member.shirt)
    if own is None:
        return member
    return replace(
        member,
        full_match={**member.full_match, **own.full_match},
        joins=own.joins or member.joins,
        weeks_before=own.weeks_before or member.weeks_before,
        limits=_with_limits(member.limits, own),
    )


def _with_limits(limits: Limits, own: OwnValues) -> Limits:
    """Limits of both files: where both set one, the tighter."""
    by = " and ".join(dict.fromkeys(one for one in (limits.by, own.set_by) if one))
    return replace(
        limits,
        by=by,
        week_minutes=_tighter(limits.week_minutes, own.week_minutes),
        fast_metres=_tighter(limits.fast_metres, own.fast_metres),
    )


def _tighter(one: float | None, other: float | None) -> float | None:
    return min((limit for limit in (one, other) if limit is not None), default=None)


def _week(
    file: PlanFile,
    members: Sequence[Member],
    evenings: Sequence[Evening],
    table: Table,
    before: Mapping[object, Sequence[Taken]] | None,
) -> list[PlannedEvening]:
    there = [turnout_on(file, members, one) for one in evenings]
    shares = [shares_of(file, one) for one in evenings]
    needs = [
        _need(file, one, own, offers_for(turnout, table), turnout)
        for one, own, turnout in zip(evenings, shares, there, strict=True)
    ]
    playable = [i for i, need in enumerate(needs) if need.offers]
    asked = [needs[i] for i in playable]
    old = None if before is None else tuple(tuple(before.get(evenings[i].day, ())) for i in playable)
    chosen = _chosen(file, asked, old)
    if chosen is None:
        raise InputError(_cannot(file, [(evenings[i], needs[i]) for i in playable]))
    taken = dict(zip(playable, chosen, strict=True))
    found = []
    for i, evening in enumerate(evenings):
        week = week_number(evening.day, file.first)
        volume = week_of_pre_season(week).volume.high if file.pre_season else 1.0
        labels, heat = labels_on(file, evening), heat_on(file, evening)
        games = taken.get(i, ())
        if heat is not None and heat.rule is not None:
            games = in_heat(games, heat.rule, needs[i].minutes)
        squad = Squad(evening.day, labels, shares[i], games, file.warm_up, volume, evening.minutes, in_force(heat))
        found.append(PlannedEvening(evening, labels, squad, there[i], needs[i], heat))
    return found


def offers_for(turnout: Turnout, table: Table) -> list[Offer]:
    """The games for who is there: set up for everybody in them and nobody else, with keepers for all their goals."""
    counts = range(turnout.free, turnout.people + 1) if turnout.free >= FEWEST_FOR_A_GAME else ()
    every = [offer for people in counts for offer in table.get(people, ())]
    return [
        offer
        for offer in every
        if turnout.fits(offer.people, offer.places) and (turnout.keepers is None or offer.goals <= len(turnout.keepers))
    ]


def heat_on(file: PlanFile, evening: Evening) -> Heat | None:
    """The reading of an evening and its rule in the file's heat table; None where there is no reading or no table."""
    if evening.wbgt is None or not file.heat_rules:
        return None
    return under(file.heat_rules, evening.wbgt, file.heat_table)


def _chosen(file: PlanFile, needs: Sequence[Need], before: Evenings | None) -> Evenings | None:
    """The games of a week: on as many evenings as can be one that has places for those who must not do all of it, the first ones
    first; None where nothing holds."""
    if not needs:
        return ()
    holding = [i for i, need in enumerate(needs) if need.holding]
    for count in range(len(holding), -1, -1):
        for held in combinations(holding, count):
            own = [need if i in held else replace(need, holding=()) for i, need in enumerate(needs)]
            if before is None:
                found = choose(own, file.times_a_week)
            else:
                found = closest(own, file.times_a_week, before, CLOSE * len(own))
            if found is not None:
                return found
    return None


def shares_of(file: PlanFile, evening: Evening) -> Bands:
    """What an evening should be, in minutes and shares of a full match: of two labels the lighter, in its week of a pre-season."""
    bands = lower_of([file.bands_of(label) for label in banded(labels_on(file, evening), file.own_bands)])
    if not file.pre_season:
        return bands
    return in_week(bands, week_of_pre_season(min(week_number(evening.day, file.first), len(PRE_SEASON))))


def _need(file: PlanFile, evening: Evening, shares: Bands, offers: Sequence[Offer], turnout: Turnout) -> Need:
    most = max((one.people for one in offers), default=0)
    return Need(
        minutes=evening.minutes - file.warm_up["minutes"],
        bands=in_amounts(shares, file.match_bands),
        offers=offers,
        start=file.warm_up,
        themes=evening.themes,
        holding=[one for one in offers if one.people == most] if most > turnout.free else (),
        most=file.most_blocks,
    )


def _cannot(file: PlanFile, evenings: Sequence[tuple[Evening, Need]]) -> list[str]:
    """Why a week cannot be planned."""
    problems = []
    for evening, need in evenings:
        where = f"evenings of {evening.day}"
        if choose([need], MANY) is not None:
            continue
        missing = [one for one in need.themes if not any(offer.purpose == one for offer in need.offers)]
        shortest = min(one.around_min + one.least * one.bout_min for one in need.offers)
        if missing:
            problems.append(f"{where}.themes must be such that a game here fits them (got {', '.join(missing)})")
        elif shortest > need.minutes:
            whole = file.warm_up["minutes"] + shortest
            problems.append(
                f"{where}.minutes must be at least {whole:.0f}, a warm-up and the shortest game (got {evening.minutes:g})"
            )
        else:
            asked = f"{len(need.themes)} themes in {evening.minutes:g} min"
            problems.append(f"{where} must have time for a game of every theme (got {asked})")
    few = f"times_a_week must be more for so many evenings of so few games (got {file.times_a_week})"
    return problems or [few]


def misses_of(plan: Planned) -> dict[date, tuple[Missed, ...]]:
    """By day: the bands that an evening with games misses, with what stands in the way of each."""
    found: dict[date, tuple[Missed, ...]] = {}
    for number in range(1, plan.weeks + 1):
        own = [one for one in plan.week(number) if one.taken]
        missing = missed([one.need for one in own], tuple(one.taken for one in own), plan.file.times_a_week)
        for one, misses in zip(own, missing, strict=True):
            hot = in_force(one.heat)
            found[one.evening.day] = tuple(
                replace(miss, binding=("heat",)) if hot and miss.off < 0 else miss for miss in misses
            )
    return found
