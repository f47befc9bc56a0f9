"""Passes told apart, gates, counters, ends of bouts and limits of a person: pairs of tiny games that differ in one word, and
the log that shows it."""

from __future__ import annotations

import pytest

from sim.errors import InputError
from sim.game.loader import load_game, resolve, to_resolved, to_short
from sim.pitch.engine import play_bout
from sim.pitch.seeking import rewards
from sim.players import draw_roster
from sim.words.rules import rules_in_words
from tests.theory.games import even, events_of, keep_ball, merged, of_kind, one_bout, scripted

POINT = [{"score": 1}]


def limited(players: dict, **more: object):
    """An even game with limits of single players."""
    return resolve(merged(to_short(even(**more)), {"players": players}), "even")


def played_freely(game, seed: int = 1) -> list[dict]:
    """A bout in which players see and decide as they do."""
    return events_of(play_bout(game, draw_roster(game, seed, 0), seed))


GATES = {"left": {"centre": [-6, 0], "width": 12}, "right": {"centre": [6, 0], "width": 12}}


def passes_of(**asked: object) -> dict:
    return {"rules": {"told": {"on": "pass", "do": POINT} | asked}}


def received(events: list[dict]) -> list[tuple[dict, dict]]:
    """(release, reception) of every completed pass."""
    found, last = [], None
    for each in events:
        if each["kind"] == "release":
            last = each
        if each["kind"] == "receive" and last is not None:
            found.append((last, each))
    return found


def scored_at(events: list[dict]) -> set[float]:
    return {each["t"] for each in of_kind(events, "score")}


def test_every_pass_is_told_and_taking_the_word_out_tells_none():
    events = one_bout(even(seconds=20.0, **passes_of()), scripted())
    assert scored_at(events) == {each["t"] for _, each in received(events)}
    assert not of_kind(one_bout(even(seconds=20.0), scripted()), "score")


@pytest.mark.parametrize("key", ["from", "to"])
def test_from_and_to_an_area_are_where_it_was_played_and_received(key):
    # A smaller area marked out in the square: only passes that begin, or end, in it count.
    box = {"box": {"length": 12.0, "width": 24.0, "within": "square"}}
    events = one_bout(even(seconds=40.0, areas=box, **passes_of(**{key: "box"})), scripted())
    passes = received(events)
    inside = {last["t"] for first, last in passes if abs((first if key == "from" else last)["x"]) <= 6.0}
    assert scored_at(events) == inside and 0 < len(inside) < len(passes)


def crosses(first: dict, last: dict, x: float, half: float) -> bool:
    """Whether the straight way of a pass goes through a gate that is played through from west to east."""
    (x0, y0), (x1, y1) = ((each["x"], each["y"]) for each in (first, last))
    return (x0 - x) * (x1 - x) < 0 and abs(y0 + (y1 - y0) * (x - x0) / (x1 - x0)) < half


def test_through_a_gate_is_between_its_cones():
    # Where nobody touches the ball on its way, that is as good as straight.
    gate = {"middle": {"within": "square", "width": 12.0}}
    events = played_freely(even(4, seconds=150.0, gates=gate, **passes_of(through="middle")))
    passes = received(events)
    through = {last["t"] for _, last in passes if "middle" in last["detail"]}
    assert scored_at(events) == through and 0 < len(through) < len(passes)
    touched = [each["t"] for each in of_kind(events, "deflect", "block")]
    clear = [
        (first, last)
        for first, last in passes
        if not any(first["t"] <= t <= last["t"] for t in touched)
        and min(abs(first["x"]), abs(last["x"])) > 1.5
        and crosses(first, last, 0.0, 4.5) == crosses(first, last, 0.0, 7.5)
    ]
    assert len(clear) > 10
    assert [last["detail"] == "middle" for _, last in clear] == [
        crosses(first, last, 0.0, 6.0) for first, last in clear
    ]


def through_gates(**asked: object) -> list[tuple[str, str, bool]]:
    """(side, gates, whether it scored) of every pass through a gate."""
    events = played_freely(even(4, seconds=180.0, gates=GATES, **passes_of(through="any", **asked)))
    at = scored_at(events)
    return [(last["side"], last["detail"], last["t"] in at) for _, last in received(events) if last["detail"]]


