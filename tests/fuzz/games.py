"""Random valid games over the whole language of game files, for `hypothesis` to draw and to shrink, or from a seed.

Everything is drawn in the short form as people write it, one part after the other (`Draft`): what one part asks of another is drawn
so that it fits.  Bouts last seconds and players are few, so that a bout costs next to nothing.  Names are no words of the language,
so that they can be exchanged for others (`tests.fuzz.holds`).
"""

from __future__ import annotations

from random import Random
from typing import Any

from hypothesis import strategies as st

from tests.fuzz import ground, people, rules
from tests.fuzz.chance import Chance
from tests.fuzz.draft import Draft

COLOURS, WORDS = ("amber", "slate", "umber"), ("givers", "takers")
SHORT = 0.9  # of everything that may stand at the top or once, how often it does not


def games() -> st.SearchStrategy[dict]:
    """Games for `hypothesis`."""
    return st.randoms(use_true_random=False).map(game)


def game(source: Random) -> dict:
    """One game in the short form."""
    chance = Chance(source)
    draft = _form(chance)
    areas, draft.homes = ground.areas(chance, draft), chance.yes()
    goals, gates, zones = ground.goals(chance, draft), ground.gates(chance, draft), ground.zones(chance, draft)
    roles = people.roles(chance, draft)
    people.who_may_be_where(chance, draft, zones)
    teams = people.teams(chance, draft)
    populations = {team: one["population"] for team, one in teams.items()}
    draft.fouls = chance.one([0.0, 0.0, chance.real(0.01, 1)])
    restarts = rules.restarts(chance, draft)
    draft.counters = {one: rules.counter(chance, draft) for one in ("tallow", "tinder")[: chance.whole(0, 2)]}
    phases = rules.phases(chance, draft)
    rules.ladders(chance, draft, phases, roles)
    if "spare" in draft.roles:
        roles["spare"] = people.instructed(chance, draft.roles["spare"])
    does = [one for phase in phases.values() for rule in phase["rules"].values() for one in rule["do"]]
    if any("partner" in one.get("swap", "") or one.get("swap", "").startswith("pair") for one in does):
        teams[draft.teams[0]]["pairs"] = people.pairs_of(draft)
    bouts = _bouts(chance, draft, does)
    players = _players(chance, draft, roles, populations, does, bouts)
    if (
        bouts.get("roles", "carry on") == "carry on"
        and bouts["count"] > 1
        and not _may_carry_on(draft, phases, does, bouts)
    ):
        bouts["roles"] = "start anew"
    found: dict[str, Any] = {"format": 1, "bouts": bouts, "start": _start(chance, draft, phases, bouts), "areas": areas}
    found |= {"goals": goals} if goals else {}
    found |= {"zones": zones} if zones else {}
    found |= {"teams": teams, "roles": roles, "phases": phases}
    found |= {"players": players} if players else {}
    found |= {"restarts": restarts} if restarts else {}
    found |= {"counters": draft.counters} if draft.counters else {}
    found |= {"fouls": {"share": draft.fouls}} if draft.fouls else {}
    found = _how_it_is_won_and_lost(chance, draft, found, does)
    used = _gates_in_use(found, gates)
    found |= {"gates": used} if used else {}
    _lines(chance, draft, found)
    _between(chance, draft, found)
    _heading(chance, found)
    _written_once(chance, found)
    return found


def _form(chance: Chance) -> Draft:
    """Sides by colour or by word, how many teams there are, and how people change places."""
    form = chance.one(["bibs", "bibs", "words", "words", "words", "teams", "twos", "twos"])
    if form == "bibs":
        return Draft(COLOURS[:2], COLOURS[:2], chance.one(["within", "trade", ""]))
    if form == "teams":
        draft = Draft(COLOURS[: chance.one([2, 3])], WORDS, "teams")
        draft.stays = len(draft.teams) > 2 and chance.yes(0.6)
        return draft
    if form == "twos":
        return Draft(COLOURS[:1], WORDS, chance.one(["pairs", "alone"]))
    return Draft(COLOURS[: chance.one([1, 2])], WORDS, chance.one(["single", "single", ""]))


