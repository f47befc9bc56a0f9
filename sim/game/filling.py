"""What a short file leaves out: filled in by one pass before anything is checked, so that the full form alone is played.

Plain data in, plain data out.  What has the wrong shape is left as it is, for the checks of the full form to complain about.
Every default here is stated in `sim.game.short_words.LEFT_OUT`.
"""

from __future__ import annotations

from typing import Any

from sim.game.model import AFTER_A_GOAL

Table = dict[str, Any]

STANDARD_RESTARTS = ("start", "out")  # of every game, written or not
TEAM, SQUAD, PHASE = "team", "squad", "play"
BOUT_MINUTES, REST_MINUTES = 3, 1  # house defaults, without a source
PURPOSES = {"keep": "Keep the ball.", "home": "Bring the ball home.", "goal": "Score goals."}


class Filling:
    """A file while it is filled in: the data, and what has been filled in by dotted path."""

    def __init__(self, data: Table):
        self.data = data
        self.filled: Table = {}

    def put(self, path: tuple[str, ...], value: Any) -> None:
        """Fill in a value where its table is one and does not have it."""
        here: Any = self.data
        for part in path[:-1]:
            here = here.setdefault(part, {})
            if not isinstance(here, dict):
                return
        if path[-1] not in here:
            here[path[-1]] = value
            self.filled[".".join(path)] = value


def tables(data: Table, key: str) -> dict[str, Table]:
    """The tables under a key that are tables, by name."""
    held = data.get(key)
    return {name: one for name, one in held.items() if isinstance(one, dict)} if isinstance(held, dict) else {}


def teams_named(data: Table) -> list[str]:
    """The teams: as written, else those that the roles name, in the order of the file, else one."""
    if isinstance(data.get("teams"), dict):
        return list(data["teams"])
    listings = [role.get("players") for role in tables(data, "roles").values()]
    named = [team for listing in listings if isinstance(listing, dict) for team in listing]
    return list(dict.fromkeys(named)) or [SQUAD]


def _sides_of(name: str, role: Table, teams: list[str]) -> list[str]:
    """The sides that the players of a role are on: none for floaters."""
    side = role.get("side", TEAM if len(teams) > 1 else name)
    if side == TEAM:
        return list(role["players"]) if isinstance(role.get("players"), dict) else teams[:1]
    return [side] if isinstance(side, str) and side != "holder" else []


def sides(data: Table) -> list[str]:
    """The sides of a file by its roles, in its order."""
    teams = teams_named(data)
    found = [side for name, role in tables(data, "roles").items() for side in _sides_of(name, role, teams)]
    return list(dict.fromkeys(found))


def _people(filling: Filling) -> None:
    data = filling.data
    teams, areas = teams_named(data), tables(data, "areas")
    if "teams" not in data:
        for team in teams:
            filling.put(("teams", team), {})
    everywhere = next(iter(areas)) if len(areas) == 1 else "active"
    for name, role in tables(data, "roles").items():
        filling.put(("roles", name, "side"), TEAM if len(teams) > 1 else name)
        place = role.get("place")
        keeps = isinstance(place, str) and place in tables(data, "goals")
        filling.put(("roles", name, "style"), "goal" if keeps else "free")
        filling.put(("roles", name, "place"), everywhere)
        if role.get("side") == "holder" and role.get("style") == "goal":  # a support for either side
            filling.put(("roles", name, "tackled"), "never")
            filling.put(("roles", name, "hands"), False)
    if there := sides(data):
        filling.put(("start", "side"), there[0])
    elif "start" not in data:
        filling.filled["start"] = None  # follows once there are roles


def _ground(filling: Filling) -> None:
    for name, area in tables(filling.data, "areas").items():
        length = area.get("length")
        if isinstance(length, (int, float)) and length > 0:
            filling.put(("areas", name, "width"), length)
        elif "width" not in area:
            filling.filled[f"areas.{name}.width"] = None  # follows once the length is right


def _phase(filling: Filling) -> None:
    """The one phase of a file that writes none."""
    data = filling.data
    areas = tables(data, "areas")
    if not data.get("goals"):
        filling.put(("phases", PHASE, "aim"), "keep")
    if len(areas) == 1:
        filling.put(("phases", PHASE, "ball_in"), next(iter(areas)))


def _aim(filling: Filling) -> None:
    """What the only phase of a file with goals aims at, where it does not say so."""
    phases = tables(filling.data, "phases")
    if filling.data.get("goals") and len(phases) == 1:
        name, phase = next(iter(phases.items()))
        if "aim" not in phase:
            filling.put(("phases", name, "aim"), "goal")
            filling.put(("phases", name, "open"), ["shoot"])


def _clocks(filling: Filling) -> None:
    bouts = filling.data.get("bouts", {})
    if isinstance(bouts, dict):
        if "seconds" not in bouts:
            filling.put(("bouts", "minutes"), BOUT_MINUTES)
        if "rest_seconds" not in bouts:
            filling.put(("bouts", "rest_minutes"), REST_MINUTES)
    win = filling.data.get("win")
    if isinstance(win, dict):
        given = [word for word, key in (("hold", "seconds"), ("passes", "passes"), ("gate", "gate")) if key in win]
        if given:
            filling.put(("win", "confirm"), given[0])


def fill_restarts(filling: Filling) -> None:
    """A restart that does not say to whom is the standard one of its name, but for what it says."""
    start = filling.data.get("start")
    for name, restart in tables(filling.data, "restarts").items():
        if "to" in restart:
            continue
        if name in ("start", AFTER_A_GOAL) and isinstance(start, dict) and "side" in start:
            filling.put(("restarts", name, "to"), start["side"] if name == "start" else "other")
            areas = tables(filling.data, "areas")
            filling.put(("restarts", name, "area"), start.get("area", next(iter(areas), "active")))
        else:
            filling.put(("restarts", name, "to"), "other")


def _heading(filling: Filling, name: str) -> None:
    phase = next(iter(tables(filling.data, "phases").values()), {})
    aim = phase.get("aim", "keep")
    filling.put(("format",), 1)
    filling.put(("title",), name[:1].upper() + name[1:].replace("-", " ").replace("_", " "))
    filling.put(("purpose",), PURPOSES.get(aim, PURPOSES["keep"]) if isinstance(aim, str) else PURPOSES["keep"])


def fill(data: Table, name: str, phases_written: bool) -> Table:
    """Fill in what `data` leaves out, in place; `name` is the file's.  Returns what was filled in, by dotted path."""
    filling = Filling(data)
    _ground(filling)
    _people(filling)
    if not phases_written:
        _phase(filling)
    _aim(filling)
    _clocks(filling)
    fill_restarts(filling)
    _heading(filling, name)
    return filling.filled
