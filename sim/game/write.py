"""Writing games: back into the short form, and both forms to TOML.

A game read from either file is equal to the one written.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from sim.game.counters import Conditions
from sim.game.lines import manned
from sim.game.model import Game, Player, Role, Team
from sim.game.resolve import ENDS, INSTRUCTIONS, NEXT
from sim.game.schema import FIRST_LINE
from sim.game.terms import Bouts, Loss
from sim.game.trials import ESTIMATED
from sim.game.verbs import Action
from sim.populations import KEY_ABILITIES
from sim.units import SECONDS_PER_MINUTE


def _given(table: dict[str, Any]) -> dict[str, Any]:
    """The table without what is not set."""
    return {key: value for key, value in table.items() if value is not None}


def _key_abilities(values: Any) -> dict[str, float]:
    """The key abilities that are given, of a team or a player."""
    return _given({key: getattr(values, key) for key in KEY_ABILITIES})


def _tests(player: Player) -> dict[str, Any]:
    """A player's fitness tests."""
    tests: dict[str, Any] = {"intermittent_run": player.intermittent_run}
    if player.sprint is not None:
        late = player.sprint.offset_seconds
        tests["sprint"] = {
            "metres": list(player.sprint.metres),
            "seconds": list(player.sprint.seconds),
            "offset_seconds": ESTIMATED if late is None else late,
        }
    if player.shuttle is not None:
        tests["shuttle"] = player.shuttle.model_dump()
    return _given(tests)


def _limits(player: Player) -> dict[str, Any]:
    """What a player may not do."""
    never = {
        "touches": player.touches,
        "never": list(player.never) or None,
        "tackles": None if player.tackles else False,
        "most_bouts": player.most_bouts,
        "most_minutes": None if player.most_seconds is None else player.most_seconds / SECONDS_PER_MINUTE,
    }
    return _given(never)


def _next_bout(bouts: Bouts) -> dict[str, Any]:
    """What the next bout has of the one before, where it is not the usual."""
    usual = Bouts.model_fields
    return {key: getattr(bouts, key) for key in NEXT if getattr(bouts, key) != usual[key].default}


def _action(action: Action) -> dict[str, Any]:
    """A consequence by the keys of the file."""
    words = action.model_dump(by_alias=True, exclude={"verb"}, exclude_none=True)
    usual = {field.serialization_alias or name: field.default for name, field in type(action).model_fields.items()}
    return {key: value for key, value in words.items() if not isinstance(value, bool) or value is not usual[key]}


def _instructions(role: Role) -> dict:
    """What is asked of a role beyond the usual."""
    usual = Role.model_fields
    support = ("tackled", "hands") if (role.side, role.style) == ("holder", "goal") else ()
    asked = {
        key: getattr(role, key) for key in INSTRUCTIONS if key in support or getattr(role, key) != usual[key].default
    }
    return asked | ({"win_back": role.win_back_s} if role.win_back_s else {})


def _listings(game: Game, role: str) -> dict[str, list]:
    """A role's players by team: shirt numbers, or ids where they were written."""
    listings: dict[str, list] = {}
    for team in game.teams:
        for player in sorted((p for p in game.players if p.team == team.name), key=lambda p: (p.number, p.id)):
            if player.role == role:
                listings.setdefault(team.name, []).append(_called(player))
    return listings


def _called(player: Player) -> int | str:
    """A player in a list of the file: by shirt number, or by id where one was written."""
    return player.number if player.id == f"{player.team}-{player.number}" else player.id


def _pairs(game: Game, team: Team) -> dict[str, list]:
    """A team's partners, if it has any."""
    named = {player.id: _called(player) for player in game.players}
    return {"pairs": [[named.get(who, who) for who in pair] for pair in team.pairs]} if team.pairs else {}


def _conditions(one: Conditions) -> dict[str, Any]:
    """What is asked of a pass, by the keys of the file; None where nothing is."""
    renamed = {"from_area": "from", "to_area": "to"}
    return {renamed.get(name, name): getattr(one, name) or None for name in Conditions.model_fields}


def _counting(game: Game) -> dict[str, Any]:
    """The gates and the counters, where there are any."""
    gates = {gate.name: {"centre": [gate.x, gate.y], "width": gate.width, "way": gate.way} for gate in game.gates}
    counters = {
        one.name: _given(
            {"of": one.of, "start": one.start, "resets": list(one.resets), "scope": one.scope} | _conditions(one)
        )
        for one in game.counters
    }
    return {"gates": gates or None, "counters": counters or None}


def _zones(game: Game) -> dict[str, Any] | None:
    """The zones, where there are any."""
    return {
        zone.name: {"centre": [zone.x, zone.y], "length": zone.length, "width": zone.width}
        | _given(
            {
                "closed_to": list(zone.closed_to) or None,
                "least": {one.who: one.least for one in zone.limits if one.least} or None,
                "most": {one.who: one.most for one in zone.limits if one.most is not None} or None,
                "offside": zone.offside or None,
            }
        )
        for zone in game.zones
    } or None


