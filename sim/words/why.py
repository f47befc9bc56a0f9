"""What moves a measure, as a coach reads it: one small screen, and with `--details` the table of all there is."""

from __future__ import annotations

from collections.abc import Sequence

from sim.experiments.everyday import called
from sim.experiments.key_measures import keys_of
from sim.experiments.why import Moved, Why
from sim.game.model import Game
from sim.measures.catalogue import measures
from sim.measures.thresholds import limits_of
from sim.words.assumptions import replaced_in_words
from sim.words.clocks import CLOCKS
from sim.words.commands import Given, try_next
from sim.words.figures import two
from sim.words.listing import capital, listed
from sim.words.measure_names import is_counted
from sim.words.measure_phrases import happens, holds, noun, per, value
from sim.words.playing import shots_allowed
from sim.words.reasons import reason_of
from sim.words.screen import Screen, folded
from sim.words.setting_up import question_line, spelt_time, time_of
from sim.words.tables import table

KINDS = {"play": "how play is modelled", "players": "how little we know of the players"}
PARTS = ((0.92, "nearly all", ""), (0.83, "most", "a little"), (0.71, "three quarters", "a quarter"),
         (0.58, "two thirds", "a third"), (0.0, "half", "half"))  # fmt: skip
"""From this share on the larger part is called so, and the smaller one so."""
HEAD = ("", "kind", "from", "to", "unit", "change", "+-", "share, %", "what it is")
LEFT = (0, 1, 4, 8)
HOW = (
    "Assumptions were moved all at once between the two figures shown: constants by how unsure they are, means of players by how "
    "unsure we are of them. Share: of the doubt (its variance) that they make together, each by itself.",
    "What you can change was changed by itself; its step is a choice, no doubt, so it has no share. +- is one standard error.",
)
SURE = 2.0  # standard errors
LEAN = 0.25
"""A mean over all that was tried this share of the doubt off is worth a word (house default)."""
LEAST = 0.02  # a smaller share is not named
MOST_NAMED = 3


def why_in_words(
    found: Why, game: Game, most: int = 12, given: Given | None = None, details: bool = False, width: int | None = None
) -> str:
    """What `overload why` prints: one small screen, and with `details` everything else below it."""
    screen = why_screen(found, game, given).text()
    return f"{screen}\n\n{all_of(found, game, most, width)}" if details else screen


def why_screen(found: Why, game: Game, given: Given | None = None) -> Screen:
    """The small screen: the number, what it moves with, what of it can be changed."""
    own = replaced_in_words(found.provenance.assumptions)
    return Screen(
        asked=question_line(game, f"{found.bouts} bouts of {time_of(game.bouts.seconds)}"),
        answer=[f"{now(found, game)} {how_far_out(found)}", *matters(found)],
        beside=[*changed(found, game), *split(found)],
        doing=next_step(found, game, given),
        cautions=[*([own] if own else []), *found.cautions],
    )


def clock(found: Why, game: Game) -> str:
    """The clock of the measure, as the catalogue has it."""
    return next(one.clock for one in measures(limits_of(game)) if one.measure == found.measure)


def now(found: Why, game: Game) -> str:
    """``They lose it about 1.9 times a minute with the ball rolling.``"""
    on, amount = clock(found, game), f"about {signed_value(found, found.mean)}"
    if is_counted(found.measure):
        rate = (
            f"a bout, {spelt_time(game.bouts.seconds)} on the watch" if found.unit == "1/bout" else per(found.unit, on)
        )
        text = f"{happens(found.measure, amount, found.scope, shots_allowed(game))} {rate}"
    else:
        text = holds(found.measure, amount, found.scope, on, found.unit)
    return f"{capital(text)}."


def how_far_out(found: Why) -> str:
    """How far all that is not known could put the number out."""
    if not found.clear:
        return "What moves it can't be told yet: luck hides everything else."
    out = f"What nobody knows for sure could put that out by about {signed_value(found, found.doubt)} either way"
    lean = found.tried - found.mean
    if abs(lean) < LEAN * found.doubt:
        return f"{out}."
    more = "up than down" if lean > 0 else "down than up"
    return f"{out}, more often {more}: {signed_value(found, found.tried)} over all that was tried."


def matters(found: Why) -> list[str]:
    """What matters most, in plain words."""
    if not found.clear:
        return []
    rows = [row for row in sure(found) if row.kind != "lever"][:MOST_NAMED]
    if not rows:
        return ["No one thing stands out."]
    alone = one_kind_of_player(found)
    return [f"What matters most to this number: {listed([reason_of(row.name, row.kind, alone) for row in rows])}."]


def one_kind_of_player(found: Why) -> bool:
    """Whether all players are of one kind, so that whose trait it is need not be said."""
    return len({row.name.rpartition(" ")[0] for row in found.rows if row.kind == "players"}) <= 1


def sure(found: Why) -> list[Moved]:
    """Rows that stand out of the luck and come to something."""
    return [
        row for row in found.rows if abs(row.change) > SURE * row.change_se and (row.share is None or row.share > LEAST)
    ]


