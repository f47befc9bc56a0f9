"""Random valid games over the whole language of game files, for `hypothesis` to draw and to shrink.

Everything is drawn in the short form as people write it.  What one part asks of another is mostly drawn so that it fits; the rest
is left to the loader, and what it refuses is no game (`game_of`).  Bouts last seconds and players are few, so that a bout costs
next to nothing.  Names are no words of the language, so that they can be exchanged for others (`tests.fuzz.holds`).
"""

from __future__ import annotations

from dataclasses import dataclass, field

from hypothesis import strategies as st

from sim.game.colours import OF_A_COLOUR
from tests.support.games_at_random import closed_until_then, windows_and_ladders

AREAS, GOALS, PHASES = ("meadow", "paddock", "orchard"), ("larch", "maple", "hazel"), ("dawn", "noon", "dusk")
ENDS = ("west", "east", "south", "north")
ADULTS, MINORS = ("elite men", "amateur men", "women", "mixed adults"), ("U12", "U17 boys")
AREA, GOAL, SHOTS = "area", "goal", ("goal", "save", "miss")

BOUT_ENDS = {
    "balls": st.integers(1, 3),
    "first_to": st.integers(3, 9),
    "level_seconds": st.integers(1, 4),
    "finish_seconds": st.integers(1, 4),
    "clock": st.sampled_from(["running", "stopped"]),
}
"""What else may end a bout, or make it longer."""

sides_m = st.integers(2, 40) | st.floats(2.0, 40.0)
shares = st.sampled_from([0.0, 0.5, 1.0]) | st.floats(0.0, 1.0)
key_measures = st.fixed_dictionaries(
    {},
    optional={
        "pass_success": st.floats(0.5, 0.999),
        "pressing_speed": st.floats(2.0, 3.2),
        "recovery": st.floats(20.0, 180.0),
    },
)
loads = st.fixed_dictionaries(
    {},
    optional={
        "speed_seconds": st.floats(0, 10),
        "acceleration_mps2": st.floats(0.5, 8),
        "acceleration_seconds": st.floats(0, 5),
        "turn_degrees": st.floats(30, 170),
        "turn_seconds": st.floats(0.2, 3),
        "turn_mps": st.floats(0.5, 8),
        "high_speed_share": st.floats(0.7, 0.85),
    },
)
wins = st.sampled_from(
    [
        {},
        {"confirm": "control"},
        {"confirm": "touch"},
        {"confirm": "hold", "seconds": 0.5},
        {"confirm": "hold", "seconds": 2.0},
        {"confirm": "hold", "seconds": 2.0, "contested": "starts again"},
    ]
) | st.integers(1, 3).map(lambda passes: {"confirm": "passes", "passes": passes})
losses = st.fixed_dictionaries(
    {},
    optional={
        "charged": st.sampled_from(["last touch", "passer", "receiver", "nearest"]),
        "floater": st.sampled_from(["nobody", "last team-mate"]),
    },
)
sprint = {"metres": [5, 10.5, 20, 35], "seconds": [1.192, 2.05, 3.396, 5.385]}
tests = st.sampled_from(
    [
        {"sprint": sprint},
        {"sprint": sprint | {"offset_seconds": "estimated"}},
        {"intermittent_run": 1500.0},
        {"shuttle": {"speed_kmh": 19.0, "age": 25.0, "weight_kg": 75.0, "sex": "male"}},
    ]
)


def wins_for(swaps: list[dict]) -> st.SearchStrategy[dict]:
    """What counts as a win; where the winner changes places, also which of several at the ball he is."""
    if not any("winner" in (one["with"], one["swap"]) for one in swaps):
        return wins
    together = st.sampled_from([{}, {"together": "longest in"}, {"together": "next on the list"}])
    return st.builds(lambda win, how: win | how, wins, together)


