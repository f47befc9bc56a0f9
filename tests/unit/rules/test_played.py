"""Rules as the log shows them: who of a pass takes a role, who is nearest, what a new phase counts."""

from __future__ import annotations

from collections import Counter

from tests.theory.games import even, keep_ball, of_kind, one_bout, scripted


def joined(choose: str, count: int | None) -> list[tuple[str, tuple[str, str], int]]:
    """(player who became a rover, passer and receiver of the last pass, number of that pass), a row each."""
    action = {"assign": "rover", "of": "holder", "from": "outside", "choose": choose}
    action |= {"count": count} if count is not None else {}
    game = keep_ball(
        5,
        2,
        seconds=30.0,
        delay=2.0,
        roles={"rover": {"side": "outside", "style": "free", "place": "square"}},
        rules={
            "join": {"on": "passes", "count": 1, "each": True, "do": [action]},
            "lost": {"on": "loss", "do": [{"assign": "outside", "of": "all", "from": "rover"}, {"restart": "start"}]},
        },
    )
    rows, pair, number = [], ("", ""), 0
    for each in one_bout(game, scripted("on", "on", "on", "won", "on", "on", "won", "on", "on", "on", "on", "won")):
        if each["kind"] == "receive":
            pair, number = (each["other"], each["player"]), number + 1
        if (each["kind"], each["cause"]) == ("job", "rover"):
            rows.append((each["player"], pair, number))
    return rows


def test_only_passer_and_receiver_of_the_last_pass_take_the_role():
    for count in (1, 2, None):
        rows = joined("passer and receiver", count)
        assert len(rows) > 4
        assert all(player in pair for player, pair, _ in rows), "somebody else was taken to make up the number"


def test_whoever_of_the_two_has_not_got_the_role_is_not_made_up_for():
    # The first pass makes two rovers; of a later one that a rover has played or received there is one more, or nobody.
    by_pass = Counter(number for _, _, number in joined("passer and receiver", 2))
    assert set(by_pass.values()) == {1, 2}


def test_the_nearest_is_never_the_carrier_and_taking_the_word_out_takes_others():
    nearest = joined("nearest", 1)
    assert len(nearest) > 4 and all(player != receiver for player, (_, receiver), _ in nearest)
    assert [row[0] for row in nearest] != [row[0] for row in joined("longest in", 1)]


def counting(**second: object) -> list[dict]:
    rules = {"turn": {"on": "passes", "count": 3, "do": [{"phase": "then"}]}}
    then = {"point": {"on": "passes", "do": [{"score": 1}]} | second, "over": {"on": "loss", "do": [{"phase": "keep"}]}}
    phases = {"then": {"rules": then}}
    return one_bout(even(seconds=11.0, rules=rules, phases=phases), scripted())


def received_by(events: list[dict], kind: str) -> list[int]:
    """How many passes had been received at each event of a kind."""
    counts, received = [], 0
    for each in events:
        received += each["kind"] == "receive"
        if each["kind"] == kind:
            counts.append(received)
    return counts


def test_after_six_passes_means_six_of_this_phase():
    events = counting(count=6)
    assert received_by(events, "phase") == [3]
    assert received_by(events, "score") == [9]


def test_each_of_a_phase_is_counted_from_its_beginning():
    events = counting(count=2, each=True)
    assert received_by(events, "score") == [5, 7, 9, 11, 13]


def test_wins_are_counted_from_the_beginning_of_the_phase_too():
    rules = {"turn": {"on": "wins", "count": 2, "do": [{"phase": "then"}]}}
    then = {"then": {"rules": {
        "point": {"on": "wins", "count": 3, "do": [{"score": 1}]},
        "over": {"on": "passes", "count": 9, "do": [{"phase": "keep"}]}}}}  # fmt: skip
    events = one_bout(even(seconds=30.0, rules=rules, phases=then), scripted(*["won"] * 30))
    order = [
        each["kind"] if each["kind"] != "win" else each["side"] for each in of_kind(events, "win", "phase", "score")
    ]
    # Amber and slate win in turn: slate first has two, and the phase turns; three more of either are a point.
    assert order[:10] == ["slate", "amber", "slate", "phase", "amber", "slate", "amber", "slate", "amber", "score"]


def handed_on(*steps: dict[str, str]) -> list[set[str]]:
    """At every loss, the roles that players of the side that lost it were given; all began as field."""
    limits = {"two": 2, "one": 1}
    roles = {name: {"side": "team", "style": "free", "place": "square", "touches": n} for name, n in limits.items()}
    do = [{"assign": step["to"], "of": "other", "from": step["from"]} for step in steps]
    rules = {"down": {"on": "loss", "do": [*do, {"restart": "start"}]}}
    script = scripted(*["on", "won"] * 12)
    found: list[set[str]] = []
    for each in one_bout(even(seconds=60.0, roles=roles, rules=rules), script):
        if each["kind"] == "rule":
            found.append(set())
        elif each["kind"] == "job" and found:
            found[-1].add(each["cause"])
    return found


def test_a_rule_takes_nobody_on_from_role_to_role_twice():
    up, down, first = ({"from": "one", "to": "field"}, {"from": "two", "to": "one"}, {"from": "field", "to": "two"})
    found = handed_on(up, down, first)
    assert len(found) > 3 and all(len(roles) == 1 for roles in found), found
    assert found[0] == {"two"} and {"one"} in found
