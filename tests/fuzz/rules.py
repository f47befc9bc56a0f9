"""The rules of a random game: phases, what happens in them, what is asked of it, and what follows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sim.game.aims import REWARDED
from sim.game.colours import OF_A_COLOUR
from sim.game.counting import COUNTED_APART, TOLD_APART
from sim.game.playability import UNLOST
from sim.game.swaps import NAMES_LOSER, NAMES_WINNER
from sim.game.windows import WINDOWS
from tests.fuzz import ground
from tests.fuzz.chance import Chance
from tests.fuzz.draft import Draft

PHASES, NAMES = ("dawn", "noon", "dusk"), ("whisper", "shout", "echo")
IN_TIME = ("regain", "late")
SHOTS = ("goal", "save", "miss")
CAUSES = ("interception", "tackle", "miscontrol", "out", "time limit", "rule fault", "shot", "misplaced")
WON_AND_LOST = ("loss", "foul", *WINDOWS)
UNITS = {
    "pairs": (" and partner", "pair longest in"),
    "alone": (" and partner", ""),
    "teams": ("'s team", "team longest in"),
}
TWICE = (["goal", "miss"], ["save", "miss"], ["out", "goal"], ["win", "home"], ["loss", "time"])
"""Events that never come of one ball, for a rule that answers to both."""


def restart(chance: Chance, draft: Draft, name: str) -> dict:
    """How a dead ball comes back: from where there is something, by somebody there is."""
    sides = ["other", "same", *draft.sides, *([] if name == "goal" else ["winner", "loser"])]
    found: dict[str, Any] = {"to": chance.one(sides)}
    sources = ["server", "line"] + ["keeper"] * any(one["style"] == "goal" for one in draft.roles.values())
    sources += ["gate"] * bool(draft.gates) + ["own end"] * (draft.attacked == set(draft.sides))
    found = chance.perhaps(found, **{"from": lambda: chance.one(sources)})
    if found.get("from") == "gate":
        found["gate"] = chance.one(draft.gates)
    areas = ["active", *draft.spots, *(["home"] if draft.homes else []), *(["across"] if len(draft.spots) == 2 else [])]
    found = chance.perhaps(
        found, seconds=lambda: chance.one([0, 0, 1, 2, chance.real(0, 3)]), area=lambda: chance.one(areas)
    )
    return found | chance.one(
        [{}, {"role": chance.one(draft.roles)}, {"by": chance.one(["newcomer", "winner", "loser"])}]
    )


def restarts(chance: Chance, draft: Draft) -> dict:
    """Some restarts of the game, and one of its own; sometimes one for each side, written once."""
    names = ["start", "out", "chalk", *(["foul"] if draft.fouls else []), *(["goal"] if draft.goals else [])]
    found = {name: restart(chance, draft, name) for name in chance.some(names, 0, 3)}
    draft.restarts = dict(found)
    if chance.yes(0.1):
        one, other = draft.sides
        found[f"{one}-ball"] = {"to": one, "seconds": 2, "other_side": True}
        draft.restarts |= {f"{one}-ball": {"to": one, "seconds": 2}, f"{other}-ball": {"to": other, "seconds": 2}}
    for name, one in found.items():
        if chance.yes(0.15) and name in ("start", "out", "chalk"):
            del one["to"]  # the standard one of its name, else other
            draft.restarts[name] = one | {"to": draft.start if name == "start" else "other"}
    return found


def served_by(chance: Chance, draft: Draft, on: str, counts: str | None) -> str:
    """A restart that an event can be followed by: to a side the event knows, and not at once where the ball itself is counted."""
    known = {"start": {"to": draft.start}, "out": {"to": "other"}} | draft.restarts
    unknown_to = (*UNLOST, "goal")
    at_once = counts in ("touches", "balls")
    fit = [name for name, one in known.items() if not (on in unknown_to and one["to"] in ("winner", "loser"))]
    fit = [name for name in fit if not (at_once and known[name].get("seconds", 4) < 1)]
    return chance.one(fit) if fit else ""


def conditions(chance: Chance, draft: Draft, on: str, meant: tuple[str, ...]) -> dict:
    """What is asked of a pass, a carry, a transfer, a foul, or what a counter counts."""
    places = [*draft.spots, *(draft.open_zones if on != "transfer" else [])]
    makers = {
        "from": lambda: chance.one(places),
        "to": lambda: chance.one(places),
        "by_role": lambda: chance.one(draft.roles),
        "to_role": lambda: chance.one(draft.roles),
        "first_time": lambda: True,
        "not_back": lambda: True,
    } | ({"through": lambda: chance.one(["any", *draft.gates])} if draft.gates else {})
    found = {key: makers[key]() for key in chance.some([key for key in meant if key in makers], 0, 2)}
    if "through" in found and len(draft.gates) > 1 and chance.yes(0.7):
        found["other_gate"] = True
    if on == "transfer" and "from" in found and "to" in found:
        spot = draft.spots[found["from"]]
        beyond = [name for name, one in draft.spots.items() if not one.lies_in(spot)]
        found = found | {"to": chance.one(beyond)} if beyond else {"from": found["from"]}
    return found


def counter(chance: Chance, draft: Draft) -> dict:
    """A count of something."""
    of = chance.one(["passes", "passes", "wins", "touches", "balls", "seconds"])
    found = chance.perhaps(
        {"of": of},
        scope=lambda: chance.one(["side", "bout"]),
        resets=lambda: chance.some(["loss", "out", "score", "phase"]),
        start=lambda: chance.whole(0, 1),
    )
    return found | conditions(chance, draft, "counter", COUNTED_APART.get(of, ()))


def action(chance: Chance, draft: Draft, on: str, opens: list[str], counts: str | None = None) -> dict:
    """One consequence that can follow an event."""
    verbs = ["score", "score", "reset", "restart", "restart", "end"] + ["open", "close"] * bool(opens)
    if len(draft.phases) > 1:
        verbs.append("phase")
    if on == "loss":
        verbs += ["window", "window", "step"] + ["trade"] * 4 * (draft.changing == "trade")
    if draft.changing in ("single", "pairs", "alone", "teams", "within"):
        verbs += ["swap"] * 3
    verbs += ["assign"] * 3 * any(mates_of(draft, one) for one in draft.outfield)
    verbs += ["resize"] * 8 * (ground.room_to_change(draft) is not None)
    if draft.stays:
        verbs = [verb for verb in verbs if verb not in ("assign", "swap")]
    verb = chance.one(verbs)
    meant = ["holder", *draft.sides, *(["winner", "loser"] if on in WON_AND_LOST else [])]
    match verb:
        case "open" | "close":
            whom = {"for": chance.one([one for one in meant if one not in draft.sides])} if chance.yes(0.5) else {}
            return {verb: chance.one(opens)} | whom
        case "score":
            return chance.perhaps({"score": chance.real(0.1, 100)}, to=lambda: chance.one(meant))
        case "reset":
            return {"reset": chance.one(["passes", "wins", "steps", *draft.counters])}
        case "restart":
            served = served_by(chance, draft, on, counts)
            return {"restart": served} if served else {"end": "bout"}
        case "phase":
            return {"phase": chance.one(draft.phases)}
        case "swap":
            return swap(chance, draft, on)
        case "resize":
            return resize(chance, draft)
        case "trade":
            return {"trade": "roles"}
        case "window":
            seconds = {"window": chance.one([1.0, 2.5])}
            passes = {"window": chance.whole(1, 2), "of": "passes"}
            return chance.one([seconds, seconds | {"of": "seconds"}, passes, passes | {"floaters": False}])
        case "step":
            return {"step": chance.one(["loser", "side"])}
        case "assign":
            return assign(chance, draft)
    return {"end": "bout"}


def resize(chance: Chance, draft: Draft) -> dict:
    """The area that has room for it shrinks, or grows a little."""
    name = ground.room_to_change(draft)
    spot, by = draft.spots[name], chance.one([-3.0, -0.5, 0.5, 3.0])
    short, long = min(spot.length, spot.width), max(spot.length, spot.width)
    return {"resize": name, "by": by, "to": max(0.7 * short, min(2.9, short)) if by < 0 else long + ground.GROWS}


def mates_of(draft: Draft, role: str) -> list[str]:
    """The other outfield roles of a side."""
    return [one for one in draft.outfield if one != role and draft.roles[one]["side"] == draft.roles[role]["side"]]


def assign(chance: Chance, draft: Draft) -> dict:
    """Some take another role of their own side."""
    role = chance.one([one for one in draft.outfield if mates_of(draft, one)])
    found = {"assign": role, "of": chance.one(["all", "holder", "other"]), "from": chance.one(mates_of(draft, role))}
    everybody = {one["side"] for one in draft.roles.values() if found["of"] == "all" or one["side"] != "holder"}
    if everybody == {draft.roles[role]["side"]} and chance.yes():
        del found["from"]
    return chance.perhaps(
        found,
        count=lambda: chance.whole(1, 2),
        choose=lambda: chance.one(["nearest", "longest in", "passer and receiver", "next on the list"]),
    )


def swap(chance: Chance, draft: Draft, on: str) -> dict:
    """Some change places: whom the event knows, or who has been in longest, as all of the game change."""
    partners, longest = UNITS.get(draft.changing, ("", "longest in"))
    who = [f"loser{partners}"] * 2 * (on in NAMES_LOSER) + [f"winner{partners}"] * (on in NAMES_WINNER)
    who += [longest] * bool(longest) + ["next on the list"] * (draft.changing in ("single", "within"))
    if not who:  # where partners may be parted anybody may change alone
        who = ["longest in", "next on the list"]
    found = {"swap": chance.one(who)}
    named = found["swap"].startswith(("loser", "winner"))
    if not named:
        found["of"] = chance.one(["holder", "other"])
    come = ["longest in", "next on the list"]
    come += ["winner"] * (on in NAMES_WINNER and not found["swap"].startswith("winner"))
    come += ["waiting"] * 2 * (draft.bench is not None)
    found["with"] = chance.one(come)
    if draft.changing == "alone" and named:
        found["alone"] = True
    theirs = [one for one in draft.outfield if not draft.by_bibs or draft.roles[one]["side"] == "team"]
    if found["with"] != "waiting" and (draft.by_bibs or (draft.changing in ("single", "alone") and chance.yes(0.4))):
        found["from"] = chance.one([chance.one(theirs), chance.some(theirs, 1, 2)])
    return found


def rule(chance: Chance, draft: Draft, ons: list[str], opens: list[str], leads: str | None) -> dict:
    """One rule: an event, what is asked of it, what follows; perhaps another phase (`leads`)."""
    on = chance.one(ons)
    found: dict[str, Any] = {"on": on}
    counts = None
    if on in ("passes", "wins"):
        found |= {"count": chance.whole(1, 4)}
    if on == "counter":
        name = chance.one(draft.counters)
        counts = draft.counters[name]["of"]
        found |= {"counter": name, "count": chance.whole(2, 4)}
    if on == "time":
        found |= {"count": chance.real(1, 8)}
    if "count" in found:
        found = chance.perhaps(found, each=lambda: True)
    if on in TOLD_APART:
        found |= conditions(chance, draft, on, TOLD_APART[on])
    if on == "carry" and "to" not in found:
        found["to"] = chance.one([*draft.spots, *draft.open_zones])
    both = on == "time" or (on == "counter" and draft.counters[found["counter"]].get("scope") == "bout")
    if not both and chance.yes(0.25):
        found["by"] = chance.one(draft.sides)
    if on in OF_A_COLOUR and chance.yes(0.2):
        found["colour"] = chance.one(draft.teams)
    if on == "loss" and chance.yes(0.4):
        found["causes"] = chance.some(CAUSES, 1, 3)
        found["causes"] += ["out"] * (found["causes"] == ["misplaced"])
    if on == "loss" and chance.yes(0.2):
        found["last_step"] = True
    if set(found) == {"on", "to"} and found["to"] is not None and on in ("pass", "carry") and chance.yes(0.5):
        found["on"], on = ["pass", "carry"], "pass"
    do = [action(chance, draft, on, opens, counts) for _ in range(chance.whole(0 if leads else 1, 3))]
    return found | {"do": [*do, {"phase": leads}] if leads else do}


def _events(draft: Draft, aims: set[str], ever: set[str]) -> list[str]:
    """What can happen in a phase."""
    ons = ["loss"] * 3 + ["win", "win", "out", "passes", "wins", "time", "pass", "pass", "carry"]
    ons += ["counter"] * 3 * bool(draft.counters) + ["foul"] * 2 * bool(draft.fouls)
    ons += (
        ["transfer"] * 2 * ("transfer" in ever) + [*SHOTS, *SHOTS] * ("shoot" in ever) + ["home"] * 5 * ("home" in aims)
    )
    return ons


def phases(chance: Chance, draft: Draft) -> dict[str, dict]:
    """One to three phases, each of which leads to the next, and what they aim at, allow and reward."""
    draft.phases = PHASES[: chance.one([1, 1, 2, 3])]
    places = (
        ["transfer"] * (len(draft.spots) > 1)
        + ["shoot"] * bool(draft.goals)
        + [one for one in draft.shut if draft.shut[one]]
    )
    ever = set(chance.some(places, 0))
    found: dict[str, dict] = {}
    for number, name in enumerate(draft.phases):
        aims = ["keep", "keep"] + ["home"] * 2 * draft.homes
        aims += ["goal"] * 2 * bool(draft.attacked if number else draft.start in draft.attacked)
        phase = {"aim": chance.one(aims)}
        if chance.yes(0.3):
            phase["ball_in"] = chance.one(["active", *draft.spots])
        ons = _events(draft, {phase["aim"]}, ever)
        following = draft.phases[(number + 1) % len(draft.phases)] if len(draft.phases) > 1 else None
        rules = {"bell": rule(chance, draft, ons, places, following)} if following else {}
        rules |= {one: rule(chance, draft, ons, places, None) for one in NAMES[: chance.whole(0, 3)]}
        found[name] = phase | {"rules": rules}
        _jobs(chance, draft, found[name])
    _spare(chance, draft, found)
    _asked_for(chance, draft, found)
    _answered(chance, draft, found, places)
    _opened(chance, draft, found, ever)
    _aims(chance, draft, found)
    return found


def _jobs(chance: Chance, draft: Draft, phase: dict) -> None:
    """Perhaps a role stands elsewhere in a phase."""
    movable = [name for name in draft.outfield if name != draft.bench]
    if chance.yes(0.3) and not draft.stays:
        words = [f"{chance.one(['edge', 'free', 'wait'])} in {chance.one(['active', *draft.spots])}"]
        words += [f"goal at {one}" for one in draft.goals[:1]]
        phase["jobs"] = {chance.one(movable): chance.one([*words * 3, words[-1]])}


def _spare(chance: Chance, draft: Draft, found: dict[str, dict]) -> None:
    """Perhaps a role that nobody begins in, and the rule that gives it."""
    if chance.yes(0.25) and not draft.stays:
        ranger = draft.roles["ranger"]
        draft.roles["spare"] = {key: ranger[key] for key in ("side", "style", "place")}
        give = {"assign": "spare", "of": chance.one(["all", "holder", "other"]), "from": "ranger"}
        found[draft.phases[0]]["rules"]["murmur"] = {"on": chance.one(["loss", "win", "out"]), "do": [give]}


def _asked_for(chance: Chance, draft: Draft, found: dict[str, dict]) -> None:
    """Every counter has a rule; sometimes one rule answers to two events, or is the same for the other side."""
    rules = found[draft.phases[0]]["rules"]
    heard = {one.get("counter") for phase in found.values() for one in phase["rules"].values()}
    for name in draft.counters:
        if name not in heard:
            rules[f"tells-{name}"] = {"on": "counter", "counter": name, "count": 3, "do": [{"score": 1}]}
    if chance.yes(0.15):
        rules["twice"] = {
            "on": ["out", "time"][:1] + ["home"] * (found[draft.phases[0]]["aim"] == "home"),
            "do": [{"score": 1}],
        }
    if chance.yes(0.15):
        one = draft.sides[0]
        on = chance.one([{"on": "loss"}, {"on": "win"}, {"on": "passes", "count": 2}])
        rules[f"{one}-tells"] = on | {"by": one, "do": [{"score": 1, "to": one}], "other_side": True}


def _answered(chance: Chance, draft: Draft, found: dict[str, dict], places: list[str]) -> None:
    """A rule that begins a phase opens no window, and where one is opened something follows."""
    for phase in found.values():
        rules = phase["rules"]
        for one in rules.values():
            if any("phase" in action for action in one["do"]):
                one["do"] = [action for action in one["do"] if "window" not in action]
        if any("window" in action for one in rules.values() for action in one["do"]):
            for name in IN_TIME:
                rules[name] = rule(chance, draft, [*WINDOWS], places, None)


def _done(found: dict[str, dict]) -> Iterator[tuple[str, dict]]:
    """(phase in which it holds, action) of all consequences: in another phase, if they have begun one."""
    for name, phase in found.items():
        for one in phase["rules"].values():
            here = name
            for action in one["do"]:
                here = action.get("phase", here)
                yield here, action


def _opened(chance: Chance, draft: Draft, found: dict[str, dict], ever: set[str]) -> None:
    """What is ever to be open is so from the start of some phase, to both sides or to one, where no rule opens it there."""
    by_rule = {(here, action["open"]) for here, action in _done(found) if "open" in action}
    closed = {(here, action["close"]) for here, action in _done(found) if "close" in action}
    for name, phase in found.items():
        free = [what for what in sorted(ever) if (name, what) not in by_rule - closed]
        phase["open"] = [what for what in free if chance.yes(0.8)]
        side = chance.one(draft.sides)
        rest = [what for what in free if what not in phase["open"]]
        rest = [what for what in rest if what != "shoot" or (phase["aim"] == "goal" and side in draft.attacked)]
        if rest and chance.yes(0.7):
            phase["open_for"] = {side: rest}
    everybody = {what for phase in found.values() for what in phase["open"]}
    everybody |= {action["open"] for _, action in _done(found) if "open" in action}
    alone = {
        (side, what) for phase in found.values() for side, more in phase.get("open_for", {}).items() for what in more
    }
    for what in sorted(ever - everybody - {what for _, what in alone}):
        found[draft.phases[0]]["open"].append(what)
        everybody.add(what)
    for phase in found.values():
        for one in phase["rules"].values():
            what = "transfer" if one["on"] == "transfer" else "shoot" if one["on"] in SHOTS else None
            if what is not None and "by" in one and what not in everybody and (one["by"], what) not in alone:
                del one["by"]


def _aims(chance: Chance, draft: Draft, found: dict[str, dict]) -> None:
    """Perhaps the sides aim at what a rule rewards, or each at something else."""
    for phase in found.values():
        if chance.yes(0.3):
            through = {"through": "any"} if draft.gates else {}
            into = {"to": chance.one(draft.open_zones)} if draft.open_zones else {}
            reward = chance.one([through, into, {}]) or {"first_time": True}
            phase["rules"]["gleam"] = {"on": "pass", "do": [{"score": 1}]} | reward
        rewarded = [aim for aim in REWARDED if any(_rewards(one, aim) for one in phase["rules"].values())]
        if rewarded and chance.yes(0.6) and not _needs_its_aim(phase):
            phase["aim"] = chance.one(rewarded)
        if chance.yes(0.15) and "open_for" not in phase:
            side = chance.one(draft.sides)
            others = ["keep", *rewarded] + ["home"] * draft.homes + ["goal"] * 2 * (side in draft.attacked)
            phase["aims"] = {side: chance.one(others)}


def _needs_its_aim(phase: dict) -> bool:
    """Whether something in a phase goes with what it aims at."""
    events = {
        on for one in phase["rules"].values() for on in (one["on"] if isinstance(one["on"], list) else [one["on"]])
    }
    return "home" in events or "open_for" in phase


def _rewards(one: dict, aim: str) -> bool:
    """Whether a rule rewards both sides for what such a side plays for."""
    given = any(set(action) & {"score", "open", "phase"} for action in one["do"])
    if "by" in one or not given or one["on"] not in ("pass", "carry", "passes"):
        return False
    return {"gates": "through" in one, "passes": one["on"] != "carry", "zones": "to" in one}[aim]


def ladders(chance: Chance, draft: Draft, found: dict[str, dict], written: dict[str, dict]) -> None:
    """Where a rule has a step, some roles have a ladder to go down; where none has, no rule asks for one."""
    rules = [one for phase in found.values() for one in phase["rules"].values()]
    if any("step" in action for one in rules for action in one["do"]):
        for name in chance.some(written, 1):
            written[name] |= {"touches": chance.one([3, "free"]), "ladder": chance.one([[2], [2, 1], [1]])}
        return
    for one in rules:
        one.pop("last_step", None)
        for action in one["do"]:
            if action.get("reset") == "steps":
                action["reset"] = "passes"
