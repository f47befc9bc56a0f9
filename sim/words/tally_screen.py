"""The small screen of a tally: usual, unusual or cannot tell, with the range, what would make it usual, and what to do next."""

from __future__ import annotations

from collections.abc import Sequence

from sim.game.model import Game
from sim.own_counts.answer import Answer, EveningJudged
from sim.own_counts.explanations import PASSING, PRESSING, Explained
from sim.own_counts.tally import LONGEST
from sim.own_counts.verdict import MOST_MINUTES_MORE, UNUSUAL, Judged, Verdict, sessions_that_tell
from sim.words.assumptions import own_assumptions
from sim.words.commands import Given, try_next
from sim.words.figures import count, two
from sim.words.listing import capital, listed
from sim.words.losses import SHORT, SHORT_NO_SHOT, USUALLY
from sim.words.own_counts import VERDICTS, day, expected, more_minutes, some_of, taken
from sim.words.screen import fit_screen, folded
from sim.words.setting_up import question_line
from sim.words.tables import table

WHY = {
    "losses": "losses", "wins": "wins", "outs": "balls_out", "passes": "passes", LONGEST: "run",
    "reached": "threshold_reached", "goals": "goals",
}  # fmt: skip
"""What each count is called where `why` asks for it."""
TRYABLE = 3.6  # km/h in a metre a second
NOTHING_LEFT = "Every bout was changed on the grass: another game, so this forecast says nothing of it."
WHOLE_BOUTS = "Nothing could be judged: a longest run is held against whole bouts on the watch."


