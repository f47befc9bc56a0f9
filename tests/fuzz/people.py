"""The people of a random game: what they do, how many there are, what is known of some, and what single players do not do."""

from __future__ import annotations

from tests.fuzz.chance import Chance
from tests.fuzz.draft import Draft
from tests.fuzz.ground import AREAS

ADULTS, MINORS = ("elite men", "amateur men", "women", "mixed adults"), ("U12", "U17 boys")
SPRINT = {"metres": [5, 10.5, 20, 35], "seconds": [1.192, 2.05, 3.396, 5.385]}
TESTS = (
    {"sprint": SPRINT},
    {"sprint": SPRINT | {"offset_seconds": "estimated"}},
    {"intermittent_run": 1500.0},
    {"shuttle": {"speed_kmh": 19.0, "age": 25.0, "weight_kg": 75.0, "sex": "male"}},
    {"shuttle": {"speed_kmh": 17.0, "age": 22.0, "weight_kg": 61.0, "sex": "female"}},
)
KMH = {"jog_kmh": (5, 9), "run_kmh": (11, 16), "high_speed_kmh": (17, 21), "sprint_kmh": (24, 27)}
SHARES = {
    "jog_share": (0.2, 0.3),
    "run_share": (0.5, 0.65),
    "high_speed_share": (0.7, 0.85),
    "sprint_share": (0.88, 0.95),
}
SHARP = {
    "speed_seconds": (0, 10),
    "acceleration_mps2": (0.5, 8),
    "acceleration_seconds": (0, 5),
    "turn_degrees": (30, 170),
    "turn_seconds": (0.2, 3),
    "turn_mps": (0.5, 8),
}


def abilities(chance: Chance) -> dict:
    """What is known of a player, or of a team."""
    return chance.perhaps(
        {},
        pass_success=lambda: chance.real(0.5, 0.999),
        pressing_speed=lambda: chance.real(2.0, 3.2),
        recovery=lambda: chance.real(20.0, 180.0),
    )


def load(chance: Chance, adults: bool) -> dict:
    """What is counted as fast and as sharp; km/h are those of adults."""
    fast = KMH if adults and chance.yes() else SHARES
    return {key: chance.real(*chosen) for key, chosen in (*fast.items(), *SHARP.items()) if chance.yes()}


def instructed(chance: Chance, role: dict) -> dict:
    """A role with what the coach asks of it."""
    share = lambda: chance.one([0.0, 0.5, 1.0, chance.real(0.0, 1.0)])  # noqa: E731
    return chance.perhaps(
        role,
        touches=lambda: chance.one([1, 2, 3, 4, "free"]),
        press=share,
        marking=share,
        win_back=lambda: chance.real(0, 10),
        width=lambda: chance.real(0.3, 1.2),
        depth=lambda: chance.real(0.3, 1.2),
        tempo=share,
        positions=lambda: chance.one(["free", "fixed"]),
        effort=lambda: chance.real(0.5, 1.3),
        tackled=lambda: chance.one(["always", "never", "after a back-pass"]),
    )


def role(chance: Chance, draft: Draft, side: str, styles: tuple[str, ...] = ("free", "free", "edge")) -> dict:
    """One role of a side; perhaps it plays elsewhere with the ball than without, or keeps to a zone."""
    style, places = chance.one(styles), ["active", *draft.spots, *(["home"] if draft.homes else [])]
    place = chance.one([*places, *(draft.zones if style == "free" else [])])
    found = instructed(chance, {"side": side, "style": style, "place": place})
    if style in ("edge", "free") and side != "holder" and chance.yes(0.15):
        key = chance.one(["with_ball", "without_ball"])
        where = chance.one(["edge", "free"])
        found[key] = f"{where} in {chance.one([*places, *(draft.zones if where == 'free' else [])])}"
    return found


