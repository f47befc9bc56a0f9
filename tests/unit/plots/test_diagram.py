"""The diagram: its geometry, read back from the SVG, is the resolved game; its words can be read; markup in a name is no markup."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from matplotlib.colors import to_rgb
from matplotlib.patches import Rectangle
from matplotlib.text import Text

from sim.errors import InputError
from sim.evidence.tables import folder
from sim.experiments.places import starting_places
from sim.game.family import sides_at_start
from sim.game.loader import load_game
from sim.game.model import Game
from sim.game.shipped import shipped_games
from sim.game.whole import whole
from sim.pitch.goals import INWARD
from sim.plots.badges import DIAMETER, FLOATER, LOOKS, SLACK, spread
from sim.plots.diagram import STRIP, diagram, diagram_figure
from sim.plots.ground import GOAL_DEPTH_M, MOST_RUN_OFF, WIDTH, gid, side_of_server
from sim.plots.page import our_settings
from sim.words import diagram_words as drawn
from sim.words.areas import may_be_too_early
from tests.support.games import GAMES as SIX

CASES = Path(__file__).resolve().parents[2] / "cases" / "valid"
GAMES = [*SIX, str(CASES / "yards-and-goals.toml"), str(CASES / "two-homes.toml")]
SVG = "{http://www.w3.org/2000/svg}"
LINK = "{http://www.w3.org/1999/xlink}href"
CLOSE_M = 0.01
PHONE = 360  # pixels: the width of a small phone
READ = 8.0  # pixels: the least that letters are read at, from memory


class Drawn:
    """Elements of an SVG by id, in metres: a metre and the middle are taken from the scale bar and the first area alone."""

    def __init__(self, svg: bytes, game: Game):
        self.root = ElementTree.fromstring(svg)
        self.by_id = {one.get("id"): one for one in self.root.iter() if one.get("id")}
        (x0, y), (x1, _) = self.points("scale-bar")
        said = next(length for length in (1, 2, 5, 10, 20, 50) if drawn.scale_bar(length) in words_of(game))
        self.metre = (x1 - x0) / said
        west, south, east, north = self.edges(gid("area", game.areas[0].name))
        first = game.areas[0]
        self.middle = (west + east) / 2 - first.x * self.metre, (south + north) / 2 + first.y * self.metre

    def points(self, name: str) -> list[tuple[float, float]]:
        """All points of the paths and marks of an element, in the units of the page."""
        found = []
        for part in self.by_id[name].iter():
            if part.tag == f"{SVG}path" and not self.in_defs(part):
                numbers = [float(one) for one in re.findall(r"-?\d+\.?\d*(?:e-?\d+)?", part.get("d"))]
                found += list(zip(numbers[::2], numbers[1::2], strict=True))
            if part.tag == f"{SVG}use":
                found.append((float(part.get("x")), float(part.get("y"))))
        return found

    def in_defs(self, path: ElementTree.Element) -> bool:
        return any(path in list(defs.iter()) for defs in self.root.iter(f"{SVG}defs"))

    def edges(self, name: str) -> tuple[float, float, float, float]:
        """(west, south, east, north) on the page, whose y points down."""
        points = np.array(self.points(name))
        return points[:, 0].min(), points[:, 1].max(), points[:, 0].max(), points[:, 1].min()

    def in_metres(self, name: str) -> np.ndarray:
        west, south, east, north = self.edges(name)
        x, y = self.middle
        return np.array([west - x, y - south, east - x, y - north]) / self.metre


@cache
def texts_of(game: Game) -> list[Text]:
    with our_settings():
        return [text for text in diagram_figure(game).findobj(Text) if text.get_text()]


def words_of(game: Game) -> list[str]:
    return [text.get_text().replace("\N{NO-BREAK SPACE}", " ") for text in texts_of(game)]


@pytest.mark.parametrize("name", GAMES, ids=lambda name: Path(name).stem)
def test_geometry_read_back_is_the_resolved_game(name: str):
    game = load_game(name)
    found = Drawn(diagram(game, "svg"), game)
    for area in game.areas:
        assert found.in_metres(gid("area", area.name)) == pytest.approx(np.array(area.bounds), abs=CLOSE_M)
        strip = found.by_id.get(gid("run-off", area.name))
        if strip is not None:
            out = found.in_metres(gid("run-off", area.name)) - np.array(area.bounds)
            assert out == pytest.approx(np.array([-1, -1, 1, 1]) * area.run_off, abs=CLOSE_M)
            assert area.run_off <= MOST_RUN_OFF * max(area.length, area.width), (
                "none of these is drawn narrower than it is"
            )
    for goal in game.goals:
        along, across = INWARD[goal.end]
        half = np.array([goal.width / 2 * abs(across), goal.width / 2 * abs(along)])
        mouth, back = (
            np.array([goal.x, goal.y]),
            np.array([goal.x - along * GOAL_DEPTH_M, goal.y - across * GOAL_DEPTH_M]),
        )
        wanted = [*np.minimum(mouth, back) - half, *np.maximum(mouth, back) + half]
        assert found.in_metres(gid("goal", goal.name)) == pytest.approx(np.array(wanted), abs=CLOSE_M)
    places = starting_places(game)
    for player in game.players:
        spot = found.in_metres(gid("player", player.id))
        assert spot == pytest.approx(np.array([*places[player.id]] * 2), abs=CLOSE_M)


def test_the_run_off_that_is_played_in_is_drawn_dotted_and_said():
    for out, width, said in (("run-off", 1.0, True), ("line", 0.6, False)):
        game = load_game("tight-square", [f"areas.square.out={out}"])
        with our_settings():
            (box,) = (one for one in diagram_figure(game).findobj(Rectangle) if one.get_gid() == "run-off-square")
        assert box.get_linewidth() == width and isinstance(box.get_linestyle(), tuple | str)
        line = "Dotted line, 3 m outside square: play goes on up to there; those on the lines step back."
        assert (line in [text.replace("\n", " ") for text in words_of(game)]) is said


@pytest.mark.parametrize("name", ["tight-square", "two-squares"])
def test_the_run_off_covers_neither_an_area_nor_its_line(name: str):
    game = load_game(name)
    with our_settings():
        boxes = diagram_figure(game).findobj(Rectangle)
    (area,) = (one for one in boxes if one.get_gid() == gid("area", game.areas[0].name))
    above = [
        one
        for one in boxes
        if one.get_gid() == gid("run-off", game.areas[0].name) and one.get_zorder() > area.get_zorder()
    ]
    assert above != [] and not any(one.get_fill() and one.get_facecolor()[3] for one in above)
    under = [one for one in boxes if to_rgb(one.get_facecolor()) == to_rgb(STRIP) and one.get_facecolor()[3]]
    assert under != [] and max(one.get_zorder() for one in under) < area.get_zorder()


def test_a_run_off_inside_another_area_is_drawn_where_it_is_played_in():
    game = load_game(folder() / "games" / "break-away.toml")
    found = Drawn(diagram(game, "svg"), game)
    zone = game.area("square")
    out = found.in_metres(gid("run-off", "square")) - np.array(zone.bounds)
    assert out == pytest.approx(np.array([-1, -1, 1, 1]) * 2.0, abs=CLOSE_M)


def test_each_width_of_run_off_has_its_line():
    assert drawn.played_on(load_game("two-squares", ["areas.west.run_off=1.5"])) == [
        "Dotted line, 1.5 m outside west: play goes on up to there; those on the lines step back.",
        "Dotted line, 2 m outside east: play goes on up to there; those on the lines step back.",
    ]
    assert drawn.played_on(load_game("two-squares"))[0].startswith("Dotted line, 2 m outside west and east: ")
    assert drawn.played_on(load_game("even-goals")) == []


def written(name: str) -> dict:
    import tomllib

    return whole(tomllib.loads(shipped_games()[name].read_text(encoding="utf-8")), name).spec


def on_end() -> Game:
    """A long pitch that stands on end, with goals north and south."""
    data = written("even-goals")
    data["areas"]["pitch"] |= {"length": 30, "width": 100}
    keepers = {"north": "west-keeper", "south": "east-keeper"}
    data["goals"] = {
        f"{end}-goal": {"at": f"{end} end of pitch", "width": 7.3, "height": 2.4, "attacked_by": side}
        for end, side in (("north", "slate"), ("south", "amber"))
    }
    for end, role in keepers.items():
        data["roles"][role]["place"] = f"{end}-goal"
    return load_game(data)


def four_squares() -> Game:
    """Small squares two by two, the first with a name of forty letters."""
    data = written("two-squares")
    first, size = "a-square-with-a-name-of-forty-letters-xx", {"length": 6, "width": 6, "run_off": 1}
    data["areas"] = {first: size}
    for name, other, side in (("east", first, "east"), ("south", first, "south"), ("far", "south", "east")):
        data["areas"][name] = {**size, "beside": other, "on": side, "gap": 3}
    data["start"]["area"] = data["roles"]["west"]["place"] = first
    return load_game(data)


@pytest.mark.parametrize(
    "name", [*GAMES, on_end, four_squares], ids=lambda one: getattr(one, "__name__", None) or Path(one).stem
)
def test_everything_is_on_the_page_and_no_word_hides_a_player(name: object):
    game = name() if callable(name) else load_game(name)
    with our_settings():
        figure = diagram_figure(game)
        figure.draw_without_rendering()
        page = figure.bbox
        spots = [line for axis in figure.axes for line in axis.lines if str(line.get_gid()).startswith("player-")]
        assert len(spots) == len(game.players)
        words = [
            one for one in figure.findobj(Text) if one.get_text() not in ("", drawn.S) and not one.get_text().isdigit()
        ]
        for text in words:
            box = text.get_window_extent()
            assert page.x0 <= box.x0 and box.x1 <= page.x1 and page.y0 <= box.y0 and box.y1 <= page.y1, text.get_text()
            for line in spots:
                x, y = figure.axes[0].transData.transform([line.get_xdata()[0], line.get_ydata()[0]])
                assert not (box.x0 < x < box.x1 and box.y0 < y < box.y1), (text.get_text(), line.get_gid())
        for i, one in enumerate(words):
            for other in words[:i]:
                assert not one.get_window_extent().overlaps(other.get_window_extent()), (
                    one.get_text(),
                    other.get_text(),
                )


def test_it_can_be_read_on_a_phone_and_on_a_quarter_of_an_a4():
    assert pytest.approx(105 / 25.4, abs=0.01) == WIDTH
    smallest = min(text.get_fontsize() for name in GAMES for text in texts_of(load_game(name)))
    assert smallest * PHONE / (72 * WIDTH) >= READ, smallest


def many() -> Game:
    """Sixty players on a small field, some with names of forty letters and of markup."""
    data = written("even-keep-ball")
    data["areas"]["field"] |= {"length": 18, "width": 12}
    data["roles"]["player"]["players"] = {"amber": 28, "slate": 28}
    data["roles"]["floater"]["players"] = {"white": [LONG, "<script>alert('&')<", "$x^2$ & y", "Ali"]}
    return load_game(data)


def test_the_label_of_a_zone_is_no_wider_than_the_zone():
    short = {
        "areas": {"pitch": {"length": 30, "width": 20}},
        "zones": {"far": {"at": "east end of pitch", "depth": 7, "most": {"holder": 2}, "closed_to": ["other"]}},
        "roles": {"player": {"players": {"amber": 4, "slate": 4}}},
    }
    game = load_game(short)
    with our_settings():
        figure = diagram_figure(game)
        (axis, *_), renderer = figure.axes, figure.canvas.get_renderer()
        (label,) = [one for one in axis.texts if one.get_text().startswith("far,")]
        found = label.get_window_extent(renderer).transformed(axis.transData.inverted())
    lines = label.get_text().split("\n")
    assert lines[0] == "far," and len(lines) > 3 and " ".join(lines).endswith("with the ball up to 2")
    assert found.width <= game.zones[0].length


LONG = "Maximilian-Alexander von Hohenfels-Braun"


def test_sixty_players_stand_apart_each_with_his_number():
    game = many()
    assert len(game.players) == 60 and len(LONG) == 40
    said = " ".join(words_of(game)).replace("\n", " ")
    assert all(name in said for name in (f"1 {LONG}", "2 <script>alert('&')<", "3 $x^2$ & y", "4 Ali")), (
        "whole, in the key"
    )
    assert sum(text.isdigit() for text in words_of(game)) == 60
    found = Drawn(diagram(game, "svg"), game)
    places = starting_places(game)
    for player in game.players:
        assert found.in_metres(gid("player", player.id))[:2] == pytest.approx(np.array(places[player.id]), abs=CLOSE_M)


def test_badges_are_moved_only_where_they_must_be():
    apart = [(0.0, 0.0), (DIAMETER, 0.0), (0.0, 3 * DIAMETER)]
    assert spread(apart) == apart
    crowd = np.array(spread([(0.0, 0.0)] * 9 + [(5.0, 0.0), (500.0, 0.0)]))
    gaps = np.hypot(*(crowd[:, None] - crowd[None]).transpose(2, 0, 1))
    assert gaps[~np.eye(len(crowd), dtype=bool)].min() >= DIAMETER * (1 - SLACK)
    assert tuple(crowd[-1]) == (500.0, 0.0) and np.abs(crowd[:9]).max() < 4 * DIAMETER


def test_sides_differ_by_shape_and_not_by_colour_alone():
    looks = [*LOOKS, FLOATER]
    assert len({look.mark for look in looks}) == len(looks)
    grey = [float(np.dot(to_rgb(look.fill), (0.299, 0.587, 0.114))) for look in (*LOOKS[:2], FLOATER)]
    assert min(abs(a - b) for i, a in enumerate(grey) for b in grey[:i]) > 0.2, (
        "the three most used lie far apart in grey"
    )
    inks = [float(np.dot(to_rgb(look.ink), (0.299, 0.587, 0.114))) for look in looks]
    fills = [float(np.dot(to_rgb(look.fill), (0.299, 0.587, 0.114))) for look in looks]
    assert all(abs(ink - fill) > 0.4 for ink, fill in zip(inks, fills, strict=True))


def test_markup_in_a_name_is_no_markup():
    svg = diagram(many(), "svg")
    root = ElementTree.fromstring(svg)
    assert (
        b"<script" not in svg
        and {one.tag for one in root.iter() if isinstance(one.tag, str) and "script" in one.tag} == set()
    )
    ids = [one.get("id") for one in root.iter() if one.get("id")]
    assert all(re.fullmatch(r"[A-Za-z0-9_.#-]+", one) for one in ids) and len(set(ids)) == len(ids)


def test_two_names_never_share_an_id():
    assert len({gid("player", name) for name in ("a b", "a_b", "a-b", "a_20_b", "<", "_3c_")}) == 6


def test_names_in_letters_that_we_cannot_draw_are_refused():
    game = load_game("tight-square").model_copy(update={"title": "\N{CJK UNIFIED IDEOGRAPH-7403} now"})
    with pytest.raises(InputError, match="must be written in letters that our font has"):
        diagram(game, "png")


@pytest.mark.parametrize("suffix", ["png", "svg", "pdf"])
def test_the_same_game_gives_the_same_bytes(suffix: str):
    game = load_game("two-squares")
    assert diagram(game, suffix) == diagram(game, suffix)


UNLOCKING = {
    "break-away": [
        "in keep, 8 passes in a row: two become runners, two become recoverers and on to break",
        "in keep, ball lost: the loser swaps with whoever has been in longest",
        "in break, goal: 1 point and back to keep",
        "in break, ball lost: 1 point and back to keep",
        "in break, after 8 s: back to keep",
    ],
    "even-goals": ["goal: 1 point"],
    "even-keep-ball": ["each 8 passes in a row: 1 point"],
    "home-grids": [
        "ball brought home: all become home players and three become chasers",
        "each 6 passes in a row: 1 point",
    ],
    "tight-square": ["ball lost: the loser swaps with whoever has been in longest"],
    "two-squares": [
        "4 passes in a row: they can play across",
        "played across: 1 point",
        "ball lost: the loser swaps with whoever has been in longest",
    ],
}


@pytest.mark.parametrize("name", SIX)
def test_what_unlocks_what(name: str):
    assert drawn.unlocking(load_game(name)) == UNLOCKING[name]


def test_sizes_stand_in_metres_and_paces_and_in_the_yards_of_the_file():
    square = load_game("tight-square")
    assert drawn.area_label(square, square.areas[0]) == ["square", "11 x 11 m", "15 x 15 paces"]
    yards = load_game(CASES / "yards-and-goals.toml")
    assert drawn.area_label(yards, yards.area("ground"), "yd") == [
        "ground",
        "60 x 40 yd (54.9 x 36.6 m)",
        "73 x 49 paces",
    ]
    grids = load_game("home-grids")
    assert drawn.area_label(grids, grids.area("east"))[0] == "east, home of slate"
    assert "75 cm" in drawn.PACE


def test_who_has_the_ball_first_and_how_many_there_are():
    game = load_game("tight-square")
    assert drawn.stock(game) == "S: the server with 8 balls; outside have the first. A new one comes after 4 s."
    assert [group.text for group in drawn.groups_of(game)] == ["outside: 1, 2, 3, 4", "inside: 5, 6"]
    goals = drawn.groups_of(load_game("even-goals"))
    assert [group.text for group in goals if group.keeper] == ["amber, west-keeper: 6", "slate, east-keeper: 6"]
    assert drawn.groups_of(load_game("even-keep-ball"))[-1].text == "floater, with whoever has the ball, in white: 1, 2"


def test_the_server_has_a_free_way_in():
    assert side_of_server(load_game("two-squares")) == (0, -1)
    assert side_of_server(load_game(CASES / "two-homes.toml")) == (0, 1), "the other area lies south of where it starts"
    assert side_of_server(on_end()) == (-1, 0), "goals stand south and north"


def test_a_goal_says_when_it_counts():
    game = load_game("break-away")
    allowed = drawn.opened_by(game, "shoot")
    assert drawn.goal_of(game.goals[0], allowed) == ["5 m, builders score", "after 8 passes in a row"]
    game = load_game("even-goals")
    goal = next(one for one in game.goals if one.name == "east-goal")
    assert drawn.goal_of(goal, drawn.opened_by(game, "shoot")) == ["5 m, amber score"], "from the start"


def test_what_is_open_to_one_side_alone_says_for_whom():
    game = load_game(CASES.parent / "language" / "shots-for-one.toml")
    said = drawn.opened_by(game, "shoot")
    assert said.startswith("for slate; after ") and said.endswith(" by amber, for amber")
    (phase,) = game.phases
    ruled = phase.model_copy(update={"open_for": ()})
    assert drawn.opened_by(game.model_copy(update={"phases": (ruled,)}), "shoot") == said.removeprefix("for slate; ")
    alone = phase.model_copy(update={"rules": ()})
    assert drawn.opened_by(game.model_copy(update={"phases": (alone,)}), "shoot") == "for slate"
    assert drawn.opened_by(game.model_copy(update={"phases": (alone,)}), "transfer") == ""


def test_a_ball_across_is_too_early_only_for_a_side_that_has_to_earn_it():
    game = load_game("two-squares")
    assert may_be_too_early(game)
    sides = tuple((side, ("transfer",)) for side in sides_at_start(game))
    phases = tuple(one.model_copy(update={"open": (), "open_for": sides}) for one in game.phases)
    assert not may_be_too_early(game.model_copy(update={"phases": phases})), "open to both from the start"
    half = tuple(one.model_copy(update={"open_for": sides[:1]}) for one in phases)
    assert may_be_too_early(game.model_copy(update={"phases": half})) or len(sides) == 1
