"""The game for who turned up, on a small screen: the set-up to take, all in a table, who stands where, what would change it."""

from __future__ import annotations

from collections.abc import Sequence
from string import ascii_lowercase

from sim.experiments.cautions import FEW_SESSIONS
from sim.experiments.last_line import LINE
from sim.game.equipment import server_needed
from sim.game.model import Game
from sim.game.names import spoken_of
from sim.groups.likeness import WEIGHTS, Likeness
from sim.groups.plans import Plan, Turnout
from sim.groups.regroup import Regrouped, SetUp
from sim.units import SECONDS_PER_MINUTE
from sim.words.commands import Given
from sim.words.figures import metres, percent, ranged
from sim.words.listing import capital, listed, number, number_word, some
from sim.words.screen import WIDTH, Screen
from sim.words.set_ups import in_short, plan_in_words
from sim.words.setting_up import time_of
from sim.words.tables import table
from sim.words.who import one_of

HEADS = ("set-up", "m2 each", "% defending", "losses a min (usually)", "staff", "% off")
WITH_BOTH = "plays with whoever has the ball"
ROLLING = "Usually: eight sessions in ten. Losses: with the ball rolling."
SAID = {"area": "room", "defending": "defending", "losses": "losses", "roles": "roles"}


def regrouped_on_a_screen(found: Regrouped, files: Sequence[str], shorter: Plan | None, given: Given) -> str:
    """The whole answer; `files`: where the games were written, `shorter`: the nearest set-up with one player fewer."""
    first = found.set_ups[0]
    asked = f"{found.game.title}, for {turnout_in_words(found.turnout)}; {found.bouts} bouts of {bout_of(found)}"
    body = [*headline(found), *the_table(found).splitlines()]
    beside = [*who_stands_where(first, found.turnout), *outside(first.plan)]
    doing = [*one_fewer(first.plan, shorter), *next_step(files, given)]
    return Screen(asked, body, beside, doing, [*few_sessions(found.sessions), ROLLING, weights(), LINE]).text()


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
        other = plan_in_words(found.set_ups[1].plan)
        return [
            said,
            f"Too close to call between this and {other}: take what your ground and your staff allow.",
        ]
    return [said]


def the_table(found: Regrouped) -> str:
    """The game as planned, then a row a set-up."""
    rows = [("planned: " + in_short(found.game), *figures(found.planned), staff_of(found.game), "")]
    for place, one in enumerate(found.set_ups, 1):
        rows.append(
            (
                f"{place} {plan_in_words(one.plan)}",
                *figures(one.likeness),
                str(one.plan.staff),
                f"{100 * one.off.total:.0f}",
            )
        )
    return table(HEADS, rows, WIDTH, (0,))


def figures(own: Likeness) -> tuple[str, str, str]:
    """Room, defending and losses, with what one evening brings of these."""
    low, high = own.usually or (None, None)
    return f"{own.area:.0f}", f"{100 * own.defending:.0f}", ranged(own.losses, low, high)


def staff_of(game: Game) -> str:
    """How many people run one group of the game: the watch, and a server where it needs one."""
    return str(1 + server_needed(game))


def under_the_cap(game: Game, turnout: Turnout, pace: float) -> str:
    """What somebody on reduced load comes to at a pace of so many metres a minute: ``8 min in four bouts, about 320 m``,
    and that it is a mean."""
    count = game.bouts.count
    most = count if turnout.most_bouts is None else min(count, turnout.most_bouts)
    minutes = most * game.bouts.seconds / SECONDS_PER_MINUTE
    said = f"{number(minutes)} min in {some(most, 'bout')}, about {metres(minutes * pace)} m (a mean; evenings differ)"
    if most == count:
        return said
    others = "the other bout" if count - most == 1 else f"the other {number_word(count - most)} bouts"
    return f"{said}; his group is one fewer in {others}"


def who_stands_where(first: SetUp, turnout: Turnout) -> list[str]:
    """Everybody on reduced load: where he plays and what he does not do; keepers who play with their feet."""
    lines = []
    many = len(first.plan.groups) > 1
    for group, (wanted, game) in enumerate(first.plan.groups, 1):
        where = f" (group {group})" if many else ""
        for player in (one for one in game.players if one.restricted):
            never = f"never {listed([one_of(one) for one in player.never], 'or')}" if player.never else WITH_BOTH
            place = "stays on the lines" if game.role(player.role).style == "edge" else "keeps his place"
            named = spoken_of(game)[player.id]
            name = capital(named)
            own, others = first.paces[group - 1][player.id]
            lines.append(f"{name}{where} {place}, tackles nobody, isn't tackled, {never}.")
            pace = f"{own:.0f} m a minute, the others {others:.0f}"
            lines.append(f"For {named} ({pace}): {under_the_cap(game, turnout, own)}.")
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
    for place, one in enumerate(found.set_ups, 1):
        games = list(dict.fromkeys(game for _, game in one.plan.groups))
        for letter, game in zip(ascii_lowercase, games, strict=False):
            files[f"{found.game.name}-{found.turnout.players}-{place}{letter if len(games) > 1 else ''}.toml"] = game
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
