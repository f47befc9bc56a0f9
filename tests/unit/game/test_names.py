"""What a player is called, and that he is called so everywhere he is named to people."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace

from sim.experiments.adjust import refusals_of
from sim.experiments.estimate import result_of
from sim.experiments.provenance import provenance_of
from sim.experiments.replicate import Played
from sim.experiments.sums import Sums
from sim.game.loader import load_game
from sim.game.names import names_of, spoken_of
from sim.measures.session_counts import COLUMN, counts_of_bout, session_of
from sim.measures.tables import tables
from sim.pitch.log import FIELDS
from sim.plots.bout_frames import of_bout, of_exposure
from sim.words.estimate_details import answer_in_words
from sim.words.lineup import lines_of_roles
from sim.words.strip import bout_in_words, events_as_csv, strip
from tests.support.rules_said import rules_said
from tests.unit.measures.handmade import square_bout, square_game

IDS = {"p1": "Ali", "p2": "7", "p3": "squad-3", "p4": "Maximilian", "p5": "Eve", "p6": "squad-6"}
CALLED = {"Ali": "Ali", "7": "7", "squad-3": "squad 3", "Maximilian": "Maximilian", "Eve": "Eve", "squad-6": "squad 6"}


def game_of(**changes):
    """The game of six with names in the place of p1 to p6."""
    game = square_game()
    players = [one.model_copy(update={"id": IDS[one.id]} | changes) for one in game.players]
    return game.model_copy(update={"players": tuple(players)})


def log_of(replicate: int = 0, number: int = 0):
    log = square_bout(replicate, number)
    events = [tuple(IDS.get(value, value) if isinstance(value, str) else value for value in one) for one in log.events]
    return replace(log, events=events, players=tuple(IDS[one] for one in log.players))


GAME, LOG = game_of(), log_of()


def test_a_written_name_is_the_name_and_the_others_go_by_team_and_number():
    assert names_of(GAME) == CALLED


def test_in_a_sentence_the_one_team_goes_by_the_number_on_the_back():
    assert spoken_of(GAME) == CALLED | {"squad-3": "player 3", "squad-6": "player 6"}
    assert set(spoken_of(load_game("tight-square")).values()) == {f"player {i}" for i in range(1, 7)}
    assert {"keepers 1", "keepers 2", "player 9"} < set(spoken_of(load_game("break-away")).values())
    two = load_game("even-goals")
    assert spoken_of(two) == names_of(two)
    taken = GAME.model_copy(update={"players": tuple(
        one.model_copy(update={"id": "player 6"}) if one.id == "Ali" else one for one in GAME.players
    )})  # fmt: skip
    assert spoken_of(taken)["squad-6"] == "squad 6" and spoken_of(taken)["squad-3"] == "player 3"
    pairs = tuple(team.model_copy(update={"pairs": (("squad-6", "squad-3"),)}) for team in taken.teams)
    assert "Pairs: squad 6 with 3." in lines_of_roles(taken.model_copy(update={"teams": pairs})), (
        "the sheet calls them the same"
    )


def test_the_strip_shows_written_names_and_numbers():
    labels = {cell for line in strip(GAME, LOG).splitlines() for cell in line.split()}
    assert "Ali" in labels and "1" not in labels
    assert all(len(line) <= 120 for line in strip(GAME, LOG).splitlines())


def test_the_list_of_a_bout_names_players():
    text = bout_in_words(GAME, LOG)
    assert "Ali on the ball for outside" in text and "squad-3" not in text and "squad 3" not in text


def test_events_and_tables_have_the_name_beside_the_id():
    rows = list(csv.DictReader(io.StringIO(events_as_csv(LOG, names_of(GAME)))))
    assert [one for one in rows[0] if one not in ("player_name", "other_name")] == list(FIELDS)
    assert {(row["player"], row["player_name"]) for row in rows if row["player"]} <= set(CALLED.items())
    assert any(row["other_name"] for row in rows) and all(
        row["other_name"] == CALLED.get(row["other"], "") for row in rows
    )
    found = tables(GAME, [LOG])
    for level in ("event", "defending_spell", "player"):
        table = found[level]
        at = list(table.columns).index("player")
        assert table.columns[at + 1] == "player_name"
        named_rows = table[table["player"] != ""]
        assert [CALLED[one] for one in named_rows["player"]] == list(named_rows["player_name"])
    of_players = found["summary"][found["summary"]["scope"].str.startswith("player:")]
    assert set(zip(of_players["scope"].str.removeprefix("player:"), of_players["player_name"], strict=True)) == set(
        CALLED.items()
    )
    assert set(found["summary"]["player_name"]) == {"", *CALLED.values()}
    assert "Ali" in set(found["player"]["player_name"]) and "squad 3" in set(found["player"]["player_name"])


def answer_of():
    sessions = [session_of([counts_of_bout(GAME, log_of(number, bout)) for bout in range(2)]) for number in range(3)]
    return result_of(GAME, Played(tuple(sessions), 3), 1, (), None, provenance_of(sessions[0].thresholds))


def test_the_answer_and_its_picture_name_players():
    result = answer_of()
    text = answer_in_words(result, GAME, details=True)
    assert "Over many sessions Ali defends most, " in text and "and Eve least, " in text
    assert {"Ali", "player 6"} <= set(of_exposure(result, GAME)["who"])
    assert set(spoken_of(GAME).values()) <= set(of_bout(GAME, LOG)["row"])


def test_the_json_has_the_name_beside_the_id():
    ids = {one["id"]: one["name"] for one in json.loads(answer_of().to_json())["players"]}
    assert ids == CALLED


def test_a_refused_lever_names_the_player_beside_his_id():
    game = game_of(restricted=True)
    bouts = [[counts_of_bout(game, log_of(number, bout)) for bout in range(2)] for number in range(6)]
    more = [[replace(one, cells=one.cells.copy()) for one in each] for each in bouts]
    for each in more:
        for one in each:
            one.cells[2, 0, COLUMN["distance_m"]] += 5.0  # squad-3, outside
    found = refusals_of(Sums(game, bouts), Sums(game, more))
    assert {(one.player, one.name) for one in found} == {("squad-3", "squad 3")}


def test_rules_name_who_is_tested_and_who_is_on_reduced_load():
    game = load_game("tight-square", ["players.squad-3.restricted=true", "players.squad-2.intermittent_run=1800"])
    text = rules_said(game)
    assert "more to do to player 3." in text and "Player squad 2, intermittent run" in text


def test_a_name_that_is_another_ones_number_does_not_make_them_one():
    players = [
        one.model_copy(update={"id": "7" if one.id == "p1" else f"squad-{one.number}"}) for one in square_game().players
    ]
    players[1] = players[1].model_copy(update={"number": 7, "id": "squad-7"})
    game = square_game().model_copy(update={"players": tuple(players)})
    ids = {"p1": "7", "p2": "squad-7"} | {f"p{i}": f"squad-{i}" for i in range(3, 7)}
    log = square_bout()
    events = [tuple(ids.get(value, value) if isinstance(value, str) else value for value in one) for one in log.events]
    labels = {cell for line in strip(game, replace(log, events=events)).splitlines() for cell in line.split()}
    assert {"7", "s7"} <= labels