def test_not_the_same_gate_twice_running():
    assert all(scored for _, _, scored in through_gates())
    last: dict[str, str] = {}
    wanted, found = [], through_gates(other_gate=True)
    for side, gates, _ in found:
        wanted.append(any(gate != last.get(side) for gate in gates.split()))
        last[side] = gates.split()[-1]
    assert [scored for _, _, scored in found] == wanted and {True, False} == set(wanted)


def test_not_straight_back_and_by_whom():
    events = one_bout(even(seconds=30.0, **passes_of(not_back=True)), scripted())
    passes = received(events)
    back = [
        last["player"] == before[0]["player"] and last["other"] == before[1]["player"]
        for before, (_, last) in zip(passes, passes[1:], strict=False)
    ]
    assert any(back)
    assert [last["t"] in scored_at(events) for _, last in passes[1:]] == [not one for one in back]


def test_a_role_that_passes_or_receives():
    far = {"far": {"side": "team", "style": "free", "place": "square", "players": {"amber": 1, "slate": 1}}}
    for key, who in (("by_role", "other"), ("to_role", "player")):
        events = one_bout(even(seconds=30.0, roles=far, **passes_of(**{key: "far"})), scripted())
        asked = {last["t"] for _, last in received(events) if last[who] in ("amber-4", "slate-4")}
        assert asked and scored_at(events) == asked


def test_a_pass_that_confirms_a_win_is_nothing_else():
    game = even(seconds=8.0, win={"confirm": "passes", "passes": 1}, **passes_of())
    events = one_bout(game, scripted("won"))
    won = {each["t"] for each in of_kind(events, "win")}
    assert len(won) == 1 and scored_at(events) == {last["t"] for _, last in received(events)} - won


def test_a_new_ball_for_every_ball_takes_its_time():
    for of in ("balls", "touches"):
        more = {"rules": counted(1, each=True, do=[{"restart": "again"}]), "counters": {"mine": {"of": of}}}
        again = {"again": {"to": "amber", "seconds": 1}}
        assert len(of_kind(one_bout(even(seconds=8.0, restarts=again, **more), scripted()), "live")) > 4
        with pytest.raises(InputError, match=f"must be a restart after at least 1 s, .* among the {of}"):
            even(restarts={"again": {"to": "amber", "seconds": 0}}, **more)


COUNT = {"counters": {"mine": {"of": "passes"}}}


def counted(count: int = 3, **more: object) -> dict:
    return {"told": {"on": "counter", "counter": "mine", "count": count, "do": POINT} | more}


def counts(events: list[dict], side: str | None = None) -> list[float]:
    return [each["value"] for each in of_kind(events, "count") if side in (None, each["side"])]


def test_a_counter_of_passes_begins_anew_when_the_others_get_the_ball_unless_it_is_kept():
    script = ["on", "on", "won", "on", "won", "on", "on"]
    lost = one_bout(even(seconds=8.0, rules=counted(), **COUNT), scripted(*script, then="won"))
    kept = {"counters": {"mine": {"of": "passes", "resets": []}}}
    whole = one_bout(even(seconds=8.0, rules=counted(), **kept), scripted(*script, then="won"))
    assert counts(lost, "amber")[:4] == [1.0, 2.0, 1.0, 2.0] and not of_kind(lost, "score")
    assert counts(whole, "amber")[:4] == [1.0, 2.0, 3.0, 4.0]
    assert [each["side"] for each in of_kind(whole, "score")] == ["amber"]


def test_each_and_start_and_one_count_for_both():
    base = {"of": "passes", "resets": []}
    every = one_bout(even(seconds=10.0, rules=counted(2, each=True), counters={"mine": base}), scripted())
    assert len(of_kind(every, "score")) == len(counts(every)) // 2 > 2
    later = one_bout(even(seconds=10.0, rules=counted(3), counters={"mine": base | {"start": 2}}), scripted())
    assert counts(later)[0] == 3.0 and len(of_kind(later, "score")) == 1
    both = one_bout(
        even(seconds=10.0, rules=counted(3), counters={"mine": base | {"scope": "bout"}}), scripted("on", "on", "won")
    )
    assert counts(both)[:4] == [1.0, 2.0, 3.0, 4.0]