def roles(chance: Chance, draft: Draft) -> dict:
    """Everybody's roles as they are written: two sides of one to five, perhaps wingers, floaters, keepers and a bench."""
    maker = {"teams": _whole_teams, "trade": _even, "pairs": _in_twos, "alone": _in_twos}.get(
        draft.changing, _any_numbers
    )
    written = maker(chance, draft)
    draft.start = _start(chance, draft, written)
    if maker is _any_numbers:
        _numbers(chance, draft, written)
    return written


def _start(chance: Chance, draft: Draft, written: dict) -> str:
    """A side that can have the ball first: two of it, floaters counted.  Where there is none, one side gets one more."""
    able = [side for side in draft.sides if draft.on(side) + draft.floaters > 1]
    if able:
        return chance.one(able)
    team, listed = next(iter(written["ranger"]["players"].items()))
    written["ranger"]["players"][team] = draft.roles["ranger"]["players"][team] = listed + 1
    return draft.sides[0]


def _add(draft: Draft, written: dict, name: str, one: dict, players: dict | None) -> None:
    written[name] = one if players is None else one | {"players": players}
    draft.roles[name] = written[name]


def _any_numbers(chance: Chance, draft: Draft) -> dict:
    """A few on either side, of one colour or two."""
    written: dict[str, dict] = {}
    if draft.by_bibs and chance.yes(0.15):  # written once for both colours
        one = role(chance, draft, "team") | {"players": {"amber": chance.whole(1, 3)}}
        written["amber-runner"] = one | {"other_side": True}
        many = one["players"]["amber"]
        draft.roles |= {f"{team}-runner": one | {"players": {team: many}} for team in draft.teams}
        _add(draft, written, "ranger", role(chance, draft, "team"), {"amber": 1})
    elif draft.by_bibs:
        _add(draft, written, "ranger", role(chance, draft, "team"), {team: chance.whole(1, 4) for team in draft.teams})
    else:
        _add(
            draft,
            written,
            "ranger",
            role(chance, draft, draft.sides[0]),
            {one: chance.whole(1, 3) for one in draft.teams},
        )
        _add(
            draft, written, "seeker", role(chance, draft, draft.sides[1]), {chance.one(draft.teams): chance.whole(1, 3)}
        )
    mine = "team" if draft.by_bibs else draft.sides[0]
    if chance.yes(0.4):
        winger = role(chance, draft, mine, ("edge", "free"))
        _add(draft, written, "winger", winger, {chance.one(draft.teams): chance.whole(1, 2)})
    if chance.yes(0.35):
        _add(
            draft,
            written,
            "bencher",
            role(chance, draft, mine, ("wait",)),
            {chance.one(draft.teams): chance.whole(1, 2)},
        )
    _floating_and_keeping(chance, draft, written, most=2)
    return written


def _even(chance: Chance, draft: Draft) -> dict:
    """Two colours with as many in every role, who may trade them."""
    written: dict[str, dict] = {}
    for name, styles in (("ranger", ("free", "edge")), ("winger", ("free", "edge")), ("bencher", ("wait",))):
        if name == "ranger" or chance.yes(0.3):
            many = chance.whole(2, 3) if name == "ranger" else 1
            _add(draft, written, name, role(chance, draft, "team", styles), dict.fromkeys(draft.teams, many))
    return written


def _in_twos(chance: Chance, draft: Draft) -> dict:
    """Partners on both sides, by their numbers; `pairs_of` says who they are."""
    written: dict[str, dict] = {}
    team, number = draft.teams[0], 0
    for name, side in zip(("ranger", "seeker"), draft.sides, strict=True):
        many = chance.one([2, 4]) if draft.changing == "pairs" and name == "ranger" else 2
        many += chance.whole(0, 1) if draft.changing == "alone" else 0
        styles = ("free", "edge")
        _add(
            draft, written, name, role(chance, draft, side, styles), {team: list(range(number + 1, number + many + 1))}
        )
        number += many
    if chance.yes(0.3):
        _add(draft, written, "bencher", role(chance, draft, draft.sides[0], ("wait",)), {team: [number + 1]})
    if chance.yes(0.3):
        floater = role(chance, draft, "holder", ("free", "edge"))
        _add(draft, written, "joker", floater, {team: [number + 2]})
    return written


