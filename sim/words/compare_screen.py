"""The small screen of a comparison: what the coach cares about with and without, how sure that is, what else changes."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence

from sim.experiments.compare import AS_IT_IS, CHANGED
from sim.experiments.comparison import Compared, Comparison, Row
from sim.experiments.key_measures import LOST, OF_ROLES
from sim.experiments.leading import lead_of
from sim.experiments.reduced import is_refused
from sim.game.model import Game
from sim.words.assumptions import own_assumptions
from sim.words.changes import phrase
from sim.words.clocks import WATCH
from sim.words.commands import Given, try_next
from sim.words.compare_details import (
    HOURS,
    VERDICTS,
    bouts_to_know,
    columns,
    more_of,
    other_of,
    own_changes,
    row_of_losses,
    whole_minutes,
)
from sim.words.differences import clear, what_else
from sim.words.figures import metres, rounded, two
from sim.words.leading import (
    DEAD,
    FULLY,
    both_said,
    by_the_bout,
    ends_of,
    figures,
    headline,
    how_much,
    one_evening,
)
from sim.words.listing import capital
from sim.words.measure_names import BY_WATCH, TURNOVERS
from sim.words.measure_phrases import noun
from sim.words.playing import shots_allowed
from sim.words.screen import WIDTH, Screen, fit_screen
from sim.words.series_compared import TIRING, TOO_CLOSE, bouts_alone_differ, take
from sim.words.series_compared import side_by_side as side_by_side_series
from sim.words.setting_up import question_line, spelt_time, time_of
from sim.words.tables import table

SHORTLY = VERDICTS | {"no difference that matters": "too close to call"}
NOT_TOLD = "can't be told"
SAME_LOSS = (LOST, TURNOVERS, BY_WATCH)
BESIDE = {
    DEAD: "Ball rolling, % of the bout",
    OF_ROLES: "Metres/min {role}",
    "touches_per_min": "Touches each, a minute rolling",
    "pass_run_median": "Passes in a run",
}
"""What stands beside the answer of several, in this order, and how it is called there."""
MORE_BOUTS = 4  # times as many halve the doubt
MINUTES = 60
UNKNOWN = "-"


def compared_on_a_screen(found: Compared, games: Sequence[Game], given: Given | None = None, unit: str = "m") -> str:
    """`games`: the first, then that of every comparison; `given`: how the user asked; `unit`: what the file counts lengths in."""
    whole = whole_of_compared(found, games, given, unit)
    return fit_screen(
        whole.asked, whole.answer, whole.beside, whole.doing, whole.cautions, flowing=len(found.comparisons) == 1
    )


def whole_of_compared(found: Compared, games: Sequence[Game], given: Given | None = None, unit: str = "m") -> Screen:
    """All there is to say in a few sentences, whether or not it fits on a screen."""
    first, every = games[0], found.comparisons
    base = every[0]
    how_many = f"{base.bouts} bouts of {time_of(first.bouts.seconds)} of each"
    own = dict.fromkeys(line for one in every for line in one.cautions[:-1])
    foot = [*own, *own_assumptions(base.provenance.assumptions, base.provenance.own_data), base.cautions[-1]]
    key = leads_with(found, first)
    if len(every) == 1:
        answer, beside, doing = of_one(base, key, games, given, unit, found.asked)
    else:
        answer, beside, doing = of_several(every, key, games, given, unit)
    return Screen(question_line(first, how_many, unit), answer, beside, doing, foot)


def leads_with(found: Compared, first: Game) -> tuple[str, str]:
    """(measure, scope) that the answer leads with."""
    changes = [one for each in found.comparisons for one in own_changes(each.second, each.first)]
    return lead_of([one.rows for one in found.comparisons], changes, first, found.asked)


def of_one(
    found: Comparison,
    key: tuple[str, str],
    games: Sequence[Game],
    given: Given | None,
    unit: str,
    asked: tuple[str, str] | None,
) -> tuple[list[str], list[str], list[str]]:
    """(answer, beside, doing) of one comparison."""
    changed, another = what(found, games[1], given, unit), other_of(found, given) is not None
    row, lengths = found.row(*key), (games[0].bouts.seconds, games[1].bouts.seconds)
    both = figures(row, lengths)
    alike = all(one.difference in (0, None) for one in found.rows)
    if both is None:
        of_what = "how often they lose it" if about_losses(row) else noun(*key, shots_allowed(games[0]))
        answer = [f"{capital(changed)}: {of_what} {NOT_TOLD}."]
    else:
        answer = [headline(row, both, changed, lengths, shots_allowed(games[0]), another)]
        answer += [] if alike else one_evening(row, both, another, lengths[0] != lengths[1])
    if asked is None and not another and bouts_alone_differ(games[0], games[1]):
        return of_series(found, games[0], answer[:1], given)
    losses = [] if about_losses(row) or alike else losses_beside(found, lengths)
    sensible = [] if is_refused(found.cautions) else next_step(found, row, given)
    count = how_long_to_count(found) if about_losses(row) else []
    return [*answer, *how_much(row, alike)], [*what_else(found.rows, key), *losses], [*count, *sensible]


def of_series(
    found: Comparison, game: Game, beside: Sequence[str], given: Given | None
) -> tuple[list[str], list[str], list[str]]:
    """The same where their bouts alone differ: which to take and why, with what it is read off beside it."""
    advice = take(found.series, game)
    if is_refused(found.cautions):
        doing = []
    elif advice.startswith(TOO_CLOSE):
        more = MORE_BOUTS * found.bouts
        doing = try_next("to be surer", given and given.again(("--bouts", more)), [f"{more} bouts"])
    else:
        tweak = own_changes(found.second, found.first)
        doing = try_next("to see it whole", given and given.about("estimate", changes=tweak), found.second.changes)
    return [advice, TIRING], [*side_by_side_series(found.series, game), *beside], doing


def about_losses(row: Row) -> bool:
    """Whether it is how often they lose it."""
    return row.scope == "game" and row.measure in SAME_LOSS


def losses_beside(found: Comparison, lengths: tuple[float, float]) -> list[str]:
    """How often they lose it, in one line, where that does not lead."""
    row = row_of_losses(found)
    both = figures(row, lengths)
    if both is None or lengths[0] != lengths[1]:
        return []
    before, after = both_said(row, both)
    if row.verdict == "no difference that matters" or before == after:
        return [f"They lose it about as often: {after} times a bout {WATCH}."]
    sure = "" if row.verdict.startswith("clear") else f"; {FULLY[row.verdict]}"
    return [f"They lose it about {after} times a bout {WATCH}, not {before}{sure}."]


def called(found: Comparison, game: Game, given: Given | None, unit: str) -> str:
    """A variant by its name; by its changes where it has none, another game by its title."""
    own = phrase(own_changes(found.second, found.first), game, unit)
    if other_of(found, given) is not None:
        alike = found.first.title == found.second.title
        return found.second.name if alike else found.second.title
    return (own or "nothing changed") if found.second.name == CHANGED else found.second.name


def what(found: Comparison, game: Game, given: Given | None, unit: str) -> str:
    """The same with its changes behind its name; these alone where they say the name too."""
    name, own = called(found, game, given, unit), phrase(own_changes(found.second, found.first), game, unit)
    if own.lower().startswith(name.lower()):
        return own or name
    return f"{name} ({own})" if own else name


def how_long_to_count(found: Comparison) -> list[str]:
    """How long to count, by the watch; nothing of what may be luck and would take days."""
    count, row, rolling = found.counting, row_of_losses(found), found.row("in_play_share")
    shares = [share for share in (rolling.first, rolling.second) if share]
    if count is None or count.minutes is None or count.poisson is None or not shares:
        return ["There is no difference to count."]
    most, real = max(count.minutes, count.poisson) / min(shares), row.verdict.startswith("clear")
    if most > HOURS:
        hours = f"about {whole_minutes(most / MINUTES)} hours of each {WATCH}"
        return [f"You would not see it on the grass: it takes {hours}."] if real else []
    how_long = f"about {whole_minutes(most)} minutes of each {WATCH}"
    if real:
        return [f"Count losses for {how_long} and you should see it."]
    return [f"If it is real, count losses for {how_long} to see it."]


def next_step(found: Comparison, row: Row, given: Given | None) -> list[str]:
    """One thing to try: more bouts where it could still be luck, else the second one whole."""
    tweak = own_changes(found.second, found.first)
    if row.verdict in ("cannot tell", "clear, size open") and row.worthwhile:
        bouts = bouts_to_know(found, row)
        if bouts is None:
            return ["Try a larger change: of this one no sensible number of bouts would tell more."]
        return try_next("to be surer", more_of(found, given, bouts), [f"{bouts} bouts"])
    other = other_of(found, given)
    cares = ("--measure", given.asked("--measure")) if given else ("--measure", None)
    return try_next(
        "to see it whole", given and given.about("estimate", cares, game=other, changes=tweak), found.second.changes
    )


def of_several(
    every: Sequence[Comparison], key: tuple[str, str], games: Sequence[Game], given: Given | None, unit: str
) -> tuple[list[str], list[str], list[str]]:
    """(answer, beside, doing) of several: a line each, in the order they were given."""
    names = [called(one, game, given, unit) for one, game in zip(every, games[1:], strict=True)]
    head, *rows = of_several_rows(every, key, games, names)
    answer = [f"{head[0]}:", *table(("", *head[1:]), rows, WIDTH, (0, len(head) - 1)).splitlines()]
    big = [i for i, one in enumerate(every) if one.row(*key).verdict.startswith("clear")]
    beside = side_by_side(every, names, key)
    open_to = [i for i in big if not is_refused(every[i].cautions)]
    if open_to:
        one = every[open_to[0]]
        other, tweak = other_of(one, given), own_changes(one.second, one.first)
        whole = given and given.about("estimate", game=other, changes=tweak)
        return answer, beside, try_next(f"to see {names[open_to[0]]} whole", whole, one.second.changes)
    if all(is_refused(one.cautions) for one in every):
        return answer, beside, []
    more = MORE_BOUTS * every[0].bouts
    return answer, beside, try_next("to be surer", given and given.again(("--bouts", more)), [f"{more} bouts"])


def side_by_side(every: Sequence[Comparison], names: Sequence[str], lead: tuple[str, str]) -> list[str]:
    """What else clearly changes with any of several, a line a measure: as it is, then each of them."""
    shared = [(row.measure, row.scope) for row in every[0].rows]
    keys = [key for key in shared if key[0] in BESIDE and key != lead]
    keys.sort(key=lambda key: [*BESIDE].index(key[0]))
    told: dict[str, list[tuple[str, list[str]]]] = {}
    for key in keys:
        rows = [{(row.measure, row.scope): row for row in one.rows}.get(key) for one in every]
        if not any(row is not None and clear(row) for row in rows):
            continue
        by = 100 if any(row is not None and row.unit == "share" for row in rows) else 1
        first = next(row.first for row in rows if row is not None and row.first is not None)
        second = [None if row is None else row.second for row in rows]
        figures_ = [rounded(by * first), *(UNKNOWN if one is None else rounded(by * one) for one in second)]
        told.setdefault(key[0], []).append((key[1].partition(":")[2], figures_))
    return [beside_line(BESIDE[measure], own, [AS_IT_IS, *names]) for measure, own in told.items()]


def beside_line(name: str, own: Sequence[tuple[str, Sequence[str]]], names: Sequence[str]) -> str:
    """``Metres/min outside/inside: as it is 38/90, 3 defenders 44/80.``: of one measure, all its roles in one line."""
    roles = "/".join(role for role, _ in own)
    every = zip(names, *(those for _, those in own), strict=True)
    told = [f"{one} {'/'.join(those)}" for one, *those in every if set(those) != {UNKNOWN}]
    return f"{name.format(role=roles)}: {', '.join(told)}."


def of_several_rows(
    every: Sequence[Comparison], key: tuple[str, str], games: Sequence[Game], names: Sequence[str]
) -> list[list[str]]:
    """A head that begins with what it is, then the game as it is and a row a variant: its mean as a coach counts it, the range of
    one evening, the difference with our doubt, and how sure it is."""
    lengths = {game.bouts.seconds for game in games}
    own = [
        figures(one.row(*key), (games[0].bouts.seconds, game.bouts.seconds))
        for one, game in zip(every, games[1:], strict=True)
    ]
    row = every[0].row(*key)
    short = short_figure(row)
    base = next((both[0] for both in own if both is not None), None)
    as_it_is = [
        columns(every[0])[0],
        *([NOT_TOLD, ""] if base is None else [short(base.mean), ends_of(row, base)]),
        "",
        "",
    ]
    rows = [
        [
            name,
            *([NOT_TOLD, ""] if both is None else [short(both[1].mean), ends_of(row, both[1])]),
            *gap_told(one.row(*key)),
        ]
        for one, name, both in zip(every, names, own, strict=True)
    ]
    amount = "a bout" if by_the_bout(row) else "%" if row.unit == "share" else ""
    apart = "a minute rolling" if row.first_evening.watch is not None else "difference"
    head = [measured(row, lengths), amount, "usually", apart, ""]
    return [head, as_it_is, *rows]


def measured(row: Row, lengths: Collection[float]) -> str:
    """What the table is of: ``Losses a bout, two minutes on the watch``."""
    name = "Time the ball is dead" if row.measure == DEAD else capital(noun(row.measure, row.scope))
    if not by_the_bout(row):
        per = " a minute" if row.unit == "m/min" else ""
        return f"{name}{per}; usually: 8 evenings in 10"
    bout = (
        f"a bout, {spelt_time(next(iter(lengths)))} {WATCH}"
        if len(lengths) == 1
        else f"a bout {WATCH}, as long as each has it"
    )
    return f"{name} {bout}; usually: 8 evenings in 10"


def short_figure(row: Row) -> Callable[[float], str]:
    """How a mean is said in the table."""
    return rounded if row.unit == "share" else metres if row.unit == "m/min" else two


def gap_told(row: Row) -> list[str]:
    """The difference with our doubt, and how sure it is."""
    told = how_much(row, False)
    if len(told) < 2:
        return ["", "plays the same" if told else ""]
    difference = told[0].partition(": ")[2].removesuffix(".").replace("give or take", "+-")
    return [difference, SHORTLY[row.verdict]]
