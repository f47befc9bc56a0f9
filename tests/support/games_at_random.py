"""Whole valid games at random: small and quick to play, over most of the language of rules.

`games()` draws the short form as plain data.  To widen it, add an event to `on_of`, a verb to `action_of`, or a table to `game`.
"""

from __future__ import annotations

from hypothesis import strategies as st

from sim.game.colours import OF_A_COLOUR

CAUSES = ["interception", "tackle", "miscontrol", "out", "time limit", "shot"]
WINDOWS = ("won back", "not won back")
WINS = [
    {},
    {"confirm": "control"},
    {"confirm": "touch"},
    {"confirm": "hold", "seconds": 0.5},
    {"confirm": "passes", "passes": 1},
]
PAIRS = [[[1, 2]], [[1, 2], [3, 4]], [[2, 6], [3, 5]]]
COME = ["longest in", "next on the list"]


@st.composite
def games(draw) -> dict:
    """One game: two sides, by bibs or by roles, in one area or two, with goals or without, in one phase or two."""
    bibs = draw(st.booleans())
    sides = ("amber", "slate") if bibs else ("out", "in")
    two, goals, floater = draw(st.booleans()), draw(st.booleans()), draw(st.booleans())
    areas = {"one": {"length": draw(st.sampled_from([9, 13])), "width": 11}}
    if two:
        areas["two"] = {"length": 10, "width": 10, "beside": "one", "on": "east", "gap": draw(st.sampled_from([0, 4]))}
    homes = bibs and two and draw(st.booleans())
    names = ["first", "second"] if draw(st.booleans()) else ["first"]
    facts = {
        "bibs": bibs,
        "sides": sides,
        "two": two,
        "goals": goals,
        "homes": homes,
        "phases": names,
        "roles": roles_of(bibs),
        "fouls": draw(st.sampled_from([0, 0, 0.5])),
    }
    facts["counters"] = {name: counter(draw, facts) for name in ("tally", "score-card")}
    phases = {name: phase(draw, name, facts) for name in names}
    attacked = {"width": 4, "height": 2, "attacked_by": draw(st.sampled_from(["any", sides[0]]))}
    short = {
        "format": 1,
        "title": "At random",
        "purpose": "To be played as it is printed.",
        "hold_limit_seconds": draw(st.sampled_from([2, 6])),
        "bouts": {"count": 1, "seconds": draw(st.sampled_from([20, 40])), "rest_seconds": 10},
        "start": {"side": sides[0], "area": "one"},
        "areas": areas,
        "goals": {"gate": {"at": "east end of one", **attacked}} if goals else {},
        "teams": {name: {"home": home} if homes else {} for name, home in ((sides[0], "one"), (sides[1], "two"))}
        if bibs
        else {"squad": {}},
        "roles": people(draw, bibs, two),
        "phases": phases,
        "restarts": {name: restart(draw, sides) for name in ("start", "out", "again")},
        "supply": {"balls": draw(st.sampled_from([2, 20])), "retrieve_seconds": 2},
        "loss": {
            "charged": draw(st.sampled_from(["last touch", "last touch", "passer", "receiver", "nearest"])),
            "floater": draw(st.sampled_from(["nobody", "last team-mate"])),
        },
        "win": draw(st.sampled_from(WINS)) | draw(together(phases)),
        "fouls": {"share": facts["fouls"]},
    }
    for name, area in areas.items():
        on_lines = any(role["style"] == "edge" and role["place"] == name for role in short["roles"].values())
        area |= draw(st.sampled_from([{}, {"out": "line"}, *([{"out": "run-off", "run_off": 1}] if on_lines else [])]))
    short["gates"] = {
        "stile": {"within": "one", "width": 6},
        "hatch": {"within": "one", "width": 8, "way": "south-north"},
    }
    short["counters"] = facts["counters"]
    spare = {"on": "pass", "through": "any", "do": [{"score": 1}]}
    told = {name: {"on": "counter", "counter": name, "count": 3, "do": [{"score": 1}]} for name in facts["counters"]}
    short["phases"]["first"]["rules"] |= told | {"gates": spare}
    for rule in (one for phase in short["phases"].values() for one in phase["rules"].values() if "counter" in one):
        if facts["counters"][rule["counter"]]["of"] in ("touches", "balls"):
            named = {one["restart"] for one in rule["do"] if "restart" in one}
            short["restarts"] |= {name: short["restarts"][name] | {"seconds": 3} for name in named}
    windows_and_ladders(draw, short)
    closed_until_then(short["phases"])
    if not bibs and draw(st.booleans()):
        in_pairs(short, draw(st.sampled_from(PAIRS)))
    zones(draw, short, sides)
    if floater:
        short["teams"]["white"] = {}
        short["roles"]["helper"] = {"side": "holder", "style": "free", "place": "active", "players": {"white": 1}}
        for name in (*roles_of(bibs)[sides[0]], *roles_of(bibs)[sides[1]]):
            listing = short["roles"][name].get("players", {})
            if isinstance(listing, int):
                short["roles"][name]["players"] = {"squad": listing}
    return short