def pairs_of(draft: Draft) -> list[list[int]]:
    """Who goes with whom: everybody two by two, or, where whoever has none goes alone, two of the first side."""
    team = draft.teams[0]
    listed = [draft.roles[name]["players"][team] for name in ("ranger", "seeker")]
    if draft.changing == "alone":
        return [listed[0][:2]]
    return [one[at : at + 2] for one in listed for at in range(0, len(one), 2)]


def _whole_teams(chance: Chance, draft: Draft) -> dict:
    """A team on either side, all of one size, and perhaps one that is off: it waits, or floats."""
    written: dict[str, dict] = {}
    many = chance.whole(2, 3)
    for name, side, team in zip(("ranger", "seeker"), draft.sides, draft.teams, strict=False):
        _add(draft, written, name, role(chance, draft, side), {team: many})
    if len(draft.teams) > 2:
        if chance.yes():
            _add(draft, written, "bencher", role(chance, draft, draft.sides[0], ("wait",)), {draft.teams[2]: many})
        else:
            _add(draft, written, "joker", role(chance, draft, "holder"), {draft.teams[2]: many})
    elif not draft.stays:
        _floating_and_keeping(chance, draft, written, most=1)
    return written


def _floating_and_keeping(chance: Chance, draft: Draft, written: dict, most: int) -> None:
    """Perhaps floaters, perhaps a keeper."""
    if chance.yes(0.3):
        floater = role(chance, draft, "holder", ("free", "edge"))
        _add(draft, written, "joker", floater, {chance.one(draft.teams): chance.whole(1, most)})
    if draft.goals and chance.yes(0.6):
        side = chance.one(["team"] if draft.by_bibs else [*draft.sides, "holder"])
        keeper = instructed(chance, {"side": side, "style": "goal", "place": chance.one(draft.goals)})
        keeper["hands"] = chance.yes()
        if chance.yes(0.2):
            del keeper["style"]  # as it keeps a goal
        team = chance.one(draft.teams)
        _add(draft, written, "warden", keeper, {team: 1})
        draft.roles["warden"] = draft.roles["warden"] | {"style": "goal"}


def _numbers(chance: Chance, draft: Draft, written: dict) -> None:
    """Perhaps shirt numbers and written ids instead of counts, or a bare number where there is one team."""
    listing = written["ranger"]["players"]
    team, many = next(iter(listing.items()))
    if chance.yes(0.3):
        listing[team] = [chance.one([60 + k, f"Nr. {k}"]) for k in range(many)]
    elif len(draft.teams) == 1 and chance.yes(0.3):
        written["ranger"]["players"] = many
        draft.roles["ranger"] = written["ranger"]


def listed_as(draft: Draft, name: str) -> list[tuple[str, str]]:
    """(id, team) of the players who are sure to have these ids: of the first role in the file, or written down."""
    listing = draft.roles[name]["players"]
    listing = listing if isinstance(listing, dict) else {draft.teams[0]: listing}
    found = []
    for team, one in listing.items():
        members = one if isinstance(one, list) else range(1, one + 1)
        found += [(member if isinstance(member, str) else f"{team}-{member}", team) for member in members]
    return found


def known(chance: Chance, draft: Draft, written: dict, populations: dict[str, str]) -> dict[str, dict]:
    """What is known of some of those of the first role."""
    found: dict[str, dict] = {}
    first = next(iter(written))
    for number, (one, team) in enumerate(listed_as(draft, first)):
        if chance.yes(0.7):
            continue
        about = abilities(chance)
        about |= chance.one(TESTS) if populations[team] in ADULTS and chance.yes() else {}
        about |= {"restricted": True} if chance.yes(0.3) else {}
        about |= {"number": 80 + number} if one.startswith("Nr.") and chance.yes() else {}
        found |= {one: about} if about else {}
    return found


