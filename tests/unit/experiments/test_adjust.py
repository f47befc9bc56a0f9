"""The card for the grass: order, triggers, what cannot be told, and what is never proposed."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest
from scipy.special import stdtr, stdtrit
from typer.testing import CliRunner

from cli.app import app
from sim.errors import InputError
from sim.experiments.adjust import adjust, refusals_of, start_of, triggers_of
from sim.experiments.adjusted import Refusal, Spells
from sim.experiments.cautions import LINE
from sim.experiments.levers import LeftOut, Lever, levers_of
from sim.experiments.paired import holm
from sim.experiments.sessions import bout_counts
from sim.experiments.sums import Sums
from sim.game.loader import load_game, to_short
from sim.measures.session_counts import COLUMN
from sim.plots.frames import of_card
from sim.words.adjust_details import adjusted_in_words, card_in_words
from sim.words.commands import Given, with_tweak
from sim.words.levers import bare_name, lever_name, to_do, why_not
from sim.words.screen import whole_commands
from tests.support.games import GAMES as SIX
from tests.theory.games import keep_ball
from tests.unit.measures.handmade import square_bout, square_game

BASE = square_game(count=3)
SHARE = ("in_play_share", "game")
SUCH_AS = "--aim: must read MEASURE=VALUE, such as turnovers=3, turnovers=more or turnovers=less"
LUCK = [((1 + 7 * session + 3 * bout) % 11) * 0.3 for session in range(8) for bout in range(3)]


def sized(length: float):
    return BASE.model_copy(update={"areas": tuple(a.model_copy(update={"length": float(length)}) for a in BASE.areas)})


GAME = sized(12)


def lever(length: int, people: int = 0) -> tuple[Lever, object]:
    changes = (f"areas.square.length={length}",)
    return Lever("size", 1 if length > 12 else -1, ("square",), (12, 10), (length, 10), "m", people, changes), sized(
        length
    )


NULL = Lever("bout", 1, (), (60,), (75,), "s", 0, ()), GAME


def staged(game, seed, replicate):
    """Each metre beyond 10 delays the first loss by a second; luck from 0 to 3 s is shared by all sizes."""
    for number in range(game.bouts.count):
        luck = ((seed + 7 * replicate + 3 * number) % 11) * 0.3
        yield square_bout(replicate, number, late=game.areas[0].length - 10 + luck)


def own_luck(game, seed, replicate):
    """Size does nothing, but each has a luck of its own."""
    rng = np.random.default_rng([seed, replicate, int(game.areas[0].length)])
    for number in range(game.bouts.count):
        yield square_bout(replicate, number, late=9 * rng.random())


def interrupted_at_5(game, seed, replicate):
    if replicate == 5:
        raise KeyboardInterrupt
    return staged(game, seed, replicate)


def interrupted_at_once(game, seed, replicate):
    raise KeyboardInterrupt


def card(goal: float | str = "more", levers=None, **more):
    more = {"bouts": 24, "workers": 1, "session": staged} | more
    return adjust(GAME, (*SHARE, goal), levers or [lever(15), lever(16), lever(9)], **more)


def small(found, given=None) -> str:
    return adjusted_in_words(found, GAME, given)


def lengths(found) -> list[float]:
    return [one.lever.after[0] for one in found.effects]


def share(late: float) -> float:
    """In play 43 s of 60 without a delay, and a second more for each second of it."""
    return (43 + late) / 60


def test_the_order_is_that_of_the_known_effects():
    assert lengths(card("more")) == [16, 15, 9]
    assert lengths(card("less")) == [9, 16, 15]
    assert lengths(card(0.99)) == [16, 15, 9] and lengths(card(0.10)) == [9, 16, 15]
    assert [one.aim.difference for one in card("more").effects] == pytest.approx([4 / 60, 3 / 60, -3 / 60])


def test_the_threshold_is_the_lowest_tenth_of_two_bouts_in_a_row():
    pairs = [share(2 + (LUCK[3 * n + i] + LUCK[3 * n + i + 1]) / 2) for n in range(8) for i in range(2)]
    found = card("more")
    assert (found.spells.bouts, found.spells.number) == (2, 16)
    assert (found.spells.low, found.spells.high) == pytest.approx((np.quantile(pairs, 0.1), np.quantile(pairs, 0.9)))
    (trigger,) = found.triggers
    assert (trigger.below, trigger.value, trigger.effects) == (True, found.spells.low, (0, 1))
    (other,) = card("less").triggers
    assert (other.below, other.value, other.effects) == (False, found.spells.high, (0,))


def wide_luck(game, seed, replicate):
    """A delay of 3 to 6.5 s by luck, 0.85 s more for each metre."""
    for number in range(game.bouts.count):
        luck = ((seed + 7 * replicate + 3 * number) % 11) * 0.35
        yield square_bout(replicate, number, late=3 + luck + 0.85 * (game.areas[0].length - 12))


def test_a_number_is_aimed_at_from_both_sides_and_with_the_lever_that_fits():
    """Two bouts in a row are late by 3.7 to 5.8 s (tenths); the levers by +2.55, +3.4 and -2.55 s."""
    for late, below, above in ((5.5, [15, 16], []), (4.0, [], [9])):
        found = card(share(late), session=wide_luck)
        low, high = found.triggers
        assert (low.below, high.below) == (True, False)
        assert (low.value, high.value) == pytest.approx((share(3.7), share(5.8)))
        assert [found.effects[i].lever.after[0] for i in low.effects] == below  # the nearer first, not the stronger
        assert [found.effects[i].lever.after[0] for i in high.effects] == above
        text = " ".join(card_in_words(found).split())
        assert f"for two bouts: what clearly {'lowers' if below else 'raises'} it would go too far." in text
    alone = " ".join(card_in_words(card(share(4.0), session=wide_luck, levers=[lever(16)])).split())
    assert "for two bouts: nothing here clearly lowers it." in alone


def test_a_number_out_of_reach_says_with_what_to_begin():
    assert card(0.99).start == 0 and "To start with: put 4 m on each side (16 x 10 m); that gives " in card_in_words(
        card(0.99)
    )
    over = card(0.10)
    assert over.start == 0 and over.effects[0].lever.after[0] == 9
    near = share(2 + 1.5) + 0.3 / 60  # closer than any lever goes, and yet told from what it is
    nothing = card(near, levers=[lever(15)], session=noiseless)
    assert nothing.start is None
    assert "what clearly moves it that way goes too far" in card_in_words(nothing)


def noiseless(game, seed, replicate):
    for number in range(game.bouts.count):
        yield square_bout(replicate, number, late=game.areas[0].length - 10 + 1.5 + 0.01 * (replicate % 2))


def test_what_needs_no_more_players_is_named_first():
    found = card("more", levers=[lever(16, people=1), lever(15)])
    assert lengths(found) == [16, 15]
    assert found.triggers[0].effects == (1, 0)
    text = " ".join(card_in_words(found).split())
    assert ": put 3 m on each side (15 x 10 m); or put 4 m on each side (16 x 10 m), with one more player." in text


def test_more_bouts_in_a_row_are_taken_where_two_often_give_nothing(monkeypatch):
    given = {2: Spells(2, 9, 0.0, 2.0, 3.6), 3: Spells(3, 8, 0.2, 1.8, 5.4)}
    monkeypatch.setattr("sim.experiments.adjust.spells_of_length", lambda arm, key, length: given[length])
    found = card("more")
    assert found.spells == given[3] and found.triggers[0].value == 0.2
    assert "for three bouts" in card_in_words(found)
    assert card("less").spells == given[2]  # too much can be seen in two
    given[3] = Spells(3, 8, 0.0, 1.8, 5.4)
    never = card("more")
    assert never.spells == given[2] and never.triggers == ()
    assert "two bouts may well have none at all" in card_in_words(never)


def test_wins_can_be_aimed_at_and_are_counted_in_whole_balls():
    found = adjust(GAME, ("wins_per_min", "game", "more"), [lever(15), lever(9)], bouts=24, workers=1, session=staged)
    assert found.mean == pytest.approx(24 * 60 / sum(43 + 2 + late for late in LUCK))
    text = card_in_words(found)
    assert (
        "Aim: more balls won a minute with the ball rolling." in text
        and "balls won a minute with the ball rolling for two bouts (fewer than 2 in all)" in text
    )


def test_a_game_against_itself_is_no_difference_and_no_lever_moves_it():
    found = card("more", levers=[NULL])
    (one,) = found.effects
    assert (one.aim.difference, one.aim.low, one.aim.high, one.moves, one.others) == (0, 0, 0, 0, ())
    assert found.triggers[0].effects == ()
    text = card_in_words(found)
    assert "Nothing here clearly changes it" in text
    assert "nothing here clearly raises it" in text
    assert "raises it\n" not in text and "lowers it\n" not in text
    assert "Nothing here clearly brings more time with the ball rolling." in small(found)


def test_luck_of_its_own_is_cannot_tell():
    found = card("more", levers=[lever(13), lever(15)], session=own_luck)
    assert all(one.aim.difference and one.moves == 0 for one in found.effects)
    given = Given("adjust", "./my square.toml", seed=3, question=(("--aim", "in_play_share=more"), ("--bouts", None)))
    assert "too close to call over 8 sessions" in card_in_words(found)
    text = small(found, given)
    assert "Nothing here clearly brings more time with the ball rolling.\n" in text and "Too close to call: " in text
    assert (
        f"\n  overload adjust './my square.toml' --aim in_play_share=more --bouts {2 * found.bouts} --seed 3\n"
        in whole_commands(text)
    )


def test_the_first_lever_is_to_be_seen_whole_in_the_game_as_it_was_given():
    found = card(0.99)
    given = Given("adjust", "./my square.toml", ("bouts.count=3",), "women", question=(("--aim", "in_play_share=99"),))
    command = (
        "overload compare './my square.toml' --set bouts.count=3 --change areas.square.length=16 --population women"
    )
    assert f"Try next, to see the first one whole:\n  {command}\n" in whole_commands(small(found, given))
    clear = [replace(one, lever=replace(one.lever, changes=())) for one in found.effects]
    assert "Try next" not in small(replace(found, effects=tuple(clear)), given), "more sessions would tell no more"


def test_what_is_clear_is_said_with_all_levers_in_mind():
    """Holm over the aim in all levers; p-values read back from the intervals (24 bouts, 8 sessions, 7 degrees of freedom)."""
    found = card("more", levers=[lever(13), lever(15), lever(9)], session=own_luck)
    alone = []
    for one in found.effects:
        error = (one.aim.high - one.aim.low) / 2 / stdtrit(7, 0.975)
        alone.append(2 * stdtr(7, -abs(one.aim.difference) / error))
    assert [one.aim.p_holm for one in found.effects] == pytest.approx(holm(alone))


def test_no_more_false_alarms_than_are_said():
    """30 cards of two levers that do nothing, each arm with luck of its own: 5 % at most; more than 5 of 30 has a chance of 1 %."""
    cards = [card("more", [lever(13), lever(15)], session=own_luck, seed=seed, bouts=15) for seed in range(30)]
    assert sum(any(one.aim.p_holm < 0.05 for one in found.effects) for found in cards) <= 5
    assert sum(any(one.moves for one in found.effects) for found in cards) <= 5


def restricted(player: str):
    return GAME.model_copy(
        update={"players": tuple(p.model_copy(update={"restricted": p.id == player}) for p in GAME.players)}
    )


def arms(more) -> tuple[Sums, Sums]:
    """The same sessions twice, the second with `more`(session) metres for p5 in every bout."""
    game = restricted("p5")
    bouts = [bout_counts(game, staged(game, 1, number)) for number in range(6)]
    changed = []
    for number, each in enumerate(bouts):
        cells = [one.cells.copy() for one in each]
        for one in cells:
            one[4, 1, COLUMN["distance_m"]] += more(number)
        changed.append([replace(tally, cells=part) for tally, part in zip(each, cells, strict=True)])
    return Sums(game, bouts), Sums(game, changed)


@pytest.mark.parametrize(
    ("more", "refused"),
    [
        (lambda n: 1.0, True),  # surely more
        (lambda n: (-1) ** n, True),  # cannot be told
        (lambda n: -1.0 + 2.9 * (n == 0), True),  # less on average, but more cannot be ruled out
        (lambda n: 0.0, False),
        (lambda n: -1.0 - n / 10, False),  # surely less
    ],
)
def test_a_lever_is_refused_unless_more_load_is_ruled_out(more, refused):
    found = refusals_of(*arms(more))
    assert [(one.player, one.measure) for one in found] == ([("p5", "total_distance_m")] if refused else [])
    if refused:
        assert found[0].high > 0


def test_what_is_refused_is_never_proposed():
    refusal = Refusal("p5", "p5", "total_distance_m", "m", 1.0, 0.5, 1.5)
    free = card(0.99)
    strongest, other, down = free.effects
    assert (free.start, free.triggers[0].effects) == (0, (0, 1))
    effects = (replace(strongest, refusals=(refusal,)), other, down)
    assert start_of(0.99, (free.mean, free.low, free.high), effects) == 1
    assert [one.effects for one in triggers_of(0.99, free.spells, effects)] == [(1,)]
    assert [one.effects for one in triggers_of("more", free.spells, effects)] == [(1,)]
    nothing = tuple(replace(one, refusals=(refusal,)) for one in free.effects)
    assert [one.effects for one in triggers_of("less", free.spells, nothing)] == [()]
    assert start_of(0.99, (free.mean, free.low, free.high), nothing) is None
    none = replace(free, effects=nothing, start=None, triggers=())
    assert "Nothing can be proposed here" in card_in_words(none)
    assert "There's nothing to propose here." in small(none) and "for p5 (reduced load), so not: " in small(none)
    text = card_in_words(replace(free, effects=effects, start=1, triggers=triggers_of(0.99, free.spells, effects)))
    before, _, listed = text.partition("Not proposed")
    assert "16 x 10 m" not in before and "16 x 10 m); p5" not in before
    assert "a metre out" not in listed and "4 m out (16 x 10 m): p5 up to 1.5 metres more a bout on the watch" in listed
    screen = " ".join(
        small(replace(free, effects=effects, start=1, triggers=triggers_of(0.99, free.spells, effects))).split()
    )
    assert "May be more work for p5 (reduced load), so not: 4 m out." in screen and "16 x 10 m" not in screen


def test_nobody_restricted_nothing_refused_and_a_player_left_out_is():
    first, second = arms(lambda n: 1.0)
    first.game = GAME
    assert refusals_of(first, second) == ()
    first.game = restricted("p5")
    second.game = second.game.model_copy(update={"players": tuple(p for p in second.game.players if p.id != "p5")})
    found = refusals_of(first, second)
    assert len(found) == 3 and {one.player for one in found} == {"p5"} and all(one.high is None for one in found)


BOUTS = ("--bouts", "8", "--workers", "1")


def ask(*arguments: str):
    return CliRunner().invoke(app, ["adjust", *arguments], catch_exceptions=False)


def short(*changes: str) -> list[str]:
    return [part for one in ("bouts.minutes=0.4", "bouts.count=2", *changes) for part in ("--set", one)]


def test_longer_bouts_are_never_proposed_to_a_restricted_player():
    """In longer bouts everybody runs further; without the restriction they may be proposed, with it never."""
    aim = ["tight-square", "--aim", "distance.inside=more", *BOUTS]
    free = json.loads(ask(*aim, *short(), "--json", "-").stdout)
    assert all(not one["refusals"] for one in free["effects"])
    result = ask(*aim, *short("players.squad-5.restricted=true"), "--json", "-")
    found = json.loads(result.stdout)
    longer = next(
        i for i, one in enumerate(found["effects"]) if (one["lever"]["kind"], one["lever"]["way"]) == ("bout", 1)
    )
    assert {one["player"] for one in found["effects"][longer]["refusals"]} == {"squad-5"}
    proposed = {i for one in found["triggers"] for i in one["effects"]} | {found["start"]}
    refused = {i for i, one in enumerate(found["effects"]) if one["refusals"]}
    assert longer in refused and not proposed & refused
    text = ask(*aim, *short("players.squad-5.restricted=true"), "--details").stdout
    screen, _, details = text.partition(f"{LINE}\n")
    listed = details.partition("Not proposed")[2].partition("\n\n")[0]
    assert "longer bouts" in listed and "squad 5 up to" in listed
    assert "longer bouts" not in details.partition("Not proposed")[0]
    assert "nothing here clearly" not in text
    one_line = " ".join(screen.split())
    assert (
        "longer bouts"
        in one_line.partition("May be more work for player 5 (reduced load), so not: ")[2].partition(".")[0]
    )
    assert "longer bouts" not in one_line.partition("May be more work")[0]


def test_no_figure_of_a_single_minor_is_said():
    text = ask(
        "tight-square", "--aim", "turnovers=more", *BOUTS, *short("players.squad-5.restricted=true"), "--population", "U12",
        "--details",
    ).stdout  # fmt: skip
    listed = text.partition("Not proposed")[2].partition("\n\n")[0]
    assert "longer bouts (39 s): squad 5, metres" in listed and "up to" not in listed


@pytest.mark.parametrize("goal", ["more", share(3.5)])
def test_any_number_of_workers_gives_the_same_bits(goal):
    assert card(goal, workers=1).to_json() == card(goal, workers=2).to_json()


def test_an_interruption_keeps_whole_sessions_and_says_so():
    found = card("more", session=interrupted_at_5)
    assert 2 <= found.sessions <= 5
    assert found.cautions[0] == f"Stopped early: {found.sessions} of 8 sessions were finished."
    assert lengths(found) == [16, 15, 9]
    with pytest.raises(KeyboardInterrupt):
        card("more", session=interrupted_at_once)


def test_a_precision_is_met_or_the_budget_is_said():
    found = card("more", session=own_luck, precision=0.02, budget=3000)
    assert found.precision.reached and found.precision.widest <= 0.02 and found.sessions >= 20
    assert "As precise as asked: every change is known to within 2 %" in card_in_words(found)
    spent = card("more", session=own_luck, precision=0.0001, budget=240)
    assert not spent.precision.reached and spent.sessions == 20
    assert "Not as precise as asked" in card_in_words(spent)
    assert "Not as close as you asked (0 % of today's figure): within " in small(spent) and "Not as" not in small(found)
    with pytest.raises(InputError, match="budget must be at least 240, 20 sessions of every lever"):
        card("more", precision=0.02, budget=239)


def test_json_is_strict_and_the_table_has_a_row_a_lever():
    def refuse(word):
        raise AssertionError(word)

    found = card("more")
    assert json.loads(found.to_json(), parse_constant=refuse)["goal"] == "more"
    table = found.table()
    assert table["second"].is_monotonic_decreasing and list(table["refused"]) == [False] * 3


def test_the_picture_holds_the_levers_that_may_be_pulled():
    found = card("more", levers=[lever(15), lever(16, people=1), lever(9), NULL])
    frame = of_card(found)
    assert list(frame["lever"]) == [bare_name(one.lever) for one in found.effects]
    assert list(frame["effect"]) == pytest.approx([100 * one.aim.difference for one in found.effects])
    assert list(frame["told_apart"]) == [True, True, True, False] and set(frame["unit"]) == {"%"}
    assert list(frame["kind"]) == ["needs more players"] + ["with the players there are"] * 3
    refusal = Refusal("p5", "p5", "total_distance_m", "m", 1.0, 0.5, 1.5)
    effects = (replace(found.effects[0], refusals=(refusal,)), *found.effects[1:])
    assert list(of_card(replace(found, effects=effects))["lever"]) == list(frame["lever"])[1:]
    everything = of_card(replace(found, effects=tuple(replace(one, refusals=(refusal,)) for one in found.effects)))
    assert set(everything["kind"]) == {"not proposed: a player on reduced load"}


def test_a_picture_is_drawn_beside_the_card(tmp_path):
    file = tmp_path / "card.svg"
    result = ask("tight-square", "--aim", "turnovers=more", *BOUTS, *short(), "--plot", str(file))
    assert result.exit_code == 0 and file.read_text(encoding="utf-8").rstrip().endswith("</svg>")
    assert (
        file.with_suffix(".csv").read_text(encoding="utf-8").count("\n") == 9
    )  # eight levers: bouts of 24 s are not made shorter


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["--aim", "turnovers"], f"{SUCH_AS} (got 'turnovers')"),
        (["--aim", "turnovers=most"], f"{SUCH_AS} (got 'turnovers=most')"),
        (["--aim", "joy=3"], "--aim: must name a measure: "),
        (["--aim", "distance.goalkeeper=3"], "--aim: must be one of: distance, distance.outside or distance.inside"),
        (["--aim", "turnovers=3", "--budget", "9"], "--budget: must go with --precision (got 9 without)"),
        (["--aim", "turnovers=3", "--precision", "5%", "--budget", "9"], "budget must be at least "),
        (["--aim", "turnovers=3", "--precision", "500%"], "--precision: must be a share between 0 and 100 %"),
        (["--aim", "turnovers=3", "--set", "areas.square.length=-1"], "tight-square: areas.square.length must be"),
        (["--aim", "turnovers=3", "--plot", "card.txt"], "--plot: must end in .png, .svg or .pdf (got 'card.txt')"),
        (["--aim", "turnovers=3", "--json", "nowhere/at/all.json"], "--json: folder 'nowhere/at' must exist"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_said_in_a_line(arguments, message):
    result = ask("tight-square", *arguments)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith(message) and result.stderr.count("\n") == 1


def found_in(name: str, *changes: str, step: int = 1) -> tuple[dict, dict]:
    levers, left = levers_of(
        load_game(name, changes), lambda turn: load_game(name, with_tweak(changes, tuple(turn))), step
    )
    return {(one.kind, one.way): one for one, _ in levers}, {(one.kind, one.way): one for one in left}


@pytest.mark.parametrize("name", SIX)
def test_every_lever_is_there_or_left_out_with_a_reason(name):
    there, left = found_in(name)
    kinds = ("size", "touches", "defenders", "floaters", "passes", "bout")
    assert {*there, *left} == {(kind, way) for kind in kinds for way in (-1, 1)} and not {*there} & {*left}
    assert {("size", 1), ("size", -1), ("bout", 1)} <= {*there}
    assert (("floaters", 1) in there) == (name != "home-grids")  # there a rule gives everybody a role
    assert all(lever_name(one) and to_do(one) for one in there.values())
    assert all("()" not in one for one in why_not(list(left.values())))


@pytest.mark.slow
@pytest.mark.parametrize("name", SIX)
def test_every_lever_of_a_shipped_game_can_be_played(name):
    changes = ["bouts.minutes=0.3", "bouts.count=1"]
    text = ask(name, "--aim", "passes=more", *short(), "--bouts", "4", "--workers", "1", "--details").stdout
    there, _ = found_in(name, *changes)
    rows = text.partition(f"{LINE}\n")[2].splitlines()
    names = [lever_name(one) for one in there.values() if one.kind != "bout"]
    assert all(sum(row.startswith(f"  {name}  ") for row in rows) == 1 for name in names)


def test_one_touch_and_one_defender_are_the_least():
    there, left = found_in("tight-square", "roles.outside.touches=1", "roles.inside.players=1")
    assert left["touches", -1] == LeftOut("touches", -1, "least") and left["defenders", -1].reason == "least"
    assert there["touches", 1].after == (2,)
    assert "a touch fewer (one touch is the least)" in why_not(list(left.values()))


def test_areas_that_would_overlap_are_left_out_with_what_the_check_says():
    data = to_short(load_game("two-squares"))
    for name, x in (("west", -7.0), ("east", 7.0)):
        data["areas"][name] |= {"centre": [x, 0.0]}
    levers, left = levers_of(load_game(data), lambda turn: load_game(data, turn))
    (one,) = [one for one in left if one.kind == "size"]
    assert (one.way, one.reason) == (1, "refused") and "must lie apart" in one.detail
    assert any("smaller" not in text and "a larger area (areas.east must lie apart" in text for text in why_not(left))
    assert ("size", -1) in {(one.kind, one.way) for one, _ in levers}


def test_a_defender_that_pairs_do_not_allow_is_left_out_in_plain_words():
    both = {"on": "loss", "do": [{"swap": "loser and partner", "with": "longest in"}, {"restart": "start"}]}
    data = to_short(keep_ball(4, 2, rules={"lost": both}, teams={"squad": {"pairs": [[1, 2], [3, 4], [5, 6]]}}))
    levers, left = levers_of(load_game(data), lambda turn: load_game(data, turn))
    reasons = {(one.kind, one.way): one.reason for one in left}
    assert reasons["defenders", -1] == reasons["defenders", 1] == "pairs"
    assert "a defender fewer or more (it would break a pair)" in why_not(left)
    assert not any("must " in text for text in why_not(left) if "defender" in text or "floater" in text)


def test_sizes_move_in_what_the_file_counts_in():
    there, _ = found_in("tight-square", "units=yards", step=2)
    assert (there["size", -1].after, there["size", -1].unit) == ((9, 9), "yd")
    assert to_do(there["size", -1]) == "take 2 yd off each side (9 x 9 yd)"
    assert found_in("tight-square")[0]["size", -1].unit == "m"


def test_levers_are_named_by_what_they_come_to():
    there, left = found_in("two-squares")
    assert to_do(there["touches", -1]) == "go to two touches"
    assert to_do(there["size", 1]) == "put a metre on each side (15 x 15 m, west and east)"
    assert to_do(there["passes", -1]) == "ask for 3 passes, not 4"
    assert to_do(there["floaters", 1]) == "bring in a floater"
    keepers, _ = found_in("keeper-to-keeper")  # floaters by another name
    assert to_do(keepers["floaters", 1]) == "bring in a second west-keeper"
    assert lever_name(there["defenders", 1]) == "a fourth defender (4 chasers, one more player)"
    assert to_do(there["bout", -1]) == "play bouts of 135 s, not 180 s"
    assert why_not(list(left.values())) == ["a floater fewer (there is none)"]
    free, _ = found_in("even-goals")
    assert lever_name(free["touches", -1]) == "a limit of touches (3 for outfield)"