def zones(draw, short: dict, sides: tuple[str, str]) -> None:
    """Sometimes a line across the first area, who may be beyond it, and a point for the ball there; not on ground that changes."""
    rules = [rule for phase in short["phases"].values() for rule in phase["rules"].values()]
    if any("resize" in one for rule in rules for one in rule["do"]):
        return
    said = [{}, {"most": {sides[0]: 1}}, {"least": {sides[1]: 1}}, {"closed_to": ["other"]}]
    half = draw(st.sampled_from([None, None, *said]))
    if half is not None:
        short["zones"] = {"half": {"at": "west half of one", **half}}
        on = draw(st.sampled_from(["pass", "carry"]))
        short["phases"]["first"]["rules"]["into-half"] = {"on": on, "to": "half", "do": [{"score": 1}]}


def windows_and_ladders(draw, short: dict) -> None:
    """What a window asks for, an answer, and what a step asks for, a ladder, are put in where they are needed."""
    stepped = False
    for phase in short["phases"].values():
        rules = phase["rules"]
        for rule in rules.values():
            if any("phase" in one for one in rule["do"]):
                rule["do"] = [one for one in rule["do"] if "window" not in one]
        verbs = [next(iter(one)) for rule in rules.values() for one in rule["do"]]
        stepped |= "step" in verbs
        if "window" in verbs:
            do = draw(st.sampled_from([{"score": 1, "to": "winner"}, {"restart": "start"}, {"reset": "passes"}]))
            rules[f"window-{len(rules)}"] = {"on": draw(st.sampled_from(WINDOWS)), "do": [do]}
    if stepped:
        for role in short["roles"].values():
            role |= {"touches": draw(st.sampled_from([3, "free"])), "ladder": draw(st.sampled_from([[2], [2, 1], [1]]))}


def closed_until_then(phases: dict) -> None:
    """What a rule opens is closed as the phase begins, unless a rule of that phase closes it."""
    opened, closed = set(), set()
    for name, phase in phases.items():
        for rule in phase["rules"].values():
            here = name
            for one in rule["do"]:
                here = one.get("phase", here)
                opened |= {(here, one["open"])} if "open" in one else set()
                closed |= {(here, one["close"])} if "close" in one else set()
    for here, what in opened - closed:
        phases[here]["open"] = [one for one in phases[here]["open"] if one != what]


def in_pairs(short: dict, pairs: list) -> None:
    """Whoever loses or wins it goes with his partner, or alone."""
    for rule in (rule for phase in short["phases"].values() for rule in phase["rules"].values()):
        for one in rule["do"]:
            if one.get("swap") in ("loser", "winner"):
                one |= {"swap": f"{one['swap']} and partner", "alone": True}
                short["teams"]["squad"]["pairs"] = pairs


def roles_of(bibs: bool) -> dict[str, tuple[str, str]]:
    """The two roles of each side."""
    if bibs:
        return {"amber": ("near", "far"), "slate": ("near", "far")}
    return {"out": ("outer", "spare"), "in": ("inner", "deep")}


def people(draw, bibs: bool, two: bool) -> dict:
    style = draw(st.sampled_from(["edge", "free"]))
    if bibs:
        count = draw(st.integers(2, 3))
        near = {"amber": count, "slate": count}
        return {
            "near": {"side": "team", "style": "free", "place": "active", "touches": 3, "players": near},
            "far": {
                "side": "team",
                "style": style,
                "place": "two" if two else "one",
                "players": {"amber": 1, "slate": 1},
            },
        }
    return {
        "outer": {
            "side": "out",
            "style": style,
            "place": "one",
            "touches": draw(st.sampled_from([2, "free"])),
            "players": 3,
        },
        "spare": {"side": "out", "style": "edge", "place": "two" if two else "one", "players": draw(st.integers(1, 2))},
        "inner": {"side": "in", "style": "free", "place": "active", "players": draw(st.integers(1, 2))},
        "deep": {"side": "in", "style": "free", "place": "one", "players": 1},
    }