def to_short(game: Game) -> dict[str, Any]:
    """The short form of a resolved game, as plain data; resolving it gives an equal game."""
    players = {}
    for player in game.players:
        known = _key_abilities(player) | _tests(player) | ({"restricted": True} if player.restricted else {})
        known |= _limits(player)
        if player.id != f"{player.team}-{player.number}":
            known["number"] = player.number
        if known:
            players[player.id] = known
    phases = {}
    for phase in game.phases:
        rules = {
            rule.name: _given(
                {
                    "on": rule.on,
                    "count": rule.count,
                    "each": rule.each or None,
                    "causes": list(rule.causes) or None,
                    "by": rule.by,
                    "colour": rule.colour,
                    "counter": rule.counter,
                    "last_step": rule.last_step or None,
                    **_conditions(rule),
                    "do": [_action(action) for action in rule.do],
                }
            )
            for rule in phase.rules
        }
        jobs = {job.role: f"{job.style} in {job.place}" for job in phase.jobs}
        open_for = {side: list(what) for side, what in phase.open_for}
        tables = {
            "open_for": open_for or None,
            "aims": dict(phase.aims) or None,
            "jobs": jobs or None,
            "rules": rules or None,
        }
        phases[phase.name] = _given({"aim": phase.aim, "ball_in": phase.ball_in, "open": list(phase.open)} | tables)
    on_lines = manned(game)
    win: dict[str, Any] = {"confirm": game.win.confirm}
    if game.win.confirm == "hold":
        win["seconds"] = game.win.amount
    if game.win.confirm == "passes":
        win["passes"] = int(game.win.amount)
    win |= _given({"gate": game.win.gate, "contested": None if game.win.contested == "goes on" else game.win.contested})
    win |= {} if game.win.together == "first" else {"together": game.win.together}
    spec = {
        "format": game.format,
        "name": game.name,
        "title": game.title,
        "purpose": game.purpose,
        "club": game.club,
        "units": "metres",
        "hold_limit_seconds": game.hold_limit_s,
        "between_areas": game.between_areas,
        "bouts": {
            "count": game.bouts.count,
            "seconds": game.bouts.seconds,
            "rest_seconds": game.bouts.rest_seconds,
            "rotate": game.bouts.rotate,
        }
        | (
            {"roles": game.bouts.roles} if game.bouts.roles == "start anew" else {}
        )  # the rest is what rotate makes of it
        | {key: getattr(game.bouts, key) for key in ENDS if getattr(game.bouts, key)}
        | _next_bout(game.bouts),
        "start": {"side": game.start_side, "phase": game.start_phase, "area": game.start_area}
        | ({"points": dict(game.start_points)} if game.start_points else {}),
        **({"fouls": {"share": game.foul_share}} if game.foul_share else {}),
        "areas": {
            area.name: {
                "length": area.length,
                "width": area.width,
                "run_off": area.run_off,
                "centre": [area.x, area.y],
            }
            | ({"out": area.out} if area.name in on_lines else {})  # nowhere else can it be anything but the line
            for area in game.areas
        },
        "goals": {
            goal.name: {
                "centre": [goal.x, goal.y],
                "end": goal.end,
                "width": goal.width,
                "height": goal.height,
                "attacked_by": goal.attacked_by,
            }
            for goal in game.goals
        },
        "teams": {
            team.name: _given({"population": team.population, "home": team.home})
            | _key_abilities(team)
            | _pairs(game, team)
            for team in game.teams
        },
        "roles": {
            role.name: _given(
                {
                    "side": role.side,
                    "style": role.style,
                    "place": role.place,
                    "touches": "free" if role.touches is None else role.touches,
                }
                | _instructions(role)
                | {
                    "ladder": list(role.ladder) or None,
                    "with_ball": role.with_ball and " in ".join(role.with_ball),
                    "without_ball": role.without_ball and " in ".join(role.without_ball),
                    "players": _listings(game, role.name) or None,
                }
            )
            for role in game.roles
        },
        "players": players or None,
        "phases": phases,
        "restarts": {
            restart.name: _given(
                {
                    "to": restart.to,
                    "from": restart.source,
                    "seconds": restart.seconds,
                    "area": restart.area,
                    "role": restart.role,
                    "by": restart.by,
                    "gate": restart.gate,
                }
            )
            for restart in game.restarts
        },
        "supply": {"balls": game.supply.balls, "retrieve_seconds": game.supply.retrieve_seconds},
        "win": win,
    }
    load = _given(game.load.model_dump())
    loss = game.loss.model_dump() if game.loss != Loss() else None
    return _given(
        spec
        | {"goals": spec["goals"] or None, "load": load or None, "loss": loss, "zones": _zones(game)}
        | _counting(game)
    )


def to_resolved(game: Game) -> dict[str, Any]:
    """The resolved form as plain data, without what is None (TOML has no word for it)."""
    return game.model_dump(mode="json", exclude_none=True)


def _save(data: dict[str, Any], file: str | Path, first: str = "") -> None:
    import tomli_w

    Path(file).write_text(first + tomli_w.dumps(data), encoding="utf-8", newline="\n")


def save_short(game: Game, file: str | Path) -> None:
    """Write the short form as TOML, with the line by which an editor finds the schema."""
    _save(to_short(game), file, f"{FIRST_LINE}\n\n")


def save_resolved(game: Game, file: str | Path) -> None:
    """Write the resolved form as TOML."""
    _save(to_resolved(game), file)