def limits(chance: Chance, draft: Draft, handed_out: set[str], free_to_be_limited: bool) -> dict:
    """What one player of the first role does not do.  `handed_out`: roles that some rule gives to all; `free_to_be_limited`: no
    rule and no series gives everybody another role."""
    found = chance.perhaps({}, touches=lambda: chance.one([1, 2, 3, "free"]), tackles=lambda: False)
    if not free_to_be_limited:
        return found
    if draft.bench is not None and draft.roles[draft.bench]["side"] in ("team", *draft.sides) and chance.yes(0.7):
        cap = chance.one(["most_bouts", "most_minutes"])
        found[cap] = chance.whole(1, 2) if cap == "most_bouts" else chance.real(0.02, 0.3)
        draft.capped = True
    others = [name for name in draft.roles if name not in ("ranger", "amber-runner", draft.bench, *handed_out)]
    if others and chance.yes():
        found["never"] = [chance.one(others)]
    return found


def who_may_be_where(chance: Chance, draft: Draft, written: dict) -> None:
    """To whom zones are closed, and least and most numbers in them, so that everybody has somewhere to be."""
    roles_placed = {one["place"] for one in draft.roles.values()}
    for name, zone in written.items():
        both = name == "west-verge"
        words = ["holder", "other", *draft.sides, *(draft.outfield if not both else [])]
        if chance.yes(0.35) and not roles_placed & {name, "east-verge"}:
            zone["closed_to"] = chance.some(words, 1, 2)
        open_to = [word for word in words if word not in zone.get("closed_to", ())]
        able = [word for word in open_to if min(_free(draft, one) for one in _same(draft, word, both)) > 0]
        if able and chance.yes(0.3):
            zone["least"] = dict.fromkeys(chance.some(able, 1, 2), 1)
        if chance.yes(0.4):
            zone["most"] = {
                word: max(chance.whole(1, 3), _placed(draft, word, name)) for word in chance.some(words, 1, 2)
            }
        if draft.goals and chance.yes(0.3):
            zone["offside"] = True
        for one in ("west-verge", "east-verge") if both else (name,):
            draft.shut[one] = list(zone.get("closed_to", ()))


def _same(draft: Draft, word: str, both: bool) -> list[str]:
    """A word, and what becomes of it where the same holds for the other side."""
    return list(draft.sides) if both and word in draft.sides else [word]


def _free(draft: Draft, word: str) -> int:
    """How many of a side or a role, or of either side, are free players."""
    free = {name: draft.many(name) for name, one in draft.roles.items() if one["style"] == "free"}
    by_side = {
        side: sum(
            number
            for name, many in free.items()
            for team, number in many.items()
            if (team if draft.roles[name]["side"] == "team" else draft.roles[name]["side"]) == side
        )
        for side in draft.sides
    }
    if word in ("holder", "other"):
        return min(by_side.values())
    return by_side[word] if word in by_side else sum(free.get(word, {}).values())


def _placed(draft: Draft, word: str, zone: str) -> int:
    """How many of a role have the zone for their place."""
    here = draft.roles.get(word, {}).get("place") in (zone, "east-verge")
    return sum(draft.many(word).values()) if here else 0


def teams(chance: Chance, draft: Draft) -> dict[str, dict]:
    """The teams as they are written, all adults or all minors."""
    populations = chance.one([ADULTS, ADULTS, MINORS])
    homes = [*(name for name in draft.spots if name in AREAS)]
    return {
        team: {"population": chance.one(populations)}
        | ({"home": chance.one(homes)} if draft.homes else {})
        | abilities(chance)
        for team in draft.teams
    }