@pytest.mark.parametrize("what", ["score", "out", "phase"])
def test_what_else_sets_it_back(what):
    counters = {"mine": {"of": "passes", "resets": [what]}}
    more = {"second": {"on": "passes", "count": 2, "do": [{"score": 1}] if what == "score" else [{"phase": "on"}]}}
    phases = (
        {"on": {"rules": counted(99) | {"back": {"on": "loss", "do": [{"phase": "keep"}]}}}} if what == "phase" else {}
    )
    script = ("on", "on", "out", "on", "won") if what == "out" else ()
    rules = counted(99) | (more if what != "out" else {})
    kept = merged(counters, {"mine": {"resets": []}})
    values = [
        counts(one_bout(even(seconds=20.0, rules=rules, counters=one, phases=phases), scripted(*script)), "amber")
        for one in (counters, kept)
    ]
    assert values[0] != values[1] and values[1][:2] == [1.0, 2.0]
    assert 1.0 in values[0][1:], "it did not begin again"


def test_touches_wins_and_balls_are_counted():
    def of(what: str, script: tuple[str, ...], **more: object) -> tuple[list[dict], list[float]]:
        counters = {"mine": {"of": what, "scope": "bout"} | more}
        events = one_bout(even(seconds=20.0, rules=counted(2), counters=counters), scripted(*script))
        return events, counts(events)

    for what, kind in (("touches", "touch"), ("wins", "win"), ("balls", "live")):
        events, values = of(what, ("on", "won", "on", "won", "out", "on", "out"))
        assert values == [float(k + 1) for k in range(len(of_kind(events, kind)))] and len(values) > 1, what
        assert len(of_kind(events, "score")) == 1
    assert "mine" not in [each["cause"] for each in of_kind(one_bout(even(seconds=5.0), scripted()), "count")]


def test_seconds_run_while_a_side_has_the_ball_in_play():
    rules = counted(4, each=True) | {"lost": {"on": "loss", "do": [{"restart": "out"}]}}
    game = even(seconds=40.0, rules=rules, counters={"mine": {"of": "seconds"}})
    events = one_bout(game, scripted(*["on"] * 12, "out", *["on"] * 16, "won"))
    had: list[tuple[float, float]] = []
    for each in events:
        if each["kind"] == "live":
            had.append((each["t"], 40.0))
        if each["kind"] == "loss" and had:
            had[-1] = (had[-1][0], each["t"])
    wanted = [t for begin, end in had for t in (begin + 4.0 * k for k in range(1, 20)) if t <= end]
    assert len(wanted) > 4
    assert [each["t"] for each in of_kind(events, "score")] == pytest.approx(wanted)


def test_a_counter_is_set_back_by_a_rule():
    base = {"counters": {"mine": {"of": "passes", "resets": []}}}
    events = one_bout(even(seconds=10.0, rules=counted(2, do=[{"score": 1}, {"reset": "mine"}]), **base), scripted())
    assert counts(events)[:5] == [1.0, 2.0, 1.0, 2.0, 1.0]
    assert len(of_kind(events, "score")) == len(counts(events)) // 2


def test_carried_into_an_area():
    # Each side brings the ball to its home at an end of the pitch; whoever takes it over that line at his feet is told.
    ends = {"length": 6.0, "width": 24.0}
    areas = {"square": {"length": 30.0}, "far": ends | {"centre": [12, 0]}, "near": ends | {"centre": [-12, 0]}}
    homes = {"teams": {"amber": {"home": "far"}, "slate": {"home": "near"}}, "phases": {"keep": {"aim": "home"}}}
    game = even(2, seconds=300.0, rules={"in": {"on": "carry", "to": "far", "do": POINT}}, areas=areas, **homes)
    events = played_freely(game)
    carried = [each for each in of_kind(events, "carry") if each["detail"] == "far"]
    assert carried and all(9.0 - 1e-6 <= each["x"] <= 15.0 + 1e-6 for each in carried)
    assert scored_at(events) == {each["t"] for each in carried}


# --- how a bout ends


def test_a_bout_is_over_after_so_many_balls_when_the_rules_have_answered():
    rules = {"lost": {"on": "loss", "do": [{"restart": "start"}, {"score": 1, "to": "winner"}]}}
    events = one_bout(keep_ball(seconds=60.0, rules=rules, bouts={"balls": 3}), scripted(then="out"))
    assert len(of_kind(events, "live")) == len(of_kind(events, "score")) == 3
    assert events[-1]["kind"] == "end" and events[-1]["t"] < 30.0
    assert len(of_kind(one_bout(keep_ball(seconds=60.0, rules=rules), scripted(then="out")), "live")) > 3