def tally_in_words(
    found: Answer,
    game: Game,
    given: Given | None = None,
    details: bool = False,
    width: int | None = None,
    unit: str = "m",
) -> str:
    """What `overload tally` prints."""
    last = found.evenings[-1]
    head = question_line(game, f"counted {day(last.day)}", unit)
    lead = found.leading
    own = own_assumptions((), found.own_data)
    cautions = [line for line in (left_out(last), *own, means(game, lead), *found.cautions) if line]
    if lead is None:
        nothing = WHOLE_BOUTS if last.judged else NOTHING_LEFT
        screen = fit_screen(head, [nothing], others(found, None), [], cautions)
    else:
        beside = [*explained_in_words(found, lead), *others(found, lead)]
        told = answer(lead, kept_then(last))
        step = next_step(to_follow(lead, last.judged), given, found.bouts // found.sessions)
        screen = fit_screen(head, told, beside, step, cautions)
    return f"{screen}\n\n{folded(every_count(found, width), width)}" if details else screen


def to_follow(lead: Judged, judged: Sequence[Judged]) -> Judged:
    """What to do something about: the leading count, or another that is unusual where that one is usual."""
    odd = [one for one in judged if one.verdict is Verdict.UNUSUAL]
    return odd[0] if odd and lead.verdict is Verdict.USUAL else lead


def kept_then(evening: EveningJudged) -> str:
    """Which forecast it is: ``Planned on 26 Nov 2026, forecast kept then``."""
    return f"Planned on {day(evening.planned[:10])}, forecast kept then" if evening.planned else "Forecast"


def answer(one: Judged, which: str = "Forecast") -> list[str]:
    """The headline, and the range of `which` forecast."""
    head = f"{capital(taken(one.what))}: {verdict(one)}."
    forecast = f"{which}: {expected(one)}"
    if one.verdict is Verdict.UNUSUAL:
        few = "many" if one.above else "few"
        return [head, f"{forecast}; so {few} come less than one night in {round(1 / UNUSUAL)}."]
    return [head, f"{forecast}."]


def verdict(one: Judged) -> str:
    """``unusual, more than forecast``."""
    if one.verdict is Verdict.UNUSUAL:
        return f"unusual, {'more' if one.above else 'fewer'} than forecast"
    return VERDICTS[one.verdict]


def next_step(one: Judged, given: Given | None, bouts: int) -> list[str]:
    """What to do now; `bouts` of a session, of which more are played where too few were."""
    if one.verdict is Verdict.UNUSUAL:
        measure = WHY[one.what.measure]
        command = given and given.about("why", ("--measure", measure))
        return try_next("to see what matters most to this number", command)
    if one.verdict is Verdict.FEW:
        more = bouts * sessions_that_tell(one.tail)
        return try_next("with more sessions", given and given.again(("--bouts", more)))
    if one.verdict is Verdict.USUAL:
        return ["Next: plan with the forecast as it is, and go on counting."]
    return [longer(one)]


def longer(one: Judged) -> str:
    """How much longer to count in one evening, or why that is not said."""
    if one.what.measure == LONGEST:
        return "How many bouts would tell is not reckoned for a longest run: count losses beside it."
    if one.more_minutes is None:
        return "However long you count, it may just be your players: groups of this level differ as much."
    if one.more_minutes > MOST_MINUTES_MORE:
        return f"More than {MOST_MINUTES_MORE / 60:g} hours of one evening would be needed to tell: take it as it is."
    so = "if it stays like this, " if one.verdict is Verdict.EDGE else ""
    more = more_minutes(one.more_minutes)
    return f"Next time count longer: {so}{more} of the one evening, all handed in together, would tell."


def explained_in_words(found: Answer, lead: Judged) -> list[str]:
    """What would have to be true."""
    if not found.explained:
        return []
    usual = [one for one in found.explained if one.usual]
    if usual:
        return [f"It would be usual with {listed([variant(one) for one in usual], 'or')}."]
    first = found.explained[0]
    nearer = abs(first.mean - lead.what.count) < abs(lead.mean - lead.what.count)
    if not nearer:
        return ["Neither passing, pressing nor restarts alone would make it usual."]
    return [f"No one thing makes it usual. Nearest: {variant(first)}, about {count(first.mean)}."]


def variant(one: Explained) -> str:
    """``slower restarts (7 s, not 4 s)``."""
    if one.what == PASSING:
        after, before = (f"{100 * share:.0f}" for share in (one.after, one.before))
        return f"{'better' if one.up else 'weaker'} passing ({after} of 100 simple passes come off, not {before})"
    if one.what == PRESSING:
        after, before = (two(TRYABLE * speed) for speed in (one.after, one.before))
        return f"{'harder' if one.up else 'softer'} pressing ({after} km/h to the ball, not {before})"
    return f"{'slower' if one.up else 'quicker'} restarts ({one.after:g} s, not {one.before:g})"


def others(found: Answer, lead: Judged | None) -> list[str]:
    """The other counts of the last evening, then what led on the evenings before, the latest first."""
    lines = []
    for one in found.evenings[-1].judged:
        if one is not lead and one.verdict is not Verdict.NOT_JUDGED:
            lines.append(f"{capital(some_of(one.what.measure, one.what.count))}: {verdict(one)}; {expected(one)}.")
    for evening in reversed(found.evenings[:-1]):
        first = next((one for one in evening.judged if one.verdict is not Verdict.NOT_JUDGED), None)
        if first is not None:
            lines.append(f"{day(evening.day)}: {some_of(first.what.measure, first.what.count)}, {verdict(first)}.")
    return lines


def left_out(evening: EveningJudged) -> str:
    """Bouts that are not judged, with what was changed."""
    if not evening.changed or not evening.judged:
        return ""
    said = [f"{'a bout' if bout is None else f'bout {bout}'} ({what})" for bout, what in evening.changed]
    return f"Left out, because it was changed on the grass: {listed(said)}."


def means(game: Game, lead: Judged | None) -> str:
    """What usually means, and a loss where losses lead."""
    if lead is None:
        return ""
    loss = SHORT_NO_SHOT if game.goals else SHORT
    return f"{USUALLY} {loss}" if lead.what.measure == "losses" else USUALLY


def every_count(found: Answer, width: int | None) -> str:
    """All counts of all evenings in one table, and how they are judged."""
    rows: list[Sequence[str]] = [
        (day(evening.day), taken(one.what), told(one), VERDICTS[one.verdict])
        for evening in found.evenings
        for one in evening.judged
    ]
    lines = [
        "Every count",
        table(("date", "counted", "forecast", "answer"), rows, width, left=(0, 1, 2, 3)),
        f"Forecast from {found.sessions} sessions (seed {found.seed}, version {found.version}, engine {found.engine}).",
        "Unusual: fewer than one session in 20 lies so far out, half of them on either side. Cannot tell: it lies outside",
        "what is usual, but not so far; or so little was counted that a forecast out by half would hardly show.",
    ]
    return "\n".join(lines)


def told(one: Judged) -> str:
    """The forecast in a table."""
    return "" if one.verdict is Verdict.NOT_JUDGED else expected(one)
