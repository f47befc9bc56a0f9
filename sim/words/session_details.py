"""An evening with everything there is to say: the blocks, who plays where, every player's figures, and how sure they are."""

from __future__ import annotations

import csv
import io

from sim.planning.band import MEASURES
from sim.planning.forecast import Forecast
from sim.planning.line_up import LineUp
from sim.planning.session import Planned
from sim.squads.squad import Person
from sim.words.figures import two
from sim.words.listing import listed, number
from sim.words.session_screen import whole
from sim.words.tables import table

HEADS = {
    "minutes": "min",
    "metres": "m",
    "fast_metres": "fast m",
    "accelerations": "accels",
    "decelerations": "decels",
    "effort": "effort",
    "middle": "middle min",
}
SUM = (
    "Blocks add up, each begun with fresh legs: played as one the evening comes to about the same metres "
    "(see `cli/README.md`). Ranges take a player's strength as new in each block, so they are a little narrow."
)


def session_details(found: Forecast, width: int | None) -> str:
    """All tables."""
    plan = found.plan
    parts = [
        *(block_in_words(found, number_) for number_ in range(len(plan.line_ups))),
        "",
        players_table(found, width),
        "",
    ]
    error = found.error[found.judged] / found.mean[found.judged].clip(1e-9)
    metres = 100 * float(error[:, list(MEASURES).index("metres")].max()) if found.judged else 0.0
    parts.append(
        f"{found.sessions} sessions of each block at least were played: metres give or take {two(max(2 * metres, 0.1))} %."
    )
    parts.append("Effort is effort x minutes, an estimate for a group and not for one player.")
    return "\n".join([*parts, SUM])


def block_in_words(found: Forecast, number_: int) -> str:
    """A block: its games and who plays where."""
    line_up = found.plan.line_ups[number_]
    bouts = line_up.games[0].bouts
    lines = [
        f"{line_up.part.name}: {line_up.games[0].title}{', set up anew' if line_up.anew else ''}, "
        f"{bouts.count} x {number(bouts.seconds / 60)} min, rest {number(bouts.rest_seconds / 60)} min; "
        f"{two(found.losses[number_])} losses a minute with the ball rolling",
        *(f"  {one}" for one in who_plays(found.plan, number_)),
    ]
    return "\n".join(lines)


def who_plays(plan: Planned, number_: int, game: int | None = None) -> list[str]:
    """A line a cell, with its people; of one of the games, or of all, with who waits and the keepers who are apart."""
    line_up = plan.line_ups[number_]
    lines = []
    for i, (own, grid) in enumerate(zip(line_up.games, plan.grids[number_], strict=True)):
        if game not in (None, i):
            continue
        size = " and ".join(f"{area.length:g} x {area.width:g} m" for area in own.areas)
        name = f"group {i + 1}, " if len(line_up.games) > 1 else ""
        lines.append(f"{name}{size}, middle {grid.x:g} m east and {grid.y:g} m north of the corner:")
        lines += [f"  {cell}: {listed([person.called for person in people])}" for cell, people in cells_of(line_up, i)]
    if line_up.waiting:
        lines.append(f"first out, then in turn: {listed([person.called for person in line_up.waiting])}")
    if line_up.apart:
        lines.append(f"with the keepers' coach: {listed([person.called for person in line_up.apart])}")
    return lines


def cells_of(line_up: LineUp, game: int) -> list[tuple[str, list[Person]]]:
    """(bib and role, people) of one game."""
    own = line_up.games[game]
    many = len({player.team for player in own.players}) > 1
    found: dict[str, list[Person]] = {}
    for spot in (one for one in line_up.spots if one.game == game):
        player = own.players[spot.place]
        found.setdefault(f"{player.team} {player.role}" if many else player.role, []).append(spot.person)
    return list(found.items())


def players_table(found: Forecast, width: int | None) -> str:
    """Everybody in order of the squad, each figure with its range."""
    told = [(j, name) for j, name in enumerate(MEASURES) if name in found.told]
    rows = []
    for i, person in enumerate(found.plan.people):
        cells = []
        for j, name in told:
            mean, low, high = (float(one[i, j]) for one in (found.mean, found.low, found.high))
            off = {-1: " -", 1: " +", 0: ""}[found.plan.evening.band.off(name, mean) if i in found.judged else 0]
            cells.append(
                f"{whole(mean)}{off}"
                if whole(low) == whole(high)
                else f"{whole(mean)} ({whole(low)}-{whole(high)}){off}"
            )
        rows.append([person.called, *cells])
    return table(["", *(HEADS[name] for _, name in told)], rows, width)


def players_csv(found: Forecast) -> str:
    """The same as CSV: mean, and the ends of eight sessions in ten, of every figure."""
    told = [(j, name) for j, name in enumerate(MEASURES) if name in found.told]
    place = io.StringIO()
    writer = csv.writer(place, lineterminator="\n")
    writer.writerow(["shirt", "name", *(f"{name}{end}" for _, name in told for end in ("", "_low", "_high"))])
    for i, person in enumerate(found.plan.people):
        figures = [f"{one[i, j]:.1f}" for j, _ in told for one in (found.mean, found.low, found.high)]
        writer.writerow([person.shirt, person.name, *figures])
    return place.getvalue()
