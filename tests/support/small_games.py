"""Small games drawn at random over most of the language, for what has to hold in any game."""

from __future__ import annotations

import random

from sim.errors import InputError
from sim.game.loader import resolve
from sim.game.model import Game

SECONDS = 20.0


def drawn(seed: int) -> Game:
    """One accepted game; the same seed draws the same."""
    dice = random.Random(seed)
    while True:
        try:
            return resolve(short(dice), f"drawn-{seed}")
        except InputError:
            continue


def short(dice: random.Random) -> dict:
    """The short form of a game, which may yet be refused."""
    side = dice.choice([8.0, 12.0, 20.0, 30.0, round(dice.uniform(8.0, 30.0), 2)])
    areas = {"one": {"length": side, "width": dice.choice([side, 0.75 * side, round(0.7 * side, 1)])}}
    layout = dice.choice(["one", "one", "two", "inner"])
    if layout == "two":
        gap = dice.choice([0.0, 4.0, 3.3])
        areas["two"] = areas["one"] | {
            "beside": "one",
            "on": dice.choice(["east", "west", "south", "north"]),
            "gap": gap,
        }
    if layout == "inner":
        areas["two"] = {"length": side / 2, "width": side / 2, "within": "one"}
    aim = dice.choice(["keep", "goal", "goal", "home"]) if layout != "one" else dice.choice(["keep", "goal", "goal"])
    goals = drawn_goals(dice, aim, side)
    roles = drawn_roles(dice, list(areas), list(goals), aim)
    teams = {"amber": {}, "slate": {}, "white": {}}
    if aim == "home":
        teams["amber"]["home"], teams["slate"]["home"] = "one", "two"
    jobs = {}
    if dice.random() < 0.25:
        jobs = {name: f"wait in {dice.choice(list(areas))}" for name in roles if dice.random() < 0.5}
    used = {team for role in roles.values() for team in role["players"]}
    rules = drawn_rules(dice, aim)
    sources = (
        ["server", "line", "keeper"] if any(role["style"] == "goal" for role in roles.values()) else ["server", "line"]
    )
    return {
        "format": 1,
        "title": "Drawn",
        "purpose": "Whatever comes.",
        "hold_limit_seconds": dice.choice([1.0, 3.0, 6.0]),
        "bouts": {"count": 1, "seconds": SECONDS, "rest_seconds": 0.0},
        "start": {"side": dice.choice(["amber", "slate"])},
        "areas": areas,
        "goals": goals,
        "teams": {name: table for name, table in teams.items() if name in used},
        "roles": roles,
        "phases": {"play": {"aim": aim, "open": drawn_open(dice, areas, goals, aim), "rules": rules, "jobs": jobs}},
        "restarts": {
            name: {"to": "other", "from": dice.choice(sources), "seconds": dice.choice([0.0, 2.0])}
            for name in ("start", "out")
        },
        "win": dice.choice([{}, {"confirm": "hold", "seconds": 1.0}, {"confirm": "passes", "passes": 2}]),
    }


def drawn_goals(dice: random.Random, aim: str, side: float) -> dict:
    """Goals at the ends, or anywhere inside, often as far from one place as from another."""
    if aim == "home" or (aim == "keep" and dice.random() < 0.5):
        return {}
    at = lambda end: {"at": f"{end} end of one", "width": 3.0}  # noqa: E731
    inside = lambda x, y, end: {"centre": [x * side, y * side], "end": end, "width": 2.0}  # noqa: E731
    return dice.choice(
        [
            {"g": at("west") | {"attacked_by": "slate"}, "f": at("east") | {"attacked_by": "amber"}},
            {"g": at("west"), "f": at("east")},
            {"g": at("west"), "f": at("east"), "h": at("south"), "d": at("north")},
            {"g": inside(-0.25, 0.0, "west"), "f": inside(0.25, 0.0, "east")},
            {"g": inside(-0.25, 0.25, "east"), "f": inside(0.25, 0.25, "west"), "h": inside(0.0, -0.25, "north")},
            {"g": inside(0.2, 0.2, "east"), "f": inside(0.2, -0.2, "east"), "h": inside(-0.2, 0.2, "south")},
        ]
    )


def drawn_roles(dice: random.Random, areas: list[str], goals: list[str], aim: str) -> dict:
    place = lambda: "home" if aim == "home" else dice.choice([*areas, "active", "one", "one"])  # noqa: E731
    style = lambda: dice.choice(["free", "free", "free", "edge", "wait"])  # noqa: E731
    count = lambda: dice.randint(1, 4)  # noqa: E731
    roles = {
        "first": {"side": "team", "style": "free", "place": place(), "players": {"amber": count(), "slate": count()}},
        "more": {"side": "amber", "style": style(), "place": place(), "players": {"amber": count()}},
        "less": {"side": "slate", "style": style(), "place": place(), "players": {"slate": count()}},
    }
    if dice.random() < 0.4:
        roles["floater"] = {
            "side": "holder",
            "style": style(),
            "place": place(),
            "players": {"white": dice.randint(1, 2)},
        }
    if goals and dice.random() < 0.6:
        for team, goal in zip(dice.choice([("amber", "slate"), ("white", "white")]), goals, strict=False):
            side = "holder" if team == "white" else "team"
            roles[f"keeper-{goal}"] = {"side": side, "style": "goal", "place": goal, "players": {team: 1}}
    for role in roles.values():
        role["touches"] = dice.choice(["free", 1, 2, 3])
        role["positions"] = dice.choice(["free", "free", "fixed"])
        role["width"], role["depth"] = dice.choice([0.8, 1.0, 1.2]), dice.choice([0.8, 1.0, 1.2])
        role["press"], role["marking"] = dice.choice([0.0, 0.5, 1.0]), dice.choice([0.0, 0.5, 1.0])
    return roles


def drawn_open(dice: random.Random, areas: dict, goals: dict, aim: str) -> list[str]:
    found = ["shoot"] if goals and aim == "goal" else []
    return [*found, "transfer"] if len(areas) > 1 and aim != "home" and dice.random() < 0.7 else found


def drawn_rules(dice: random.Random, aim: str) -> dict:
    rules: dict = {"point": {"on": "passes", "count": 3, "each": True, "do": [{"score": 1, "to": "holder"}]}}
    if dice.random() < 0.5:
        rules["lost"] = {"on": "loss", "do": [{"restart": "start"}]}
    if aim == "goal":
        rules["goal"] = {"on": "goal", "do": [{"score": 2, "to": "holder"}, {"restart": "start"}]}
    if aim == "home":
        rules["home"] = {"on": "home", "do": [{"score": 1, "to": "holder"}]}
    return rules
