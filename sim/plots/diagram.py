"""The diagram of a game, to scale from the resolved game: ground, goals, players where they start, balls, and what unlocks what.

As wide as a quarter of an A4, so that it can be read on a phone and in print; on a sheet narrower or wider.  What
stands for a part of the game has its name
as id in the SVG: ``area-west``, ``run-off-west``, ``goal-east-goal``, ``player-squad-3``, ``scale-bar``.
"""

from __future__ import annotations

import io
import re
import textwrap
from collections.abc import Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patches import FancyArrowPatch, Rectangle

from sim.errors import InputError
from sim.experiments.places import starting_places
from sim.game.borders import lies_in
from sim.game.equipment import cone_places
from sim.game.family import side_of
from sim.game.model import Area, Game
from sim.geometry import INWARD, is_upright
from sim.plots.badges import DIAMETER, NUMBER, spread
from sim.plots.bibs import wardrobe
from sim.plots.fonts import missing
from sim.plots.gates import draw_gates
from sim.plots.ground import (
    GOAL_DEPTH_M,
    POINTS,
    WIDTH,
    Ground,
    around,
    boxes,
    facing,
    gid,
    ground_of,
    grown,
    run_off_drawn,
    side_of_server,
)
from sim.plots.key import GAP, MARGIN, TEXT, draw_badge, foot_of, write_foot
from sim.plots.look import FAINT, HARD, INK, LABEL, LEAST_LABEL, LETTER, wrapped
from sim.plots.page import DPI, UNDATED, inches, our_settings
from sim.plots.room import Box, Room, box_at
from sim.plots.zones import draw_zones
from sim.words import diagram_words as words
from sim.words.ground_words import as_drawn

SCALE_ROOM = 0.2  # inches for the scale bar under everything on the ground
SERVER_OFF = 9.0  # points off the ground
ARROW = (11.0, 36.0)  # points in front of a goal, clear of its keeper
CONE = 3.5
SHORTEST_WAY = 22.0  # points
WAYS_OFF = (3, 10, 17, 24, 31, 38, 45)  # points from an arrow to its label
TITLE = 10.0
GRASS, ZONE, STRIP = "#eef1e8", "#dfe5d4", "#fafaf7"
SCALES = (1, 2, 5, 10, 20, 50)
BAR = 0.3  # of the ground's width at most
MOST_BALLS = 12  # drawn one by one; the words have the number
DASH, DOTS = (0, (4, 2)), (0, (1.5, 1.5))
EDGE_OFF, EDGE_SHARES = (
    1.0,
    (0.5, 0.25, 0.75, 0.12, 0.88, 0.04, 0.96),
)  # letters off the ground, and where along its edges
SIZES = re.compile(r"(?<=\d) x (?=\d)")
BACK = {"facecolor": "white", "edgecolor": "none", "alpha": 0.85, "pad": 0.8}
Point = tuple[float, float]
"""(x, y) on the ground, in metres."""
LineStyle = str | tuple[float, tuple[float, ...]]


def diagram(game: Game, suffix: str, changes: Sequence[str] = (), unit: str = "m") -> bytes:
    """The diagram as a PNG, SVG or PDF file; `unit` is what lengths are written in ("m" or "yd")."""
    place = io.BytesIO()
    with our_settings():
        diagram_figure(game, changes, unit).savefig(place, format=suffix, dpi=2 * DPI, metadata=UNDATED[suffix])
    return place.getvalue()