@dataclass
class Draft:
    """What has been drawn so far and the rest hangs on."""

    teams: tuple[str, ...]
    sides: tuple[str, str] = ("", "")
    areas: dict = field(default_factory=dict)
    goals: dict = field(default_factory=dict)
    roles: dict = field(default_factory=dict)
    homes: bool = False
    gates: dict = field(default_factory=dict)
    counters: dict = field(default_factory=dict)
    partners: bool = False  # players change two by two, and everybody who can lose the ball has a partner
    fouls: float = 0.0  # the share of tackles that are one
    alone: bool = False  # some have a partner, and whoever has none goes alone

    @property
    def by_bibs(self) -> bool:
        return self.sides == self.teams


def optional(draw, table: dict, **values) -> dict:
    """The table with some of the values."""
    return table | {key: draw(value) for key, value in values.items() if draw(st.booleans())}


@st.composite
def areas(draw) -> dict:
    found: dict[str, dict] = {}
    for name in AREAS[: draw(st.sampled_from([1, 1, 1, 2, 2, 3]))]:
        area = optional(draw, {"length": draw(sides_m), "width": draw(sides_m)}, run_off=st.floats(0, 10))
        if found:
            other = draw(st.sampled_from(list(found)))
            how = draw(st.sampled_from(["beside", "beside", "within", "centre"]))
            if how == "beside":
                area |= optional(draw, {"beside": other, "on": draw(st.sampled_from(ENDS))}, gap=st.floats(0, 15))
            elif how == "within":
                inside = {key: found[other][key] * draw(st.floats(0.3, 1.0)) for key in ("length", "width")}
                area |= {"within": other} | {key: max(2.0, size) for key, size in inside.items()}
            else:
                area["centre"] = [draw(st.floats(-60, 60)), draw(st.floats(-60, 60))]
        found[name] = area
    return found


@st.composite
def goals(draw, draft: Draft) -> dict:
    found: dict[str, dict] = {}
    for name in GOALS[: draw(st.sampled_from([0, 0, 1, 2, 2, 3]))]:
        area = draw(st.sampled_from(list(draft.areas)))
        end = draw(st.sampled_from(ENDS))
        room = draft.areas[area]["width" if end in ("west", "east") else "length"]
        goal = {
            "attacked_by": draw(st.sampled_from(["any", *draft.sides])),
            "width": min(room, draw(st.floats(0.5, 7.32))),
        }
        goal = optional(draw, goal, height=st.floats(0.5, 2.44))
        if draw(st.booleans()):
            goal |= optional(draw, {"at": f"{end} end of {area}"}, distance=st.floats(0, 5))
        else:
            goal |= {"end": end, "centre": [draw(st.floats(-30, 30)), draw(st.floats(-30, 30))]}
        found[name] = goal
    return found


def instructed(draw, role: dict) -> dict:
    return optional(
        draw,
        role,
        touches=st.integers(1, 4) | st.just("free"),
        press=shares,
        marking=shares,
        win_back=st.floats(0, 10),
        width=st.floats(0.3, 1.2),
        depth=st.floats(0.3, 1.2),
        tempo=shares,
        positions=st.sampled_from(["free", "fixed"]),
        effort=st.floats(0.5, 1.3),
        tackled=st.sampled_from(["always", "never", "after a back-pass"]),
    )