def restart(draw, sides: tuple[str, str]) -> dict:
    return {
        "to": draw(st.sampled_from([*sides, "other", "same"])),
        "from": draw(st.sampled_from(["server", "line"])),
        "seconds": draw(st.sampled_from([0, 1, 3])),
        "area": draw(st.sampled_from(["active", "one"])),
    } | draw(st.sampled_from([{}, {}, {"by": "newcomer"}, {"by": "winner"}, {"by": "loser"}]))


def phase(draw, name: str, facts: dict) -> dict:
    """A phase with one to four rules; where there are two, each has a rule that leads to the other."""
    aims = ["keep"] + ["goal"] * facts["goals"] + ["home"] * facts["homes"]
    found = {"aim": draw(st.sampled_from(aims)), "ball_in": "active", "open": [], "rules": {}}
    if facts["two"]:
        found["open"].append("transfer")
    if facts["goals"]:
        found["open"].append("shoot")
    for number in range(draw(st.integers(1, 4))):
        found["rules"][f"{name}-{number}"] = rule(draw, facts, found["aim"])
    if len(facts["phases"]) == 2:
        other = next(one for one in facts["phases"] if one != name)
        found["rules"][f"{name}-on"] = rule(draw, facts, found["aim"], {"phase": other})
    rewarded = [one for one in found["rules"].values() if any("score" in action for action in one["do"])]
    if found["aim"] == "keep" and any("through" in one for one in rewarded):
        found["aim"] = draw(st.sampled_from(["keep", "gates"]))
    elif found["aim"] == "keep" and any(one["on"] == "passes" for one in rewarded):
        found["aim"] = draw(st.sampled_from(["keep", "passes"]))
    return found


def on_of(draw, facts: dict, aim: str) -> str:
    events = ["loss"] * 5 + ["win", "out", "passes", "passes", "wins", "time"]
    events += ["foul"] * 3 * (facts["fouls"] > 0)
    events += ["pass", "pass", "counter", "counter"] + ["carry"] * facts["two"]
    events += ["transfer"] * facts["two"] + ["goal", "save", "miss"] * facts["goals"] + ["home"] * 3 * (aim == "home")
    return draw(st.sampled_from(events))


def rule(draw, facts: dict, aim: str, last: dict | None = None) -> dict:
    on = on_of(draw, facts, aim)
    found: dict = {"on": on}
    if on in ("passes", "wins"):
        found |= {"count": draw(st.integers(1, 4)), "each": draw(st.booleans())}
    if on == "counter":
        found |= {"counter": draw(st.sampled_from(list(facts["counters"]))), "count": draw(st.integers(2, 4))}
        found["each"] = draw(st.booleans())
    if on == "pass":
        found |= conditions(draw, facts)
    if on == "foul":
        found |= draw(st.sampled_from([{}, {}, {"from": "one"}, *({"by_role": one} for one in named(facts))]))
    if on == "carry":
        found["to"] = draw(st.sampled_from(["one", "two"]))
    if on == "time":
        found |= {"count": draw(st.sampled_from([2, 5, 9])), "each": draw(st.booleans())}
    if on == "loss":
        found["causes"] = draw(
            st.one_of(st.just([]), st.lists(st.sampled_from(CAUSES), min_size=1, max_size=4, unique=True))
        )
    if on not in ("time", "counter") and draw(st.booleans()):
        found["by"] = draw(st.sampled_from(facts["sides"]))
    if on in OF_A_COLOUR and draw(st.integers(0, 4)) == 0:
        found["colour"] = draw(st.sampled_from(facts["sides"] if facts["bibs"] else ["squad"]))
    does = [action_of(draw, on, facts) for _ in range(draw(st.integers(0 if last else 1, 3)))]
    found["do"] = does + ([last] if last else [])
    return found


def named(facts: dict) -> list[str]:
    """The roles of the two sides."""
    return [role for side in facts["sides"] for role in facts["roles"][side]]