def diagram_figure(game: Game, changes: Sequence[str] = (), unit: str = "m", page: float = WIDTH) -> Figure:
    """The figure, `page` inches wide, with room for its words by their lines.  Best called within `our_settings`."""
    ground = ground_of(game, page)
    head = wrapped(game.title, page - 2 * MARGIN, 1.1 * TITLE)
    foot = foot_of(game, changes, page)
    require_letters(
        [head, *(line for _, line in foot), *(line for area in game.areas for line in words.area_label(game, area))]
    )
    _, room = laid(game, ground, unit, 0.0, 0.0, 1.0)  # what is taken beyond the ground is known when all is placed
    south, north = (end * ground.scale for end in ground.bounds[1::2])
    above = max(0.0, max(box[3] for box in room.taken) - north) / POINTS
    below = max(0.0, south - min(box[1] for box in room.taken)) / POINTS + SCALE_ROOM
    low = MARGIN + sum(inches(text, TEXT) + GAP for _, text in foot)
    tall = low + below + ground.high + above + 2 * MARGIN + inches(head, TITLE)
    figure, _ = laid(game, ground, unit, low + below, below, tall)
    figure.text(
        MARGIN / page, 1 - MARGIN / tall, head, ha="left", va="top", size=TITLE, weight="bold", parse_math=False
    )
    write_foot(figure, foot, low / tall)
    return figure


def laid(game: Game, ground: Ground, unit: str, up: float, below: float, tall: float) -> tuple[Figure, Room]:
    """The ground `up` inches from the foot of a page so tall, with everything on it, and what that takes up."""
    figure = Figure(figsize=(ground.page, tall))
    FigureCanvasAgg(figure)
    left = (ground.page - ground.wide) / 2
    axis = figure.add_axes((left / ground.page, up / tall, ground.wide / ground.page, ground.high / tall))
    west, south, east, north = ground.bounds
    axis.set(xlim=(west, east), ylim=(south, north))
    axis.set_axis_off()
    room = Room()
    draw_ground(axis, game)
    draw_players(axis, game, ground, room)
    draw_server(axis, game, ground, room)
    draw_goals(axis, game, ground, room)
    for text, places in (*draw_zones(axis, game, ground), *draw_gates(axis, game, ground)):
        write_label(axis, ground, room.place(text, LABEL, places), text)
    draw_ways(axis, game, ground, room)
    name_areas(axis, game, ground, room, unit)
    name_edges(axis, game, ground, room)
    draw_scale(axis, ground, left, below)
    return figure, room


def draw_ground(axis: Axes, game: Game) -> None:
    """Free ground, areas and the zones inside them, every cone that is carried out."""
    for area in game.areas:
        zone, played = len(around(game, area)), bool(area.run_off_in_play)
        if run_off_drawn(area) and (played or not zone):
            west, south, east, north = grown(area.bounds, run_off_drawn(area))
            place, wide, high = (west, south), east - west, north - south
            if not zone:
                axis.add_patch(Rectangle(place, wide, high, facecolor=STRIP, edgecolor="none", zorder=1, clip_on=False))
            box = Rectangle(
                place, wide, high, facecolor="none", edgecolor=INK if played else FAINT,
                linewidth=1.0 if played else 0.6, linestyle=DOTS, zorder=3 if played else 1, clip_on=False,
            )  # fmt: skip
            box.set_gid(gid("run-off", area.name))
            axis.add_patch(box)
    for area in game.areas:
        west, south, east, north = area.bounds
        zone = len(around(game, area))
        box = Rectangle(
            (west, south), area.length, area.width, facecolor=ZONE if zone else GRASS, edgecolor=INK,
            linewidth=1.0 if zone else 1.5, linestyle=DASH if zone else "-", zorder=2 + zone / len(game.areas), clip_on=False,
        )  # fmt: skip
        box.set_gid(gid("area", area.name))
        axis.add_patch(box)
    (cones,) = axis.plot(
        *zip(*cone_places(game), strict=True),
        "^",
        color=INK,
        markersize=CONE,
        linestyle="none",
        zorder=4,
        clip_on=False,
    )
    cones.set_gid("cones")


def label_for(game: Game, area: Area, ground: Ground, unit: str) -> str:
    """Name, size and paces in lines that fit over the area; of a zone as few as can be, as the ground around it is in use."""
    tell = as_drawn(game)
    lines = [tell(line) for line in words.area_label(game, area, unit)]
    wide = max(LEAST_LABEL, area.length * ground.scale)
    return "\n".join(
        part for line in ([", ".join(lines)] if around(game, area) else lines) for part in broken(line, wide)
    )