def test_first_to_so_many_points_with_points_at_the_start():
    rules = {"point": {"on": "passes", "count": 2, "each": True, "do": POINT}}
    ends = {}
    three = {"bouts": {"first_to": 3}}
    ahead = three | {"start": {"points": {"amber": 2}}}
    for name, more in {"whole": {}, "to three": three, "ahead": ahead}.items():
        events = one_bout(even(seconds=20.0, rules=rules, **more), scripted())
        ends[name] = len(of_kind(events, "score"))
        assert (events[-1]["t"] == 20.0) == (name == "whole")
    assert ends["to three"] == 3 and ends["ahead"] == 1 and ends["whole"] > 3


def test_level_at_the_whistle_goes_on_until_the_next_point():
    rules = {"point": {"on": "passes", "count": 12, "do": POINT}}
    draw = one_bout(even(seconds=4.0, rules=rules), scripted())
    assert draw[-1]["t"] == 4.0 and not of_kind(draw, "score")
    on = one_bout(even(seconds=4.0, rules=rules, bouts={"level_seconds": 60}), scripted())
    assert len(of_kind(on, "score")) == 1 and on[-1]["t"] == of_kind(on, "score")[0]["t"] > 4.0
    short = one_bout(even(seconds=4.0, rules=rules, bouts={"level_seconds": 2}), scripted())
    assert short[-1]["t"] == 6.0 and not of_kind(short, "score")
    ahead = one_bout(
        even(seconds=4.0, rules=rules, bouts={"level_seconds": 60}, start={"points": {"amber": 1}}), scripted()
    )
    assert ahead[-1]["t"] == 4.0


def test_the_attack_is_seen_out():
    script = ["on"] * 7
    for last, end in (("won", "win"), ("out", "out")):
        events = one_bout(even(seconds=4.0, bouts={"finish_seconds": 20}), scripted(*script, then=last))
        assert of_kind(events, "extra")[0]["t"] == 4.0
        assert events[-1]["t"] == [each["t"] for each in of_kind(events, end) if each["t"] > 4.0][0]
        assert one_bout(even(seconds=4.0), scripted(*script, then=last))[-1]["t"] == 4.0
    held = one_bout(even(seconds=4.0, bouts={"finish_seconds": 3}), scripted())
    assert held[-1]["t"] == 7.0


# --- how a ball comes back


def test_only_a_player_in_the_role_gets_the_ball():
    two = {"link": {"side": "outside", "style": "edge", "place": "square", "players": 1}}
    for role, wanted in (("link", {"squad-7"}), (None, None)):
        restart = {"to": "outside", "seconds": 1} | ({"role": role} if role else {})
        game = keep_ball(seconds=90.0, roles=two, restarts={"start": restart, "out": restart})
        served = {each["other"] for each in of_kind(one_bout(game, scripted(then="out")), "live")[1:]}
        assert served == wanted if wanted else len(served) > 1


def test_a_ball_comes_back_in_the_other_of_two_areas():
    west = {"areas": {"east": {"length": 12.0, "width": 12.0, "beside": "square", "on": "east", "gap": 5.0}}}
    far = {"far": {"side": "outside", "style": "edge", "place": "east", "players": 2}}
    for place, wanted in (("across", ["square", "east"] * 3), ("active", ["square"] * 6)):
        restart = {"to": "outside", "seconds": 1, "area": place}
        game = keep_ball(
            seconds=60.0,
            roles=far,
            restarts={"out": restart},
            rules={"lost": {"on": "loss", "do": [{"restart": "out"}]}},
            **west,
        )
        areas = [each["area"] for each in of_kind(one_bout(game, scripted(then="out")), "live")]
        assert areas[:6] == wanted


# --- limits of a person

NEVER = {"players": {"squad-1": {"never": ["inside"]}}}


def goers(**more: object) -> set[str]:
    game = keep_ball(
        seconds=200.0,
        rules={"lost": {"on": "loss", "do": [{"swap": "loser", "with": "longest in"}, {"restart": "start"}]}},
        **more,
    )
    return {each["player"] for each in of_kind(one_bout(game, scripted(then="out")), "swap")}