@st.composite
def roles(draw, draft: Draft) -> dict:
    """Two sides of one to five, perhaps a second role on one of them, floaters, keepers, and a role nobody begins in."""
    places = ["active", *draft.areas, *(["home"] if draft.homes else [])]
    found = {}

    def role(side: str, styles=("free", "free", "edge")) -> dict:
        return instructed(
            draw, {"side": side, "style": draw(st.sampled_from(styles)), "place": draw(st.sampled_from(places))}
        )

    def of(team: str, most: int):
        return {team: draw(st.integers(1, most))}

    if draft.by_bibs:
        found["ranger"] = role("team") | {"players": {team: draw(st.integers(1, 4)) for team in draft.teams}}
    else:
        found["ranger"] = role(draft.sides[0]) | {"players": {team: draw(st.integers(1, 3)) for team in draft.teams}}
        found["seeker"] = role(draft.sides[1]) | {"players": of(draw(st.sampled_from(draft.teams)), 3)}
    if draft.partners:
        for name, many in (("ranger", st.sampled_from([2, 4])), ("seeker", st.just(2))):
            found[name]["players"] = {draft.teams[0]: draw(many)}
    elif draft.alone:
        for name in ("ranger", "seeker"):
            found[name]["players"] = {draft.teams[0]: draw(st.integers(2, 3))}
    extra = "team" if draft.by_bibs else draft.sides[0]
    if not draft.partners and draw(st.booleans()):
        found["winger"] = role(extra, ("edge", "free", "wait")) | {"players": of(draw(st.sampled_from(draft.teams)), 2)}
    if draw(st.integers(0, 2)) == 0:
        found["joker"] = role("holder", ("free", "edge", "wait")) | {
            "players": of(draw(st.sampled_from(draft.teams)), 2)
        }
    if draft.goals and not draft.partners and draw(st.booleans()):
        side = draw(st.sampled_from(["team"] if draft.by_bibs else draft.sides))
        keeper = {"side": side, "style": "goal", "place": draw(st.sampled_from(list(draft.goals)))}
        found["warden"] = instructed(draw, keeper) | {"players": of(draw(st.sampled_from(draft.teams)), 1)}
        found["warden"]["hands"] = draw(st.booleans())
    if not draft.partners and draw(st.booleans()):  # shirt numbers and written ids instead of counts
        team, many = next(iter(found["ranger"]["players"].items()))
        listed = [draw(st.sampled_from([60 + k, f"Nr. {k}"])) for k in range(many)]
        found["ranger"]["players"][team] = listed
    return found


@st.composite
def action(draw, draft: Draft, on: str, phases: tuple[str, ...]) -> dict:
    restarts = ["start", "out"]
    sides = ["holder", *draft.sides, *(["winner", "loser"] if on in ("loss", "foul") else [])]
    verbs = ["score", "reset", "restart", "restart", "end", "phase", "assign"]
    if on == "loss":
        verbs += ["window", "step", *(["trade"] if draft.by_bibs else ["swap", "swap"] * (3 if draft.alone else 1))]
    elif not draft.by_bibs:
        verbs += ["change", *(["swap"] if on == "foul" else [])]
    if len(draft.areas) > 1:
        verbs += ["open-transfer", "close-transfer"]
    if draft.goals:
        verbs += ["open-shoot", "close-shoot"]
    if len(draft.areas) == 1 and not draft.goals and not draft.gates:
        verbs.append("resize")
    verb = draw(st.sampled_from(verbs))
    if verb.startswith(("open", "close")):
        return dict([verb.split("-")]) | draw(
            st.sampled_from([{}, {}, {"for": draw(st.sampled_from([one for one in sides if one not in draft.sides]))}])
        )
    match verb:
        case "score":
            return {"score": draw(st.floats(0.1, 100)), "to": draw(st.sampled_from(sides))}
        case "reset":
            return {"reset": draw(st.sampled_from(["passes", "wins", *draft.counters]))}
        case "restart":
            return {"restart": draw(st.sampled_from(restarts))}
        case "phase":
            return {"phase": draw(st.sampled_from(phases))}
        case "swap":
            table = {
                "swap": "loser and partner" if draft.alone or draft.partners else "loser",
                "with": draw(st.sampled_from(["winner", "longest in", "next on the list"])),
            }
            return come_from(draw, draft, table | ({"alone": True} if draft.alone else {}))
        case "change":
            table = {
                "swap": "pair longest in"
                if draft.partners and not draft.alone
                else draw(st.sampled_from(["longest in", "next on the list"])),
                "of": draw(st.sampled_from(["holder", "other"])),
                "with": draw(st.sampled_from(["longest in", "next on the list"])),
            }
            return come_from(draw, draft, table)
        case "resize":
            (name, area), by = next(iter(draft.areas.items())), draw(st.sampled_from([-3.0, -0.5, 0.5, 3.0]))
            shorter, longer = sorted((area["length"], area.get("width", area["length"])))
            return {"resize": name, "by": by, "to": max(2.0, 0.7 * shorter) if by < 0 else 1.2 * longer}
        case "trade":
            return {"trade": "roles"}
        case "window":
            return draw(st.sampled_from([{"window": 2.5}, {"window": 1, "of": "passes"}]))
        case "step":
            return {"step": draw(st.sampled_from(["loser", "side"]))}
        case "assign":
            same = [name for name, role in draft.roles.items() if role["style"] != "goal"]
            name = draw(st.sampled_from(same))
            side = draft.roles[name]["side"]
            table = {"assign": name, "of": draw(st.sampled_from(["all", "holder", "other"]))}
            table["from"] = draw(st.sampled_from([one for one in same if draft.roles[one]["side"] == side]))
            return optional(
                draw,
                table,
                count=st.integers(1, 2),
                choose=st.sampled_from(["nearest", "longest in", "passer and receiver", "next on the list"]),
            )
    return {"end": "bout"}