def _bouts(chance: Chance, draft: Draft, does: list[dict]) -> dict:
    """The bouts: how many, how long, how each ends and what the next has of it."""
    scored = any("score" in one for one in does)
    found: dict[str, Any] = {"count": chance.whole(1, 3)}
    found |= {"minutes": 0.1} if chance.yes(0.15) else {"seconds": chance.one([4, 8, 8, 16])}
    found |= {"rest_minutes": chance.real(0, 1)} if chance.yes(0.15) else {}
    found |= {"rest_seconds": chance.real(0, 60)} if "rest_minutes" not in found and chance.yes() else {}
    found |= {"clock": chance.one(["running", "stopped"])} if chance.yes(0.3) else {}
    found |= {"balls": chance.whole(1, 3)} if chance.yes(0.2) else {}
    found |= {"finish_seconds": chance.real(1, 4)} if chance.yes(0.2) else {}
    if scored:
        found |= {"first_to": float(chance.whole(3, 9))} if chance.yes(0.3) else {}
        found |= {"level_seconds": chance.real(1, 4)} if chance.yes(0.2) else {}
    if draft.stays and scored:
        return chance.perhaps(
            found | {"stays": "winner"},
            longest_stay=lambda: chance.whole(1, 3),
            tie=lambda: chance.one(["nobody", "longest on"]),
            roles=lambda: "carry on",
            points=lambda: "start anew",
        )
    draft.stays = False
    two_roles = any(len(_roles_of(draft, team)) > 1 for team in draft.teams)
    rotates = two_roles and chance.yes(0.2)
    found |= {"rotate": "list"} if rotates else {"rotate": "none"} if chance.yes(0.1) else {}
    found |= {} if rotates else chance.one([{}, {"roles": "carry on"}, {"roles": "start anew"}])
    by_colour = scored and len(draft.teams) > 1 and not draft.by_bibs
    if scored:
        found |= {"best_of": True} if chance.yes(0.2) else {}
        if "first_to" not in found and chance.yes(0.3):
            found["points"] = chance.one(["carry on", "start anew"])
    counted = "first_to" in found or "best_of" in found
    if by_colour and counted and found.get("points") != "carry on" and "level_seconds" not in found and chance.yes(0.8):
        found["points_by"] = "colour"
    elif chance.yes(0.1):
        found["points_by"] = "side"
    return found


def _roles_of(draft: Draft, team: str) -> set[str]:
    """The roles in which players of a team begin."""
    return {name for name in draft.roles if draft.many(name).get(team)}


def _start(chance: Chance, draft: Draft, phases: dict[str, dict], bouts: dict) -> dict:
    """Who has the ball first, in which phase and where; and in the bouts after the first."""
    found: dict[str, Any] = {"side": draft.start}
    first = phases[rules.PHASES[0]]
    if len(phases) > 1 and chance.yes(0.2):
        found["phase"] = rules.PHASES[0]
    if first.get("ball_in", "active") != "active":
        found["area"] = first["ball_in"]
    elif chance.yes(0.2):
        found["area"] = chance.one([one for one in draft.spots if one in ground.AREAS])
    if bouts.get("points_by") != "colour" and chance.yes(0.25):
        most = min(2, int(bouts.get("first_to", 3)) - 1)
        found["points"] = {draft.sides[1]: chance.whole(0, most)}
    able = all(draft.on(side) + draft.floaters > 1 for side in draft.sides)
    if able and (first["aim"] != "goal" or draft.attacked == set(draft.sides)) and chance.yes(0.5):
        words = ["start", "in turn", "holder"]
        scored = any(
            "score" in one for phase in phases.values() for rule in phase["rules"].values() for one in rule["do"]
        )
        words += ["winner", "loser"] * (scored and bouts.get("points_by") != "colour")
        bouts["first_ball"] = chance.one(words)
    return found


def _players(
    chance: Chance, draft: Draft, roles: dict, populations: dict[str, str], does: list[dict], bouts: dict
) -> dict[str, dict]:
    """What is known of single players, and what one does not do."""
    found = people.known(chance, draft, roles, populations)
    if chance.yes(0.5):
        to_all = {one["assign"] for one in does if "assign" in one and "count" not in one}
        free = not draft.stays and bouts.get("rotate") != "list" and not any("trade" in one for one in does)
        one = chance.one(people.listed_as(draft, next(iter(roles))))[0]
        found[one] = found.get(one, {}) | people.limits(chance, draft, to_all, free)
    return {name: one for name, one in found.items() if one}


def _may_carry_on(draft: Draft, phases: dict[str, dict], does: list[dict], bouts: dict) -> bool:
    """Whether the roles of the whistle can be those of the next start, wherever play has brought people."""
    if not draft.by_bibs or bouts.get("rotate") == "list":
        return True
    jobs = phases[rules.PHASES[0]].get("jobs", {})
    mine = {name: one for name, one in draft.roles.items() if one["side"] == "team"}
    posts = {jobs.get(name, f"{one['style']} in {one['place']}") for name, one in mine.items()}
    decided = any({"assign", "swap", "trade"} & set(one) for one in does) or draft.capped
    return len(posts) == 1 or not decided


