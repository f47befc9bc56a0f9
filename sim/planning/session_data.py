"""An evening as plain data, for JSON: what everybody gets, who plays where, the clock and the kit, the cheapest change.

Metres, minutes and seconds as the key says.  People stand in the order of the squad file; where minors play, what rests on adults
is left out, as on the screen.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sim.experiments.last_line import LINE
from sim.experiments.origin import origin_of
from sim.planning.band import MEASURES
from sim.planning.closing import Change
from sim.planning.forecast import Forecast
from sim.planning.line_up import LineUp
from sim.planning.session import Planned, moved
from sim.planning.usual_evening import UsualEvening
from sim.squads.squad import Person


def session_data(
    found: Forecast,
    before: Planned | None,
    change: Change | None,
    wbgt: float | None,
    seed: int,
    usual: UsualEvening | None = None,
) -> dict[str, Any]:
    """The whole answer; `before`: the plan for everybody who was expected; `wbgt`: a reading, with a table or without; `usual`: the
    evening without the heat, where that takes anything away."""
    plan = found.plan
    evening = plan.evening
    return {
        "title": evening.title,
        "day": evening.day,
        **origin_of(seed, plan.games),
        "sessions": found.sessions,
        "minutes": evening.minutes,
        "long_s": plan.long_s,
        "ground": {
            "length_m": evening.ground.length,
            "width_m": evening.ground.width,
            "run_off_m": evening.ground.run_off,
        },
        "band": {
            "label": evening.band.label,
            "source": evening.band.source,
            "ends": {name: list(ends) for name, ends in evening.band.ends.items()},
        },
        "minors": plan.minors,
        "heat": _heat(found, wbgt, usual),
        "kit": {
            "cones": plan.kit.cones,
            "new_cones": list(plan.kit.new_cones),
            "balls": plan.kit.balls,
            "bibs": dict(plan.kit.bibs),
            "people_to_run_it": plan.kit.staff,
        },
        "blocks": [_block(found, i) for i in range(len(plan.line_ups))],
        "players": [_player(found, i, person) for i, person in enumerate(plan.people)],
        "moved": [] if before is None else _moves(before, plan),
        "change": None if change is None else _change(found, change),
        "cautions": [LINE],
    }


def _heat(found: Forecast, wbgt: float | None, usual: UsualEvening | None) -> dict[str, Any] | None:
    """`usual_evening` is null where no table takes anything away, and its figures where its blocks have not been played yet."""
    if wbgt is None:
        return None
    heat = found.plan.heat
    rule = None if heat is None else heat.rule
    return {
        "wbgt_c": wbgt,
        "table": None if heat is None else heat.source,
        "approved_by": None if rule is None else rule.approved_by,
        "usual_evening": None if usual is None else _usual(usual.found),
    }


def _usual(found: Forecast | None) -> dict[str, Any]:
    """What everybody would get without the heat."""
    if found is None:
        return {"long_s": None, "players": None}
    told = [(j, name) for j, name in enumerate(MEASURES) if name in found.told]
    return {
        "long_s": found.plan.long_s,
        "players": [
            {"shirt": person.shirt, **{name: float(found.mean[i, j]) for j, name in told}}
            for i, person in enumerate(found.plan.people)
        ],
    }


def _block(found: Forecast, i: int) -> dict[str, Any]:
    plan = found.plan
    line_up, bouts = plan.line_ups[i], plan.line_ups[i].games[0].bouts
    return {
        "name": line_up.part.name,
        "starts_s": plan.starts_s[i],
        "bouts": bouts.count,
        "work_s": bouts.seconds,
        "rest_s": bouts.rest_seconds,
        "set_up_anew": line_up.anew,
        "losses_per_min_rolling": found.losses[i],
        "grids": [
            {
                "game": grid.game.name,
                "middle_m": [grid.x, grid.y],
                "areas_m": [[area.length, area.width] for area in grid.game.areas],
            }
            for grid in plan.grids[i]
        ],
        "places": _places(line_up),
        "waiting_first": [person.shirt for person in line_up.waiting],
        "keepers_apart": [person.shirt for person in line_up.apart],
    }


def _places(line_up: LineUp) -> list[dict[str, Any]]:
    """Who begins where, and how many bouts he plays."""
    spots = [(spot, line_up.place(spot)) for spot in line_up.spots]
    return [
        {
            "shirt": spot.person.shirt,
            "grid": spot.game + 1,
            "team": place.team,
            "role": place.role,
            "bouts": line_up.bouts[spot.person.shirt],
        }
        for spot, place in spots
    ]


def _player(found: Forecast, i: int, person: Person) -> dict[str, Any]:
    band = found.plan.evening.band
    judged = i in found.judged
    off = next((one for one in found.plan.leaves if one.person == person), None)
    return {
        "shirt": person.shirt,
        "name": person.name,
        "keeper": person.keeps,
        "reduced_load": person.restricted,
        "limits": list(person.limits),
        "most_bouts": person.most_bouts,
        "most_minutes": person.most_minutes,
        "set_by": person.set_by,
        "off_after": None if off is None else {"block": off.part, "bouts": off.bouts},
        "held_against_band": judged,
        "gets": {
            name: {
                "mean": float(found.mean[i, j]),
                "usually": [float(found.low[i, j]), float(found.high[i, j])],
                "standard_error": float(found.error[i, j]),
                "off_band": band.off(name, found.mean[i, j]) if judged else 0,
            }
            for j, name in enumerate(MEASURES)
            if name in found.told
        },
    }


def _moves(before: Planned, after: Planned) -> list[dict[str, Any]]:
    return [
        {"block": name, "shirt": person.shirt, "from": old, "to": new}
        for name, moves in moved(before, after)
        for person, old, new in moves
    ]


def _change(found: Forecast, change: Change) -> dict[str, Any]:
    return {
        "kind": change.kind,
        "block": change.part,
        "step": change.step,
        "long_s": change.long_s,
        "figures_off_band": change.off,
        "mean": _means(found, change),
    }


def _means(found: Forecast, change: Change) -> list[dict[str, Any]]:
    told: Sequence[tuple[int, str]] = [(j, name) for j, name in enumerate(MEASURES) if name in found.told]
    return [
        {"shirt": person.shirt, **{name: float(change.mean[i, j]) for j, name in told}}
        for i, person in enumerate(found.plan.people)
    ]