def test_who_is_never_inside_never_goes_in():
    assert "squad-1" in goers()
    assert "squad-1" not in goers(**NEVER)


def test_his_own_touch_limit():
    def most(**more: object) -> int:
        run = {"squad-1": 0, "squad-2": 0}
        longest, last = dict(run), ""
        for each in of_kind(played_freely(keep_ball(seconds=120.0, **more)), "touch", "deflect", "dead"):
            who = each["player"]
            if who != last or each["kind"] != "touch":
                run = dict.fromkeys(run, 0)
            last = who
            if each["kind"] == "touch" and who in run:
                run[who] += 1
                longest[who] = max(longest[who], run[who])
        return longest["squad-1"]

    assert most() > 1
    assert most(players={"squad-1": {"touches": 1}}) == 1


def test_who_does_not_tackle_is_not_tackled():
    def tackles(*spared: str) -> list[tuple[str, str]]:
        players = {one: {"tackles": False} for one in spared}
        events = [
            each
            for seed in range(1, 9)
            for each in of_kind(played_freely(limited(players, seconds=200.0), seed), "tackle")
        ]
        return [(each["player"], each["other"]) for each in events]

    assert any("amber-1" in pair for pair in tackles())
    spared = tackles("amber-1", "slate-1")
    assert spared and not any(one in pair for pair in spared for one in ("amber-1", "slate-1"))


# --- what cannot be played is refused, what can is saved and printed


@pytest.mark.parametrize(
    ("more", "message"),
    [
        ({"gates": {"a": {"within": "square"}}}, "gates.a must be played through by a rule or a counter (got none)"),
        (
            {"gates": {"a": {"centre": [12, 12]}}, **passes_of(through="a")},
            "gates.a must stand with both cones in one area (got a cone outside)",
        ),
        (
            {"gates": {"a": {"within": "square", "width": 0.3}}, **passes_of(through="a")},
            "gates.a.width must be 0.5 to 150 metres (got 0.3)",
        ),
        (
            {"gates": {"a": {}}, **passes_of(through="a")},
            "gates.a must say where it stands by either within or centre (got nothing)",
        ),
        (passes_of(through="b"), 'phases.keep.rules.told.through must be a gate of this game (got "b")'),
        (
            {"gates": {"a": {"within": "square"}}, **passes_of(through="a", other_gate=True)},
            "phases.keep.rules.told.other_gate must be left out where there is only one gate (got true)",
        ),
        (
            passes_of(other_gate=True),
            "phases.keep.rules.told.other_gate must be left out where through is not given (got true)",
        ),
        (passes_of(by_role="nobody"), "by_role must be a role"),
        (passes_of(count=3), 'count must be left out unless on = "passes", "wins", "counter" or "time" (got 3)'),
        (COUNT, 'counters.mine must be asked for by a rule with on = "counter" (got none)'),
        (
            {"rules": {"told": {"on": "counter", "count": 2, "do": POINT}}},
            'counter must be given for on = "counter" (got nothing)',
        ),
        (
            {"rules": counted() | {"x": {"on": "loss", "counter": "mine", "do": POINT}}, **COUNT},
            'counter must be left out unless on = "counter" (got "mine")',
        ),
        (
            {"rules": counted(), "counters": {"mine": {"of": "passes", "start": 3}}},
            "count must be more than counters.mine.start, 3 (got 3)",
        ),
        ({"rules": counted(2.5), **COUNT}, "count must be a whole number"),
        (
            {"rules": counted(by="amber"), "counters": {"mine": {"of": "passes", "scope": "bout"}}},
            "by must be left out, as counters.mine is one count for both sides",
        ),
        (
            {"rules": counted(), "counters": {"mine": {"of": "balls", "first_time": True}}},
            'counters.mine.first_time must be left out unless of = "passes" (got true)',
        ),
        (
            {"rules": counted(counter="wins"), "counters": {"wins": {"of": "wins"}}},
            "counters.wins must have another name",
        ),
        ({"rules": {"told": {"on": "carry", "do": POINT}}}, 'to must be given for on = "carry" (got nothing)'),
        ({"rules": {"told": {"on": "loss", "do": [{"reset": "mine"}]}}}, "reset must be a count"),
        (
            {"restarts": {"out": {"to": "other", "area": "across"}}},
            "restarts.out.area must be an area by name unless there are two",
        ),
        ({"restarts": {"out": {"to": "other", "role": "nobody"}}}, "restarts.out.role must be a role"),
        ({"start": {"points": {"white": 1}}}, "start.points.white must be a side"),
        (
            {"start": {"points": {"amber": 3}}, "bouts": {"first_to": 3}},
            "start.points.amber must be less than bouts.first_to, 3",
        ),
    ],
)
def test_what_cannot_be_played_is_refused(more, message):
    with pytest.raises(InputError) as caught:
        even(**more)
    assert any(message.partition(" (got")[0].removesuffix(" of this game") in one for one in caught.value.problems), (
        caught.value.problems
    )
    assert len(caught.value.problems) == 1