def name_areas(axis: Axes, game: Game, ground: Ground, room: Room, unit: str) -> None:
    """Each area's label over its north line, or under its south line, or inside, wherever it covers least."""
    off = DIAMETER / 2 + 1.0
    for area in sorted(game.areas, key=lambda one: len(around(game, one))):
        text = label_for(game, area, ground, unit)
        west, south, east, north = (end * ground.scale for end in area.bounds)
        wide, high = (2 * half for half in box_at(0, 0, text, LABEL)[2:])
        x, up = (west + east) / 2, off + high / 2
        inside = [
            (px, py) for py in (north - up, south + up) for px in (x, west + wide / 2 + off, east - wide / 2 - off)
        ]
        beside = wide / 2 + SERVER_OFF
        ends = (max(west, x - beside), min(east, x + beside)) if wide < east - west else (x,)
        places = [(x, north + up), (x, south - up), *((px, py) for py in (north + up, south - up) for px in ends)]
        page, middle = (
            POINTS * ground.page / 2 - wide / 2 - 2.0,
            ground.scale * (ground.bounds[0] + ground.bounds[2]) / 2,
        )
        sides = [(px, (south + north) / 2) for px in (west - wide / 2 - off, east + wide / 2 + off)]
        top = ground.bounds[3] * ground.scale + 2 * SERVER_OFF + high / 2  # over a server who stands there
        places += [*(one for one in sides if abs(one[0] - middle) < page), (x, top)]
        others = [one for one in game.areas if one is not area and one not in around(game, area)]
        at = room.place(text, LABEL, [*places, *inside], boxes(others, ground))
        write_label(axis, ground, at, text)


def name_edges(axis: Axes, game: Game, ground: Ground, room: Room) -> None:
    """The words of the ground at the edges of the picture, each where it covers least along its edge, or beyond everything."""
    west, south, east, north = (end * ground.scale for end in ground.bounds)
    off = LABEL * EDGE_OFF
    for compass, said in words.edges_of(game).items():
        upright = is_upright(compass)
        low, high = (south, north) if upright else (west, east)
        edge = {"west": west - off, "east": east + off, "south": south - off, "north": north + off}[compass]
        places = [(one, edge) for one in (low + share * (high - low) for share in EDGE_SHARES)]
        if compass == "south":
            places.append(((low + high) / 2, min(box[1] for box in room.taken) - off))
        if compass == "north":
            places.append(((low + high) / 2, max(box[3] for box in room.taken) + off))
        at = room.place(said, LABEL, [(y, x) for x, y in places] if upright else places, upright=upright)
        write_label(axis, ground, at, said, upright, bold=True)


def write_label(axis: Axes, ground: Ground, at: Point, text: str, upright: bool = False, bold: bool = False) -> None:
    """A label with its middle `at` a place in points; `upright`: turned by a quarter."""
    axis.text(
        at[0] / ground.scale, at[1] / ground.scale, text, ha="center", va="center", rotation=90 if upright else 0,
        size=LABEL, linespacing=1.05, zorder=9, bbox=BACK, parse_math=False, weight="bold" if bold else "normal",
    )  # fmt: skip


def broken(line: str, points: float) -> list[str]:
    """A label in lines of so many points, long names broken where they must be, sizes never."""
    return textwrap.wrap(
        SIZES.sub(f"{HARD}x{HARD}", line), max(8, int(points / (LETTER * LABEL))), break_on_hyphens=False
    )


