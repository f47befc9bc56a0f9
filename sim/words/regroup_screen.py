"""The game for who turned up, on a small screen: the set-up to take, all in a table, who stands where, what would change it."""

from __future__ import annotations

from collections.abc import Sequence
from string import ascii_lowercase

from sim.experiments.cautions import FEW_SESSIONS
from sim.experiments.last_line import LINE
from sim.game.model import Game
from sim.game.names import spoken_of
from sim.groups.likeness import WEIGHTS, Likeness
from sim.groups.plans import Plan, Turnout
from sim.groups.regroup import Regrouped, SetUp
from sim.words.commands import Given
from sim.words.figures import percent, two
from sim.words.listing import capital, listed, number_word, some
from sim.words.screen import WIDTH, Screen
from sim.words.set_ups import in_short, plan_in_words
from sim.words.setting_up import time_of
from sim.words.tables import table
from sim.words.who import one_of

HEADS = ("set-up", "m2 each", "% defending", "losses a min", "% off")
WITH_BOTH = "plays with whoever has the ball"
SAID = {"area": "room", "defending": "defending", "losses": "losses", "roles": "roles"}


def regrouped_on_a_screen(found: Regrouped, files: Sequence[str], shorter: Plan | None, given: Given) -> str:
    """The whole answer; `files`: where the games were written, `shorter`: the nearest set-up with one player fewer."""
    first = found.set_ups[0]
    asked = f"{found.game.title}, for {turnout_in_words(found.turnout)}; {found.bouts} bouts of {bout_of(found)}"
    body = [*headline(found), *the_table(found).splitlines()]
    beside = [*who_stands_where(first), *outside(first.plan)]
    doing = [*one_fewer(first.plan, shorter), *next_step(files, given)]
    return Screen(asked, body, beside, doing, [*few_sessions(found.sessions), weights(), LINE]).text()


def turnout_in_words(turnout: Turnout) -> str:
    """``16 players (one on reduced load) and two keepers``."""
    text = some(turnout.players, "player")
    if turnout.restricted:
        text += f" ({number_word(turnout.restricted)} on reduced load)"
    return text + (f" and {some(turnout.keepers, 'keeper')}" if turnout.keepers else "")


def bout_of(found: Regrouped) -> str:
    """How long they are."""
    return f"{time_of(found.game.bouts.seconds)} of each"


def headline(found: Regrouped) -> list[str]:
    """The set-up to take, how far it is from what was planned, and whether another is as good."""
    first = found.set_ups[0]
    said = f"{capital(plan_in_words(first.plan))}: closest to what was planned ({percent(first.off.total)} off)."
    if found.close:
        return [
            said,
            f"Too close to call between this and {plan_in_words(found.set_ups[1].plan)}: take what your ground allows.",
        ]
    return [said]


def the_table(found: Regrouped) -> str:
    """The game as planned, then a row a set-up."""
    rows = [("planned: " + in_short(found.game), *figures(found.planned), "")]
    for number, one in enumerate(found.set_ups, 1):
        rows.append((f"{number} {plan_in_words(one.plan)}", *figures(one.likeness), f"{100 * one.off.total:.0f}"))
    return table(HEADS, rows, WIDTH, (0,))


def figures(own: Likeness) -> tuple[str, str, str]:
    """Room, defending and losses."""
    return f"{own.area:.0f}", f"{100 * own.defending:.0f}", two(own.losses)


def who_stands_where(first: SetUp) -> list[str]:
    """Everybody on reduced load: where he plays and what he does not do; keepers who play with their feet."""
    lines = []
    many = len(first.plan.groups) > 1
    for number, (wanted, game) in enumerate(first.plan.groups, 1):
        where = f" (group {number})" if many else ""
        for player in (one for one in game.players if one.restricted):
            never = f"never {listed([one_of(one) for one in player.never], 'or')}" if player.never else WITH_BOTH
            place = "stays on the lines" if game.role(player.role).style == "edge" else "keeps his place"
            name = capital(spoken_of(game)[player.id])
            own, others = first.paces[number - 1][player.id]
            runs = f"about {own:.0f} m a minute, the others {others:.0f}"
            lines.append(f"{name}{where} {place}, tackles nobody, isn't tackled, {never}: {runs}.")
        if wanted.keepers:
            lines.append(
                f"{capital(some(wanted.keepers, 'keeper'))}{where} on the lines, feet only, with whoever has the ball."
            )
    return lines


def outside(plan: Plan) -> list[str]:
    """Who is in no group."""
    lines = []
    if plan.waiting:
        lines.append(f"{capital(some(plan.waiting, 'player'))} out each bout: change at every rest, by the list.")
    if plan.keepers_apart:
        lines.append(f"{capital(some(plan.keepers_apart, 'keeper'))} with the keepers' coach.")
    return lines


def one_fewer(plan: Plan, shorter: Plan | None) -> list[str]:
    """What would change it: somebody goes home."""
    if shorter is None:
        return []
    return [
        f"One fewer: {plan_in_words(shorter)}."
        if shorter.kind != plan.kind
        else f"One fewer: {changed(plan, shorter)}."
    ]


def changed(plan: Plan, shorter: Plan) -> str:
    """Only the groups that are others then."""
    before, after = ([in_short(game) for _, game in one.groups] for one in (plan, shorter))
    for one in before:
        if one in after:
            after.remove(one)
    return (
        f"{listed(list(dict.fromkeys(after)))} instead, the rest as it is"
        if after and len(after) < len(before)
        else plan_in_words(shorter)
    )


def file_names(found: Regrouped) -> dict[str, Game]:
    """The files of all set-ups: NAME-PLAYERS-SETUP.toml, with a letter for every other group of it."""
    files = {}
    for number, one in enumerate(found.set_ups, 1):
        games = list(dict.fromkeys(game for _, game in one.plan.groups))
        for letter, game in zip(ascii_lowercase, games, strict=False):
            files[f"{found.game.name}-{found.turnout.players}-{number}{letter if len(games) > 1 else ''}.toml"] = game
    return files


def next_step(files: Sequence[str], given: Given) -> list[str]:
    """The files to write, or the first of them to look at."""
    if not files:
        return ["Try next, to have them as game files:", f"  {given.again(('--out', 'DIR'))}"]
    return [
        f"Written: {listed(files)}.",
        "Try next, for your assistant:",
        f"  overload sheet {files[0]} --out sheet.pdf",
    ]


def few_sessions(sessions: int) -> list[str]:
    """That so few tell little of what every evening brings."""
    if sessions >= FEW_SESSIONS:
        return []
    were = "was" if sessions == 1 else "were"
    return [f"Only {some(sessions, 'session')} of each {were} played: take the losses as rough."]


def weights() -> str:
    """What `off` is made of."""
    parts = [f"{SAID[name]} {weight}" for name, weight in WEIGHTS.items()]
    return f"Off: 0 % is the game as planned; {', '.join(parts)} of 100 (our weights)."
