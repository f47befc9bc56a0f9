"""An evening with everything there is to say: the blocks, who plays where, every player's figures, and how sure they are."""

from __future__ import annotations

import csv
import io

from sim.experiments.last_line import LINE
from sim.planning.band import MEASURES
from sim.planning.forecast import Forecast
from sim.planning.layout import Grid
from sim.planning.line_up import LineUp, Spot
from sim.planning.session import Planned
from sim.words.evening_figures import whole
from sim.words.figures import two
from sim.words.listing import listed, number
from sim.words.session_screen import doubt_of_metres
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
FORMULA = ("=", "+", "-", "@")
"""How a formula of a spreadsheet begins."""
SUM = "Blocks add up, each begun with fresh legs: played as one there were 0.5 % fewer metres (cli/README.md, an evening)."


def session_details(found: Forecast, width: int | None) -> str:
    """All tables."""
    plan = found.plan
    parts = [
        *(block_in_words(found, number_) for number_ in range(len(plan.line_ups))),
        "",
        players_table(found, width),
        "",
    ]
    parts.append(
        f"{found.sessions} sessions of each block at least were played: metres give or take {two(doubt_of_metres(found))} %."
    )
    if "effort" in found.told:
        parts.append("Effort is effort x minutes, an estimate for a group and not for one player.")
    return "\n".join([*parts, SUM, LINE])


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


def who_plays(plan: Planned, number_: int) -> list[str]:
    """A line a game and a line a post, with its people; then who waits, and the keepers who are apart."""
    line_up = plan.line_ups[number_]
    lines = []
    for i, (own, grid) in enumerate(zip(line_up.games, plan.grids[number_], strict=True)):
        size = " and ".join(f"{area.length:g} x {area.width:g} m" for area in own.areas)
        name = f"group {i + 1}, " if len(line_up.games) > 1 else ""
        lines.append(f"{name}{size}, {place_of(grid)}:")
        lines += [f"  {post}: {listed([one.person.called for one in spots])}" for post, spots in posts_of(line_up, i)]
    if line_up.waiting:
        lines.append(f"first out, then in turn: {listed([person.called for person in line_up.waiting])}")
    if line_up.apart:
        lines.append(f"with the keepers' coach: {listed([person.called for person in line_up.apart])}")
    return lines


def place_of(grid: Grid) -> str:
    """Where a grid lies on the ground."""
    return f"its middle {grid.x:g} m to the right and {grid.y:g} m in from the ground's near left corner"


def posts_of(line_up: LineUp, game: int) -> list[tuple[str, list[Spot]]]:
    """(bib and role, who begins there) of one game."""
    own = line_up.games[game]
    many = len({player.team for player in own.players}) > 1
    found: dict[str, list[Spot]] = {}
    for spot in (one for one in line_up.spots if one.game == game):
        player = own.players[spot.place]
        found.setdefault(f"{player.team} {player.role}" if many else player.role, []).append(spot)
    return list(found.items())


def numbered_people(line_up: LineUp, game: int) -> list[str]:
    """A line a post of one game: the number in rules and picture, name and shirt of everybody in it."""
    players = line_up.games[game].players
    lines = []
    for post, spots in posts_of(line_up, game):
        inside = sorted(spots, key=lambda one: one.place)
        said = [f"{players[one.place].number} {one.person.name or 'shirt'} ({one.person.shirt})" for one in inside]
        lines.append(f"{post}: {listed(said)}.")
    return lines


def players_table(found: Forecast, width: int | None) -> str:
    """Everybody in order of the squad, each figure with its range."""
    told = [(j, name) for j, name in enumerate(MEASURES) if name in found.told]
    rows = []
    for i, person in enumerate(found.plan.people):
        cells = []
        for j, name in told:
            mean, low, high = (float(one[i, j]) for one in (found.mean, found.low, found.high))
            off = {-1: " -", 1: " +", 0: ""}[found.plan.evening.band.off(name, mean) if i in found.judged else 0]
            least, middle, most = (figure(name, one) for one in (low, mean, high))
            cells.append(f"{middle}{off}" if least == most else f"{middle} ({least}-{most}){off}")
        rows.append([person.called, *cells])
    return table(["", *(HEADS[name] for _, name in told)], rows, width)


def figure(measure: str, value: float) -> str:
    """As on the screen; parts of a metre or of a count are nought."""
    return whole(value) if measure in ("minutes", "middle") else whole(value if value >= 1 else round(value))


def players_csv(found: Forecast) -> str:
    """The same as CSV: mean, and the ends of eight sessions in ten, of every figure."""
    told = [(j, name) for j, name in enumerate(MEASURES) if name in found.told]
    place = io.StringIO()
    writer = csv.writer(place, lineterminator="\n")
    writer.writerow(["shirt", "name", *(f"{name}{end}" for _, name in told for end in ("", "_low", "_high"))])
    for i, person in enumerate(found.plan.people):
        figures = [f"{one[i, j]:.1f}" for j, _ in told for one in (found.mean, found.low, found.high)]
        writer.writerow([person.shirt, plain(person.name), *figures])
    return place.getvalue()


def plain(text: str) -> str:
    """A text that no spreadsheet takes for a formula: an apostrophe before one that begins like one."""
    return f"'{text}" if text.startswith(FORMULA) else text