def _how_it_is_won_and_lost(chance: Chance, draft: Draft, found: dict, does: list[dict]) -> dict:
    """What counts as a win, whom a loss is charged to, and what else may be said of the whole game."""
    win = chance.one(
        [
            {},
            {"confirm": "control"},
            {"confirm": "touch"},
            {"confirm": "hold", "seconds": chance.one([0.5, 2.0])},
            {"confirm": "passes", "passes": chance.whole(1, 3)},
            *([{"confirm": "gate", "gate": chance.one(["any", *draft.gates])}] * bool(draft.gates)),
        ]
    )
    if len(win) > 1:
        win |= {"contested": chance.one(["starts again", "goes on"])} if chance.yes(0.4) else {}
        win.pop("confirm") if chance.yes(0.3) else None
    if any("winner" in (one.get("swap"), one.get("with")) or one.get("swap", "").startswith("winner") for one in does):
        win |= {"together": chance.one(["first", "longest in", "next on the list"])} if chance.yes() else {}
    adults = all(team["population"] in people.ADULTS for team in found["teams"].values())
    makers = {
        "hold_limit_seconds": lambda: chance.one([1, 2, chance.real(1, 8)]),
        "supply": lambda: {"balls": chance.whole(1, 3), "retrieve_seconds": chance.real(0, 3)},
        "loss": lambda: {
            "charged": chance.one(["last touch", "passer", "receiver", "nearest"]),
            "floater": chance.one(["nobody", "last team-mate"]),
        },
        "load": lambda: people.load(chance, adults),
        "units": lambda: chance.one(["metres", "yards"]),
    }
    return chance.perhaps(found | ({"win": win} if win else {}), **makers)


def _gates_in_use(found: dict, gates: dict[str, dict]) -> dict[str, dict]:
    """The gates that something goes through; any gate is all of them."""
    asked = [one.get("through") for phase in found["phases"].values() for one in phase["rules"].values()]
    asked += [one.get("through") for one in found.get("counters", {}).values()]
    asked += [found.get("win", {}).get("gate"), *(one.get("gate") for one in found.get("restarts", {}).values())]
    if "any" in asked:
        return gates
    both = {"west-gap", "east-gap"} <= set(asked)
    used = {
        name: dict(one) for name, one in gates.items() if name in asked or (name == "west-gap" and "east-gap" in asked)
    }
    if "west-gap" in used and not both:  # only one of the two is asked for: it is written alone
        name = "west-gap" if "west-gap" in asked else "east-gap"
        x, y = used.pop("west-gap")["centre"]
        used[name] = {"centre": [x, y] if name == "west-gap" else [-x, -y], "width": gates["west-gap"]["width"]}
    if len(used) < 2 and not both:
        for one in (
            *found.get("counters", {}).values(),
            *(rule for phase in found["phases"].values() for rule in phase["rules"].values()),
        ):
            one.pop("other_gate", None)
    return used


def _posts(found: dict, draft: Draft) -> list[tuple[str, str]]:
    """(style, place) wherever somebody may stand in some phase."""
    posts = []
    for phase in found["phases"].values():
        for name, one in draft.roles.items():
            words = [phase.get("jobs", {}).get(name, f"{one['style']} in {one['place']}")]
            turned = [one[key] for key in ("with_ball", "without_ball") if key in one]
            words += [] if name in phase.get("jobs", {}) else turned
            posts += [(word.split()[0], word.split()[2]) for word in words]
    return posts


def _lines(chance: Chance, draft: Draft, found: dict) -> None:
    """When a ball over a line is out: beyond the run-off only where somebody stands on the lines."""
    places = {place for style, place in _posts(found, draft) if style == "edge"}
    places |= {one.get("home") for one in found["teams"].values()} if "home" in places else set()
    for name, area in found["areas"].items():
        manned = "active" in places or name in places
        manned &= name != "west-pen" or "active" in places or {"west-pen", "east-pen"} <= places
        area |= chance.one([{}, {"out": "line"}, *([{"out": "run-off", "run_off": 1.5}] if manned else [])])


def _between(chance: Chance, draft: Draft, found: dict) -> None:
    """Perhaps a ball between two areas is out: where one of them is played in and touches another, or is played to across."""
    start = found["start"].get("area", next(iter(draft.spots)))
    touching = any(draft.spots[start].touches(one) for one in draft.spots.values())
    opened = {what for phase in found["phases"].values() for what in phase["open"]}
    named = [place for style, place in _posts(found, draft) if style in ("edge", "free") and place in draft.spots]
    others = [name for name in draft.spots if name != start]
    clear = len(others) == 1 and max(draft.spots[start].gaps(draft.spots[others[0]])) > ground.TOUCHING
    apart = clear and "transfer" in opened and others[0] in named
    if (touching or apart) and chance.yes(0.4):
        found["between_areas"] = "out"
    elif chance.yes(0.1):
        found["between_areas"] = "first"


def _heading(chance: Chance, found: dict) -> None:
    """What the game is called, if it is said."""
    for key, text in {
        "name": "any-game",
        "title": "Any game",
        "purpose": "To be played at all.",
        "club": "Quillhaven",
    }.items():
        if chance.yes(0.6):
            found[key] = text


def _written_once(chance: Chance, found: dict) -> None:
    """Perhaps the rules of the only phase stand at the top, or a list of consequences has a name."""
    (first, phase), *more = found["phases"].items()
    if phase["rules"] and chance.yes(0.15):
        name, rule = chance.one(phase["rules"].items())
        found["actions"] = {"nettle": rule["do"]}
        rule["do"] = ["nettle"]
    if not more and chance.yes(0.3):
        found["rules"] = phase.pop("rules")