def draw_goals(axis: Axes, game: Game, ground: Ground, room: Room) -> None:
    """A box behind each goal line, an arrow at its mouth for who goes for it, and its width and when goals count behind it."""
    allowed, tell = words.opened_by(game, "shoot"), as_drawn(game)
    for goal in game.goals:
        along, across = INWARD[goal.end]
        if along:
            corner = (goal.x - (GOAL_DEPTH_M if along > 0 else 0.0), goal.y - goal.width / 2)
            wide, high = GOAL_DEPTH_M, goal.width
        else:
            corner = (goal.x - goal.width / 2, goal.y - (GOAL_DEPTH_M if across > 0 else 0.0))
            wide, high = goal.width, GOAL_DEPTH_M
        box = Rectangle(
            corner, wide, high, facecolor="white", edgecolor=INK, linewidth=1.4, hatch="xxxxx", zorder=4, clip_on=False
        )
        box.set_gid(gid("goal", goal.name))
        axis.add_patch(box)
        if allowed:
            near, far = (ground.metres(points) for points in ARROW)
            mouth, start = ((goal.x + along * m, goal.y + across * m) for m in (near, far))
            draw_arrow(axis, start, mouth)
            room.taken.append(shaft_box(ground, start, mouth))
        most = POINTS * (ground.high if along else ground.wide)
        text = "\n".join(part for line in words.goal_of(goal, allowed) for part in broken(tell(line), most))
        off = 2.0 + len(text.split("\n")) * LABEL * 0.6
        x, y = goal.x - along * GOAL_DEPTH_M, goal.y - across * GOAL_DEPTH_M
        at = x * ground.scale - along * off, y * ground.scale - across * off
        room.taken.append(box_at(*at, text, LABEL, bool(along)))
        write_label(axis, ground, at, text, bool(along))


def shaft_box(ground: Ground, start: Point, end: Point) -> Box:
    """What an arrow takes up, in points."""
    (west, east), (south, north) = sorted((start[0], end[0])), sorted((start[1], end[1]))
    return grown(ground.box((west, south, east, north)), 2)


def draw_arrow(axis: Axes, start: Point, end: Point, both: bool = False, line: LineStyle = "-") -> None:
    """An arrow from `start` to `end`; `both`: and back."""
    axis.add_patch(
        FancyArrowPatch(
            start,
            end,
            arrowstyle="<|-|>" if both else "-|>",
            mutation_scale=7,
            color=INK,
            linewidth=1.1,
            linestyle=line,
            shrinkA=0,
            shrinkB=0,
            zorder=5,
            clip_on=False,
        )
    )


def draw_ways(axis: Axes, game: Game, ground: Ground, room: Room) -> None:
    """Between areas that the ball is played across: an arrow each, and once what allows it."""
    homes = any("home" in phase.all_aims for phase in game.phases)
    text = as_drawn(game)(words.opened_by(game, "transfer") or (words.HOME if homes else ""))
    start = game.area(game.start_area)
    places: list[Point] = []
    said = ""
    for area in words.played_across_to(game) if text else ():
        if area is start or lies_in(area, start) or lies_in(start, area):
            continue
        one, other = (np.array(end) * ground.scale for end in (facing(start, area), facing(area, start)))
        (x, y), gap = (one + other) / 2, float(np.hypot(*(other - one)))
        way = np.array([area.x - start.x, area.y - start.y])
        half = max(gap, SHORTEST_WAY) / 2 * way / np.hypot(*way)
        tail, head = (ground.point(np.array([x, y]) + sign * half) for sign in (-1, 1))
        draw_arrow(axis, tail, head, both=True)
        room.taken.append(shaft_box(ground, tail, head))
        said = said or "\n".join(broken(text, max(LEAST_LABEL, gap)))
        _, _, wide, high = box_at(0, 0, said, LABEL)
        places += [(x, y + sign * (high + far)) for far in WAYS_OFF for sign in (1, -1)]
        places += [(x + sign * (wide + far), y) for far in WAYS_OFF[:3] for sign in (1, -1)]
    if said:
        write_label(axis, ground, room.place(said, LABEL, places), said)