def come_from(draw, draft: Draft, swap: dict) -> dict:
    """A swap; perhaps only those in one role come, or in one of two."""
    there = [name for name, role in draft.roles.items() if role["style"] != "goal"]
    named = st.sampled_from(there) | st.lists(st.sampled_from(there), min_size=1, max_size=2, unique=True)
    return optional(draw, swap, **({} if draft.partners else {"from": named}))


def partners_of(draft: Draft) -> list[list]:
    """Who goes with whom: everybody, or, where whoever has none goes alone, the first two."""
    if draft.partners:
        many = sum(draft.roles[role]["players"]["amber"] for role in ("ranger", "seeker"))
        return [[number, number + 1] for number in range(1, many, 2)]
    listed = draft.roles["ranger"]["players"]["amber"]
    return [listed[:2] if isinstance(listed, list) else [1, 2]]


@st.composite
def gates(draw, draft: Draft) -> dict:
    """One or two gates, each in the middle of an area, as wide as it or less."""
    found = {}
    for name in ("stile", "hatch")[: draw(st.integers(0, 2))]:
        area = draw(st.sampled_from(list(draft.areas)))
        room = min(draft.areas[area]["width"], draft.areas[area]["length"])
        found[name] = optional(
            draw,
            {"within": area, "width": room * draw(st.floats(0.3, 1.0))},
            way=st.sampled_from(["west-east", "south-north"]),
        )
    return found


def conditions(draw, draft: Draft, table: dict) -> dict:
    """What is asked of a pass."""
    names = {key: st.sampled_from(list(draft.areas)) for key in ("from", "to")}
    names |= {key: st.sampled_from(list(draft.roles)) for key in ("by_role", "to_role")}
    names |= {key: st.just(True) for key in ("first_time", "not_back")}
    if draft.gates:
        names["through"] = st.sampled_from(["any", *draft.gates])
    keys = draw(st.lists(st.sampled_from(list(names)), max_size=2, unique=True))
    found = table | {key: draw(names[key]) for key in keys}
    if len(draft.gates) > 1 and "through" in found and draw(st.booleans()):
        found["other_gate"] = True
    return found


@st.composite
def counter(draw, draft: Draft) -> dict:
    of = draw(st.sampled_from(["passes", "passes", "wins", "touches", "balls", "seconds"]))
    table = optional(
        draw,
        {"of": of},
        scope=st.sampled_from(["side", "bout"]),
        resets=st.lists(st.sampled_from(["loss", "out", "score", "phase"]), unique=True),
        start=st.integers(0, 1),
    )
    if of == "passes":
        return conditions(draw, draft, table)
    return optional(draw, table, by_role=st.sampled_from(list(draft.roles))) if of in ("wins", "touches") else table