def test_a_limit_that_the_game_would_break_is_refused():
    trade = {"lost": {"on": "loss", "do": [{"trade": "roles"}]}}
    spare = {"spare": {"side": "team", "style": "free", "place": "square"}}
    for rules, why in (
        (trade, "as phases.keep.rules.lost.do.trade gives everybody another role"),
        (
            {"lost": {"on": "loss", "do": [{"assign": "spare", "of": "all", "from": "field"}]}},
            "as phases.keep.rules.lost.do.assign gives it to all",
        ),
    ):
        keep = {"more": {"on": "win", "do": [{"assign": "spare", "of": "all", "from": "field", "count": 1}]}}
        never = {"amber-1": {"never": ["spare"]}}
        assert limited(never, rules=keep, roles=spare, bouts={"roles": "start anew"})
        with pytest.raises(InputError, match=why):
            limited(never, rules=keep | rules, roles=spare)
    for never in ("field", "nobody"):
        with pytest.raises(InputError, match=r"players.amber-1.never must (leave out the role|be a role)"):
            limited({"amber-1": {"never": [never]}})


def test_all_of_it_is_saved_and_printed():
    game = limited(
        {"amber-1": {"touches": 1, "never": ["runner"], "tackles": False}},
        bouts={"balls": 8, "first_to": 5, "level_seconds": 30, "finish_seconds": 8},
        start={"points": {"slate": 1}},
        roles={"runner": {"side": "team", "style": "free", "place": "square", "players": {"amber": 1, "slate": 1}}},
        restarts={"out": {"role": "field"}},
        gates=GATES,
        counters={"switches": {"of": "passes", "through": "any", "other_gate": True, "resets": ["loss", "score"]}},
        rules={
            "far": {"on": "pass", "to_role": "runner", "first_time": True, "do": POINT},
            "many": {"on": "counter", "counter": "switches", "count": 3, "do": [{"reset": "switches"}]},
        },
    )
    assert resolve(to_short(game), "short") == game
    assert load_game(to_resolved(game)) == game
    words = " ".join(rules_in_words(game).split())
    for said in (
        "Gate left: two cones 12 m apart, 6 m to the left of the middle of the square, played through from left to right or the "
        "other way.",
        "Complete a pass to a runner with the first touch: a point for the side with the ball; play goes on.",
        "When the switches count reaches three: the switches count starts again.",
        "The switches count is of passes through any gate other than the one of their last pass through a gate; each side has its "
        "own; it starts at nothing, and again when the others get the ball or points are given.",
        "Amber 1 has one touch, tackles nobody and is tackled by nobody and is never a runner",
        "Every bout starts with points: slate 1.",
        "A bout is over after eight balls, or when time is up.",
        "A bout is over when a side has five points, or when time is up.",
        "the next point wins, within 30 s; then it's a draw.",
        "plays on until it is lost or dead, 8 s at most.",
        "(a field player, where there is one who can)",
    ):
        assert said in words, said


@pytest.mark.parametrize(
    ("do", "by", "glad"),
    [
        (POINT, None, True),
        (POINT, "slate", False),
        ([{"score": 1, "to": "amber"}], None, True),
        ([{"score": 1, "to": "slate"}], None, False),
        ([{"score": 1}, {"score": 1, "to": "slate"}], None, False),
        ([{"reset": "wins"}], None, False),
    ],
)
def test_a_pass_is_sought_where_it_is_good_for_the_side(do, by, glad):
    told = {"on": "pass", "through": "left", "do": do} | ({"by": by} if by else {})
    game = even(gates={"left": GATES["left"]}, rules={"told": told})
    assert rewards(game.phases[0].rules[0], "amber") is glad