def changed(found: Why, game: Game) -> list[str]:
    """What a coach can change, with what it comes to."""
    every = [row for row in found.rows if row.kind == "lever"]
    rows = [row for row in every if row in sure(found)]
    if not every or not found.clear:
        return []
    if not rows:
        return ["Nothing you can change clearly moves it."]
    names = listed([reason_of(row.name, row.kind) for row in rows])
    figures = "; ".join(step(found, row) for row in rows)
    return [f"Of what you can change, {names} {'matters' if len(rows) == 1 else 'matter'} ({figures})."]


def step(found: Why, row: Moved) -> str:
    """``10 to 12 m: 0.5 fewer``."""
    unit = {"m": " m", "1": ""}.get(row.unit, f" {row.unit}")
    way = "more" if row.change > 0 else "fewer" if is_counted(found.measure) else "less"
    return f"{row.low:g} to {row.high:g}{unit}: {signed_value(found, abs(row.change))} {way}"


def split(found: Why) -> list[str]:
    """How much of the doubt is the model, how much the players."""
    if not found.clear:
        return []
    play, players = shares(found)
    named = (play, "how we model play"), (players, "not knowing your players")
    (most, first), (_, second) = sorted(named, key=lambda one: -one[0])
    large, small = next((large, small) for least, large, small in PARTS if most >= least)
    return [f"{capital(large)} of that doubt is {first}{f', {small} {second}' if small else ''}."]


def shares(found: Why) -> tuple[float, float]:
    """(share of how play is modelled, share of the players) in the doubt of the two together, from 0 to 1."""
    sums = [sum(row.share or 0.0 for row in found.rows if row.kind == kind) for kind in KINDS]
    whole = sum(sums) or 1.0
    return sums[0] / whole, sums[1] / whole


def next_step(found: Why, game: Game, given: Given | None) -> list[str]:
    """The same question with twice the bouts where nothing stands out; else what each change does, on a card."""
    if not found.clear:
        played = given and given.asked("--bouts")
        more = given.again(("--bouts", 2 * played)) if given and isinstance(played, int) else None
        return try_next("more bouts, to be surer", more)
    count = "Count it yourself for a night or two: that beats any model."
    if (found.measure, found.scope) not in keys_of(game):
        return [count]
    aim = f"{called((found.measure, found.scope), game)}=more"
    return [count, *try_next("to see what each change does", given and given.about("adjust", ("--aim", aim)))]


def signed_value(found: Why, amount: float) -> str:
    """A figure as people say it, with its sign if it is below nought."""
    return ("-" if amount < 0 else "") + value(found.measure, found.unit, abs(amount))


# everything


def all_of(found: Why, game: Game, most: int, width: int | None) -> str:
    """Everything behind the screen: the table of what was moved, and how."""
    shown = [row for row in found.rows if row.change][:most]
    parts = [
        measure_and_doubt(found, game),
        table(HEAD, [cells(found, row) for row in shown], width, LEFT),
        *(folded("\n".join(lines), width) for lines in (the_rest(found, shown), HOW)),
        found.cautions[-1],
    ]
    return "\n\n".join(part for part in parts if part)


def measure_and_doubt(found: Why, game: Game) -> str:
    """The measure, its mean and its doubt, in one line."""
    rate = per(found.unit, clock(found, game)) or CLOCKS[clock(found, game)]
    name = f"{noun(found.measure, found.scope, shots_allowed(game))}, {rate}"
    mean, tried, spread = (signed_in_unit(found, one) for one in (found.mean, found.tried, found.doubt))
    return f"{found.title}: {name}: {mean}; over all that was tried {tried}, doubt {spread} (one standard deviation)."


def signed_in_unit(found: Why, amount: float) -> str:
    """Two digits, shares in per cent, with the sign if it is below nought."""
    by = 100.0 if found.unit == "share" else 1.0
    return f"{'-' if amount < 0 else ''}{two(abs(by * amount))}{' %' if found.unit == 'share' else ''}"


def change_figure(found: Why, amount: float) -> str:
    """The same of a change: always with its sign."""
    text = signed_in_unit(found, amount)
    return text if text.startswith("-") else f"+{text}"


def share_of_doubt(row: Moved) -> str:
    """The share of the doubt in per cent with its standard error; words where there is none."""
    if row.share is None or row.share_se is None:
        return "a choice" if row.kind == "lever" else "not clear"
    return f"{100 * row.share:.0f} +- {max(1.0, 100 * row.share_se):.0f}"


def cells(found: Why, row: Moved) -> list[str]:
    """A row of the table, in the order of `HEAD`."""
    change, error = change_figure(found, row.change), signed_in_unit(found, row.change_se)
    return [
        row.name, row.kind, f"{row.low:.3g}", f"{row.high:.3g}", row.unit, change, error, share_of_doubt(row),
        reason_of(row.name, row.kind, one_kind_of_player(found)),
    ]  # fmt: skip


def the_rest(found: Why, shown: Sequence[Moved]) -> list[str]:
    """What is not in the table, and how the kinds share the doubt."""
    lines = [
        f"{len([row for row in found.rows if row not in shown])} others are smaller. {found.runs} runs, {found.bouts} bouts."
    ]
    if found.clear:
        told = ", ".join(
            f"{100 * share:.0f} % {words} ({kind})"
            for share, (kind, words) in zip(shares(found), KINDS.items(), strict=True)
        )
        lines.append(f"Of what is not known: {told}.")
    return lines
