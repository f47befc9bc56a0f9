"""Load, save, load again: the same game, in either form; and yards are metres by the factor 0.9144."""

from __future__ import annotations

import copy

import pytest
import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from sim.game.loader import load_game, resolve, save_resolved, save_short, to_resolved, to_short

sizes = st.floats(2.2, 60, allow_nan=False)  # at least 2 m, also when they are taken for yards
shares = st.none() | st.floats(0.5, 0.995)
words = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Zl", "Zp"]), min_size=1, max_size=30)


sprints = st.fixed_dictionaries(
    {"metres": st.just([5, 10.5, 20, 35]), "seconds": st.just([1.192, 2.05, 3.396, 5.385])},
    optional={"offset_seconds": st.sampled_from([0.25, 0.3, 0.4, "estimated"])},
)
shuttles = st.fixed_dictionaries(
    {
        "speed_kmh": st.floats(14, 25),
        "age": st.floats(18, 40) | st.integers(18, 40),
        "weight_kg": st.floats(40, 90),
        "sex": st.sampled_from(["male", "female"]),
    }
)


@st.composite
def trials(draw, population: str) -> dict:
    """A player's fitness tests: any of them for adults, the sprint alone for U12."""
    found = draw(st.fixed_dictionaries({}, optional={"sprint": sprints}))
    if population == "women":
        distance = st.fixed_dictionaries({"intermittent_run": st.floats(500, 4000)})
        found |= draw(st.just({}) | distance | st.fixed_dictionaries({"shuttle": shuttles}))
    return found


@st.composite
def games(draw) -> dict:
    """A two-square keep-ball with most things drawn: sizes, places, people, rules, clocks."""
    areas = {
        "one": {"length": draw(sizes), "width": draw(sizes), "run_off": draw(st.floats(0, 10))}
        | draw(st.sampled_from([{}, {"out": "line"}])),
        "two": {
            "length": draw(sizes),
            "width": draw(sizes),
            "beside": "one",
            "on": draw(st.sampled_from(["west", "east", "south", "north"])),
            "gap": draw(st.floats(0, 20)),
        },
    }
    numbers = draw(st.lists(st.integers(10, 99), min_size=2, max_size=6, unique=True))
    action = st.sampled_from(
        [
            {"open": "transfer"},
            {"score": 0.5, "to": "winner"},
            {"swap": "loser", "with": "longest in"},
            {"assign": "chaser", "of": "all", "from": "chaser", "count": 1, "choose": "longest in"},
            {"restart": "out"},
            {"reset": "wins"},
            {"end": "bout"},
        ]
    )
    causes = draw(st.lists(st.sampled_from(["out", "tackle", "time limit"]), unique=True))
    rules = {
        "lost": {"on": "loss", "causes": causes, "do": draw(st.lists(action, min_size=1, max_size=4))},
        "run": {
            "on": "passes",
            "count": draw(st.integers(1, 20)),
            "each": draw(st.booleans()),
            "do": [{"open": "transfer"}],
        },
        "over": {"on": "transfer", "do": [{"score": 2, "to": "out"}]}
        | draw(st.sampled_from([{}, {"from": "one"}, {"to": "two"}, {"from": "two", "to": "one"}])),
        "late": {
            "on": "time",
            "count": draw(st.floats(1, 500)),
            "do": [{"close": "transfer"}, {"score": 1, "to": "in"}],
        },
    }
    population = draw(st.sampled_from(["women", "U12"]))
    known = {"recovery": draw(st.floats(20, 180))} | draw(trials(population))
    goals = {"far": {"at": "west end of one", "distance": draw(st.floats(0, 9)), "width": 2, "attacked_by": "any"}}
    return {
        "format": 1,
        "title": draw(words),
        "purpose": draw(words),
        "family": "transfer",
        "bouts": {
            "count": draw(st.integers(1, 9)),
            "minutes": draw(st.floats(0.1, 60)),
            "rest_minutes": draw(st.floats(0, 60)),
        },
        "start": {"side": "out", "area": draw(st.sampled_from(["one", "two"]))},
        "areas": areas,
        "goals": draw(st.sampled_from([{}, goals])),
        "teams": {"all": {"population": population, "pass_success": draw(shares)}},
        "roles": {
            "outer": {"side": "out", "style": "edge", "place": "active", "touches": 2, "players": numbers},
            "spare": {"side": "holder", "style": "wait", "place": "two", "players": ["somebody"]},
            "chaser": {"side": "in", "style": "free", "place": "active", "players": draw(st.integers(1, 4))},
        },
        "players": {"somebody": known},
        "phases": {"play": {"jobs": draw(st.sampled_from([{}, {"spare": "edge in one"}])), "rules": rules}},
        "load": draw(
            st.fixed_dictionaries(
                {},
                optional={
                    "jog_share": st.floats(0.1, 0.3),
                    "high_speed_share": st.floats(0.7, 0.85),
                    "acceleration_mps2": st.floats(0.5, 8),
                    "turn_degrees": st.floats(30, 170),
                },
            )
        ),
        "win": draw(st.sampled_from([{}, {"confirm": "hold", "seconds": 1.5}, {"confirm": "passes", "passes": 2}])),
    }


