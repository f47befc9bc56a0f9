"""Somebody with limits, on the screen of an evening: what they are, what they leave, and what they do to those beside."""

from __future__ import annotations

from sim.game.model import Game, Player
from sim.planning.band import MEASURES
from sim.planning.forecast import Forecast
from sim.planning.line_up import LineUp, Spot, without_ball
from sim.planning.session import Planned, changed
from sim.squads.squad import Person
from sim.words.evening_figures import whole
from sim.words.listing import listed, number, number_word, some
from sim.words.who import one_of

MIDDLE = list(MEASURES).index("middle")

FEW_MOVES = 3
"""So many who change groups are named."""


def within_limits(found: Forecast) -> list[str]:
    """Two or three lines for everybody with limits who is there, in order of the squad."""
    lines: list[str] = []
    for i, person in enumerate(found.plan.people):
        if person.capped:
            others = [
                line for line in for_the_others(found, person) if line not in lines
            ]  # two kept apart in one group
            lines += [limits_of(person), *for_him(found, i, person), *others]
    return lines


def limits_of(person: Person) -> str:
    """Who must not do what, and who says so."""
    caps = [
        *(["reduced load"] if person.status == "reduced" else []),
        *person.limits,
        *([f"{some(person.most_bouts, 'bout')} at most"] if person.most_bouts is not None else []),
        *([f"{person.most_minutes:g} min at most"] if person.most_minutes is not None else []),
    ]
    return f"{person.called}: {', '.join(caps)} ({person.set_by})."


def for_him(found: Forecast, i: int, person: Person) -> list[str]:
    """What is left for him: bouts, minutes and metres, and where he plays."""
    bouts = sum(line_up.bouts.get(person.shirt, 0) for line_up in found.plan.line_ups)
    if not bouts:
        return ["That leaves no bout tonight."]
    minutes, metres = (list(MEASURES).index(name) for name in ("minutes", "metres"))
    of_bouts = (
        f"{number_word(bouts)} of {some(person.most_bouts, 'bout')}" if person.most_bouts else some(bouts, "bout")
    )
    most = f" of {person.most_minutes:g}" if person.most_minutes is not None else ""
    ends = " to ".join(dict.fromkeys(whole(float(one[i, metres])) for one in (found.low, found.high)))
    gets = (
        f"{of_bouts}, {whole(float(found.mean[i, minutes]))}{most} min and about {whole(float(found.mean[i, metres]))} m "
        f"(usually {ends})"
    )
    where = where_he_plays(found, person) if person.restricted else ""
    return [f"That leaves {gets}{where}.", *off_in_words(found.plan, person)]


def off_in_words(plan: Planned, person: Person) -> list[str]:
    """``He is off after three bouts of squares; the others go on without him.``; nothing for whoever stays to the end."""
    own = next((one for one in plan.leaves if one.person == person), None)
    if own is None:
        return []
    part = plan.evening.parts[own.number]
    if not own.bouts:
        return [f"{person.called} sits out from {part.name} on."]
    moving = [
        f"{one.called} from {group(old)} to {group(new)}"
        for one, old, new in changed(plan.people, *(plan.line_ups[own.number + k].cells for k in (0, 1)))
    ]
    if len(moving) > FEW_MOVES:
        others = f"{number_word(len(moving))} others change groups then (--details)"
    else:
        others = f"{listed(moving)} when he goes" if moving else "the others go on without him"
    return [f"{person.called} is off after {some(own.bouts, 'bout')} of {part.name}; {others}."]


def group(cell: str) -> str:
    """A cell as it is said: ``group 2``, ``amber``, ``amber in group 2``."""
    bib, _, number_ = cell.rpartition(" ")
    if not number_.isdigit():
        return cell
    return f"{bib} in group {number_}" if bib else f"group {number_}"


def where_he_plays(found: Forecast, person: Person) -> str:
    """``: squares on the lines, never inside; keep-ball on the lines with whoever has the ball``."""
    said: dict[str, list[str]] = {}
    for line_up in found.plan.line_ups:
        spot = spot_of(line_up, person)
        if spot is not None and not line_up.part.goes_on:
            game = line_up.games[spot.game]
            said.setdefault(job_of(game, game.players[spot.place]), []).append(line_up.part.name)
    told = [f"in {listed(blocks)} {job}" for job, blocks in said.items()]
    return f": {'; '.join(told)}" if told else ""


def job_of(game: Game, player: Player) -> str:
    """``on the lines, never inside``, ``on the lines, with whoever has the ball``, ``as builder``."""
    role = game.role(player.role)
    place = "on the lines" if role.style == "edge" else "in goal" if role.style == "goal" else f"as {role.name}"
    if role.side == "holder":
        return f"{place} with whoever has the ball"
    never = [one if one in ("inside", "outside") else one_of(one) for one in player.never]
    return f"{place}, never {listed(never, 'or')}" if never else place


def spot_of(line_up: LineUp, person: Person) -> Spot | None:
    """His place in a block; None where he has none."""
    return next((one for one in line_up.spots if one.person.shirt == person.shirt), None)


def for_the_others(found: Forecast, person: Person) -> list[str]:
    """What it does to those in one game with him: whoever never goes in leaves his turns to them."""
    lines = []
    for block, line_up in enumerate(found.plan.line_ups):
        spot = spot_of(line_up, person)
        if spot is None or line_up.waiting or line_up.part.goes_on or not takes_no_turn(line_up.games[spot.game], spot):
            continue
        game = line_up.games[spot.game]
        field = [one for one in line_up.spots if one.game == spot.game and not apart(game, game.players[one.place])]
        others = [one for one in field if not takes_no_turn(game, one)]
        shirts = [one.shirt for one in found.plan.people]
        total = float(sum(found.by_block[block, shirts.index(one.person.shirt), MIDDLE] for one in field))
        if not others or not total:
            continue
        group = f", group {spot.game + 1}" if len(line_up.games) > 1 else ""
        lines.append(
            f"For the other {number_word(len(others))} in {line_up.part.name}{group}: {number(total / len(others))} min without "
            f"the ball each; {number(total / len(field))} if all {number_word(len(field))} took turns."
        )
    return lines


def takes_no_turn(game: Game, spot: Spot) -> bool:
    """Whether whoever is there never comes to be without the ball: he begins with it and must not change."""
    player = game.players[spot.place]
    return bool(player.never) and game.role(player.role).side != "holder" and not without_ball(game, player)


def apart(game: Game, player: Player) -> bool:
    """Whether somebody takes no turns by the game itself: in goal, or with whoever has the ball."""
    role = game.role(player.role)
    return role.style == "goal" or role.side == "holder"