def together(phases: dict) -> st.SearchStrategy[dict]:
    """Who of several at the ball changes places as the winner, where a winner does."""
    does = [one for phase in phases.values() for rule in phase["rules"].values() for one in rule["do"]]
    if not any("winner" in (one.get("swap"), one.get("with")) for one in does):
        return st.just({})
    return st.sampled_from([{}, {"together": "longest in"}, {"together": "next on the list"}])


def conditions(draw, facts: dict) -> dict:
    """One thing that is asked of a pass."""
    roles = named(facts)
    return draw(
        st.sampled_from(
            [
                {},
                {"through": "any", "other_gate": True},
                {"through": "stile"},
                {"to": "one"},
                {"from": "one"},
                {"first_time": True},
                {"not_back": True},
                *({"by_role": role} for role in roles),
                *({"to_role": role} for role in roles),
            ]
        )
    )


def counter(draw, facts: dict) -> dict:
    """A count of something."""
    of = draw(st.sampled_from(["passes", "passes", "wins", "touches", "balls", "seconds"]))
    found = {"of": of, "scope": draw(st.sampled_from(["side", "bout"])), "start": draw(st.sampled_from([0, 0, 1]))}
    found["resets"] = draw(st.lists(st.sampled_from(["loss", "out", "score", "phase"]), max_size=2, unique=True))
    return found | (conditions(draw, facts) if of == "passes" else {})


def action_of(draw, on: str, facts: dict) -> dict:
    verbs = ["score", "score", "assign", "restart", "restart", "reset", "end"]
    verbs += ["resize"] * (not facts["two"] and not facts["goals"])
    verbs += ["phase"] * (len(facts["phases"]) == 2) + ["open", "close"] * (facts["two"] or facts["goals"])
    if on == "loss":
        verbs += ["window", "step"] * 2 + (["trade"] if facts["bibs"] else ["swap"] * 5)
    if on == "foul" and not facts["bibs"]:
        verbs += ["swap"] * 3
    if on not in ("loss", *WINDOWS) and not facts["bibs"]:
        verbs.append("change")
    match draw(st.sampled_from(verbs)):
        case "score":
            to = ["holder", *facts["sides"]] + ["winner", "loser"] * (on in ("loss", "foul"))
            return {"score": draw(st.sampled_from([1, 2])), "to": draw(st.sampled_from(to))}
        case "assign":
            side = draw(st.sampled_from(facts["sides"]))
            first, then = draw(st.permutations(facts["roles"][side]))
            found = {"assign": then, "of": draw(st.sampled_from(["all", "holder", "other"])), "from": first}
            if draw(st.booleans()):
                found |= {"count": 1, "choose": draw(st.sampled_from(["nearest", "longest in"]))}
            return found
        case "restart":
            return {"restart": draw(st.sampled_from(["start", "out", "again"]))}
        case "reset":
            return {"reset": draw(st.sampled_from(["passes", "wins", *facts["counters"]]))}
        case "window":
            return draw(st.sampled_from([{"window": 3}, {"window": 1.5}, {"window": 2, "of": "passes"}]))
        case "step":
            return {"step": draw(st.sampled_from(["loser", "side"]))}
        case "change":
            found = {"swap": draw(st.sampled_from(["longest in", "next on the list"]))}
            return found | {"of": draw(st.sampled_from(["holder", "other"])), "with": draw(st.sampled_from(COME))}
        case "resize":
            by = draw(st.sampled_from([-1, 1]))
            return {"resize": "one", "by": by, "to": 8.5 if by < 0 else 14}
        case "end":
            return {"end": "bout"}
        case "phase":
            return {"phase": draw(st.sampled_from(facts["phases"]))}
        case "trade":
            return {"trade": "roles"}
        case "swap":
            who = draw(st.sampled_from(["loser", "loser", "winner"]))
            found = {"swap": who, "with": draw(st.sampled_from(COME if who == "winner" else ["winner", *COME]))}
            lists = [draw(st.lists(st.sampled_from(named(facts)), min_size=1, max_size=3, unique=True))]
            return found | draw(st.sampled_from([{}, {}, *({"from": one} for one in lists)]))
        case verb:
            found = {verb: draw(st.sampled_from(["transfer"] * facts["two"] + ["shoot"] * facts["goals"]))}
            alone = ["holder"] + ["winner", "loser"] * (on == "loss")
            return found | draw(st.sampled_from([{}, {"for": draw(st.sampled_from(alone))}]))