def limits(draw, draft: Draft, team: str) -> dict:
    """What one player does not do."""
    waits = draft.roles.get("winger", {}).get("style") == "wait"
    his = ("ranger", "winger") if waits else ("ranger",)
    caps = {"most_bouts": st.integers(1, 2), "most_minutes": st.floats(0.02, 0.3)} if waits else {}
    return optional(
        draw,
        {},
        **caps,
        touches=st.integers(1, 3),
        tackles=st.just(False),
        never=st.lists(st.sampled_from([one for one in draft.roles if one not in his] or ["ranger"]), max_size=1),
    )


@st.composite
def rule(draw, draft: Draft, ons: list[str], phases: tuple[str, ...], leads: str | None) -> dict:
    on = draw(st.sampled_from(ons))
    table: dict = {"on": on}
    if on in ("passes", "wins"):
        table = optional(draw, table | {"count": draw(st.integers(1, 4))}, each=st.booleans())
    if on == "counter":
        name = draw(st.sampled_from(list(draft.counters)))
        table = optional(draw, table | {"counter": name, "count": draw(st.integers(2, 4))}, each=st.booleans())
    if on == "pass":
        table = conditions(draw, draft, table)
    if on == "foul":
        names = {key: st.sampled_from(list(draft.roles)) for key in ("by_role", "to_role")}
        table = optional(draw, table, **{"from": st.sampled_from(list(draft.areas))}, **names)
    if on == "carry":
        table["to"] = draw(st.sampled_from(list(draft.areas)))
    if on == "time":
        table = optional(draw, table | {"count": draw(st.floats(1, 8))}, each=st.booleans())
    elif on == "counter" and draft.counters[table["counter"]].get("scope") == "bout":
        pass
    elif draw(st.integers(0, 3)) == 0:
        table["by"] = draw(st.sampled_from(draft.sides))
    if on in OF_A_COLOUR and draw(st.integers(0, 4)) == 0:
        table["colour"] = draw(st.sampled_from(draft.teams))
    if on == "transfer":
        table = optional(draw, table, **{key: st.sampled_from(list(draft.areas)) for key in ("from", "to")})
    if on == "loss":
        causes = ["interception", "tackle", "miscontrol", "out", "time limit", "rule fault", "shot"]
        table = optional(draw, table, causes=st.lists(st.sampled_from(causes), max_size=3, unique=True))
    do = draw(st.lists(action(draft, on, phases), min_size=0 if leads else 1, max_size=3))
    return table | {"do": [*do, {"phase": leads}] if leads else do}


@st.composite
def phase_tables(draw, draft: Draft) -> dict:
    names = PHASES[: draw(st.sampled_from([1, 1, 2, 3]))]
    aims = ["keep", "keep", *(["home"] if draft.homes else []), *(["goal"] if draft.goals else [])]
    found: dict[str, dict] = {}
    for number, name in enumerate(names):
        phase = optional(draw, {"aim": draw(st.sampled_from(aims))}, ball_in=st.sampled_from(["active", *draft.areas]))
        opens = [*(["transfer"] if len(draft.areas) > 1 else []), *(["shoot"] if draft.goals else [])]
        phase["open"] = draw(st.lists(st.sampled_from(opens), unique=True)) if opens else []
        if draw(st.integers(0, 2)) == 0:
            movable = [role for role, table in draft.roles.items() if table["style"] != "goal"]
            place = draw(st.sampled_from(["active", *draft.areas]))
            phase["jobs"] = {
                draw(st.sampled_from(movable)): f"{draw(st.sampled_from(['edge', 'free', 'wait']))} in {place}"
            }
        ons = ["loss", "loss", "win", "out", "passes", "wins", "time", "pass", "pass", "carry"]
        ons += ["counter", "counter", "counter"] if draft.counters else []
        ons += ["foul", "foul"] if draft.fouls else []
        ons += ["transfer"] if "transfer" in phase["open"] else []
        ons += SHOTS if "shoot" in phase["open"] else ()
        ons += ["home"] if phase["aim"] == "home" else []
        following = names[(number + 1) % len(names)] if len(names) > 1 else None
        rules = {"bell": draw(rule(draft, ons, names, following))} if following else {}
        for name_of_rule in ("whisper", "shout", "echo")[: draw(st.integers(0, 3))]:
            rules[name_of_rule] = draw(rule(draft, ons, names, None))
        found[name] = phase | {"rules": rules}
    if draw(st.integers(0, 3)) == 0:  # a role that nobody begins in, and the rule that gives it
        ranger = draft.roles["ranger"]
        draft.roles["spare"] = instructed(draw, {key: ranger[key] for key in ("side", "style", "place")})
        give = {"assign": "spare", "of": draw(st.sampled_from(["all", "holder", "other"])), "from": "ranger"}
        found[names[0]]["rules"]["murmur"] = {"on": draw(st.sampled_from(["loss", "win", "out"])), "do": [give]}
    return found