def draw_server(axis: Axes, game: Game, ground: Ground, room: Room) -> None:
    """The server beside the ground with his balls, playing in to where it starts."""
    start = game.area(game.start_area)
    sx, sy = side_of_server(game)
    west, south, east, north = ground.bounds
    off = ground.metres(SERVER_OFF)
    x = start.x if sy else (west - off if sx < 0 else east + off)
    y = start.y if sx else (south - off if sy < 0 else north + off)
    axis.plot(
        [x], [y], "s", color=INK, markersize=8, markerfacecolor="white", markeredgewidth=1.2, zorder=7, clip_on=False
    )
    axis.text(x, y, words.S, ha="center", va="center_baseline", size=NUMBER, weight="bold", zorder=8)
    first, step = ground.metres(9.0), ground.metres(5.2)
    rows = [first + step * i for i in range(min(game.supply.balls, MOST_BALLS))]
    xs, ys = ([x + far for far in rows], [y] * len(rows)) if sy else ([x] * len(rows), [y - far for far in rows])
    (balls,) = axis.plot(xs, ys, "o", color=INK, markersize=3.6, markerfacecolor="white", zorder=7, clip_on=False)
    balls.set_gid("balls")
    px, py = x * ground.scale, y * ground.scale
    long = 12.0 + 5.2 * len(rows)
    room.taken.append((px - 6, py - 6, px + long, py + 6) if sy else (px - 6, py - long, px + 6, py + 6))
    west, south, east, north = start.bounds
    edge = (x, south if sy < 0 else north) if sy else (west if sx < 0 else east, y)
    draw_arrow(axis, (x - sx * ground.metres(5.0), y - sy * ground.metres(5.0)), edge, line=DASH)
    room.taken.append(shaft_box(ground, (x, y), edge))


def draw_players(axis: Axes, game: Game, ground: Ground, room: Room) -> None:
    """Everybody where he starts: the spot, his badge on it or beside it, his shirt number."""
    places = starting_places(game)
    worn = wardrobe(game)
    players = sorted(game.players, key=words.shirt)
    spots = [places[player.id] for player in players]
    badges = spread([(x * ground.scale, y * ground.scale) for x, y in spots])
    for player, (x, y), (px, py) in zip(players, spots, badges, strict=True):
        at = px / ground.scale, py / ground.scale
        (spot,) = axis.plot([x], [y], ".", color=INK, markersize=2.5, zorder=6, clip_on=False)
        spot.set_gid(gid("player", player.id))
        axis.plot([x, at[0]], [y, at[1]], color=INK, linewidth=0.6, zorder=6, clip_on=False)
        wears = worn.keeper if game.role(player.role).style == "goal" else worn.look
        own = wears(side_of(game, player), player.team)
        draw_badge(axis, *at, own, 1.0)
        room.taken.append((px - DIAMETER / 2, py - DIAMETER / 2, px + DIAMETER / 2, py + DIAMETER / 2))
        low = own.low * ground.metres(DIAMETER)
        axis.text(at[0], at[1] - low, str(player.number), ha="center", va="center_baseline", size=NUMBER, weight="bold",
                  color=own.ink, zorder=8)  # fmt: skip


def draw_scale(axis: Axes, ground: Ground, left: float, below: float) -> None:
    """A bar of whole metres at the foot of the ground, with its paces."""
    west, south, east, _ = ground.bounds
    length = max((one for one in SCALES if one <= BAR * (east - west)), default=SCALES[0])
    y = south - ground.metres(POINTS * (below - SCALE_ROOM / 2))
    x = west - ground.metres(POINTS * (left - MARGIN))
    (bar,) = axis.plot(
        [x, x + length], [y, y], color=INK, linewidth=2.2, solid_capstyle="butt", zorder=7, clip_on=False
    )
    bar.set_gid("scale-bar")
    axis.text(x + length + ground.metres(4.0), y, words.scale_bar(length), ha="left", va="center", size=LABEL)


def require_letters(texts: Sequence[str]) -> None:
    """Refuse names in letters that the font has no picture of: nobody could read them."""
    if strange := missing(texts):
        raise InputError(words.no_letters(strange), "names")