def plain(short: dict) -> dict:
    """Without the values that are None: TOML has no word for them."""
    return {
        key: plain(value) if isinstance(value, dict) else value for key, value in short.items() if value is not None
    }


@given(games())
def test_load_save_load_in_both_forms(tmp_path_factory, short):
    folder = tmp_path_factory.mktemp("games")
    file = folder / "game.toml"
    file.write_text(tomli_w.dumps(plain(short)), encoding="utf-8")
    game = load_game(file)
    save_short(game, folder / "short.toml")
    save_resolved(game, folder / "resolved.toml")
    assert load_game(folder / "short.toml") == game
    assert load_game(folder / "resolved.toml") == game


@given(games())
def test_plain_data_goes_round_too(short):
    game = resolve(plain(short), "drawn")
    assert resolve(to_short(game), "again") == game
    assert load_game(to_resolved(game)) == game


@given(games())
def test_the_layout_is_centred_and_apart(short):
    one, two = resolve(plain(short), "drawn").areas
    for low, high in ((0, 2), (1, 3)):
        lows, highs = [area.bounds[low] for area in (one, two)], [area.bounds[high] for area in (one, two)]
        assert min(lows) + max(highs) == pytest.approx(0, abs=1e-6)
    gap = short["areas"]["two"]["gap"]
    across = short["areas"]["two"]["on"] in ("west", "east")
    between = (
        abs(one.x - two.x) - (one.length + two.length) / 2
        if across
        else abs(one.y - two.y) - (one.width + two.width) / 2
    )
    assert between == pytest.approx(gap, abs=1e-6)


@given(games())
def test_yards_are_metres_times_0_9144(short):
    # The international yard of 1959: exactly 0.9144 m.
    metres, yards = plain(short), copy.deepcopy(plain(short)) | {"units": "yards"}
    for area in metres["areas"].values():
        area |= {key: area[key] * 0.9144 for key in ("length", "width", "run_off", "gap") if key in area}
    for goal in metres["goals"].values():
        goal |= {key: goal[key] * 0.9144 for key in ("distance", "width")}
    in_metres, in_yards = resolve(metres, "metres"), resolve(yards, "yards")
    for one, other in zip((*in_metres.areas, *in_metres.goals), (*in_yards.areas, *in_yards.goals), strict=True):
        for field, value in one.model_dump().items():
            expected = pytest.approx(value, abs=2e-9) if isinstance(value, float) else value
            assert getattr(other, field) == expected
    same = {"areas": (), "goals": ()}
    assert in_metres.model_copy(update=same) == in_yards.model_copy(update=same)