@st.composite
def restart(draw, draft: Draft) -> dict:
    keepers = any(role["style"] == "goal" for role in draft.roles.values())
    return optional(
        draw,
        {"to": draw(st.sampled_from([*draft.sides, "other", "same", "loser", "winner"]))},
        **{"from": st.sampled_from(["server", "line", *(["keeper"] if keepers else [])])},
        seconds=st.sampled_from([0, 0, 1, 2]) | st.floats(0, 3),
        area=st.sampled_from(
            ["active", *draft.areas, *(["home"] if draft.homes else []), *(["across"] if len(draft.areas) == 2 else [])]
        ),
        **draw(
            st.sampled_from(
                [
                    {"role": st.sampled_from(list(draft.roles))},
                    {"by": st.sampled_from(["newcomer", "winner", "loser"])},
                ]
            )
        ),
    )


@st.composite
def games(draw) -> dict:
    """One game in the short form."""
    bibs = draw(st.booleans())
    teams = ("amber", "slate") if bibs or draw(st.booleans()) else ("amber",)
    draft = Draft(teams, ("amber", "slate") if bibs else ("givers", "takers"))
    draft.partners = teams == ("amber",) and draw(st.booleans())
    draft.alone = teams == ("amber",) and draw(st.booleans())
    draft.areas = draw(areas())
    draft.homes = draw(st.booleans())
    draft.goals = draw(goals(draft))
    draft.roles = draw(roles(draft))
    populations = draw(st.sampled_from([ADULTS, ADULTS, MINORS]))
    written = {
        team: {"population": draw(st.sampled_from(populations))}
        | ({"home": draw(st.sampled_from(list(draft.areas)))} if draft.homes else {})
        | draw(key_measures)
        for team in teams
    }
    players: dict[str, dict] = {}
    for team, listed in draft.roles["ranger"]["players"].items():
        for one in listed if isinstance(listed, list) else ():
            known = draw(key_measures) if draw(st.booleans()) else {}
            known |= draw(tests) if populations is ADULTS and draw(st.booleans()) else {}
            known |= {"restricted": True} if draw(st.booleans()) else {}
            if known:
                players[one if isinstance(one, str) else f"{team}-{one}"] = known
    if draw(st.booleans()) and "ranger" in draft.roles:
        team, listed = next(iter(draft.roles["ranger"]["players"].items()))
        one = listed[0] if isinstance(listed, list) else 1
        one = one if isinstance(one, str) else f"{team}-{one}"
        players[one] = players.get(one, {}) | limits(draw, draft, team)
    draft.gates = draw(gates(draft))
    draft.counters = {name: draw(counter(draft)) for name in ("tallow", "tinder")[: draw(st.integers(0, 2))]}
    draft.fouls = draw(st.sampled_from([0.0, 0.0]) | st.floats(0.01, 1))
    phases = draw(phase_tables(draft))
    heard = {one.get("counter") for phase in phases.values() for one in phase["rules"].values()}
    draft.counters = {name: one for name, one in draft.counters.items() if name in heard}
    told = [one.get("through") for phase in phases.values() for one in phase["rules"].values()]
    told += [one.get("through") for one in draft.counters.values()]
    if "any" not in told:
        draft.gates = {name: one for name, one in draft.gates.items() if name in told}
    if len(draft.gates) < 2:
        for one in (*draft.counters.values(), *(rule for phase in phases.values() for rule in phase["rules"].values())):
            one.pop("other_gate", None)
    for one in (action for phase in phases.values() for rule in phase["rules"].values() for action in rule["do"]):
        if one.get("reset", "passes") not in ("passes", "wins", *draft.counters):
            one["reset"] = "wins"
    for name, area in draft.areas.items():
        places = {role["place"] for role in draft.roles.values() if role["style"] == "edge"}
        area |= draw(
            st.sampled_from([{}, {"out": "line"}, *([{"out": "run-off", "run_off": 1.5}] if name in places else [])])
        )
    swaps = [
        one for phase in phases.values() for rule in phase["rules"].values() for one in rule["do"] if "swap" in one
    ]
    if (draft.partners and swaps) or any("alone" in one for one in swaps):
        written["amber"]["pairs"] = partners_of(draft)
    bouts = {"count": draw(st.integers(1, 3)), "seconds": draw(st.sampled_from([4, 8, 8, 16]))}
    bouts = optional(
        draw,
        bouts,
        roles=st.sampled_from(["carry on", "start anew", "start anew"]),
        rest_seconds=st.floats(0, 60),
        first_ball=st.sampled_from(["in turn", "holder"]),
        **draw(st.sampled_from([{}, {}, BOUT_ENDS])),
    )
    game = {
        "format": 1,
        "title": "Any game",
        "purpose": "To be played at all.",
        "bouts": bouts,
        "start": {"side": draw(st.sampled_from(draft.sides))},
        "areas": draft.areas,
        "teams": written,
        "roles": draft.roles,
        "phases": phases,
    }
    first = phases[PHASES[0]]
    if first.get("ball_in", "active") != "active":
        game["start"]["area"] = first["ball_in"]
    if not any("score" in one for phase in phases.values() for rule in phase["rules"].values() for one in rule["do"]):
        game["bouts"] = {key: value for key, value in bouts.items() if key not in ("first_to", "level_seconds")}
    windows_and_ladders(draw, game)
    closed_until_then(phases)
    game |= {"goals": draft.goals} if draft.goals else {}
    game |= {"players": players} if players else {}
    game |= {"gates": draft.gates} if draft.gates else {}
    game |= {"fouls": {"share": draft.fouls}} if draft.fouls else {}
    game |= {"counters": draft.counters} if draft.counters else {}
    by_colour = len(teams) > 1 and not bibs and "first_to" in game["bouts"] and "level_seconds" not in game["bouts"]
    if by_colour and draw(st.booleans()):
        game["bouts"]["points_by"] = "colour"
    elif draw(st.integers(0, 3)) == 0:
        game["start"]["points"] = {draft.sides[1]: draw(st.integers(0, 2))}
    if draw(st.booleans()):
        names = draw(st.lists(st.sampled_from(["start", "out"]), unique=True))
        game["restarts"] = {name: draw(restart(draft)) for name in names}
        scored = [rule for phase in phases.values() for rule in phase["rules"].values() if rule["on"] == "goal"]
        for name in {one["restart"] for rule in scored for one in rule["do"] if "restart" in one} & set(names):
            game["restarts"][name]["to"] = "other"
    return optional(
        draw,
        game,
        hold_limit_seconds=st.sampled_from([1, 2]) | st.floats(1, 8),
        between_areas=st.sampled_from(["first", "out"]),
        supply=st.fixed_dictionaries({"balls": st.integers(1, 3), "retrieve_seconds": st.floats(0, 3)}),
        win=wins_for(swaps),
        loss=losses,
        load=loads,
    )
