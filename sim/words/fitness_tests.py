"""What was taken from the players' fitness tests, a line a test."""

from __future__ import annotations

from sim.fitness import ESTIMATE_SPREAD, from_tests, oxygen_of, sprint_of
from sim.game.model import Game, Player
from sim.game.names import called
from sim.parameters import defaults
from sim.units import to_kmh
from sim.words.figures import present, two


def _sprint(player: Player) -> str:
    fit, test = present(sprint_of(player)), present(player.sprint)
    found = f"top speed {two(fit.vmax_mps)} m/s ({two(to_kmh(fit.vmax_mps))} km/h), time constant {two(fit.tau_s)} s"
    how = "taken to start" if test.offset_seconds is not None else "estimated to start"
    clock = f"the clock is {how} {two(fit.offset_s)} s after the first movement"
    return f"Player {called(player)}, {len(test.metres)} splits to {max(test.metres):g} m: {found}, exact for the day; {clock}."


def _endurance(player: Player, population: str) -> str:
    if player.shuttle is None:
        test = f"intermittent run of {player.intermittent_run:g} m"
    else:
        test = f"shuttle test to {player.shuttle.speed_kmh:g} km/h"
    share = defaults()["critical_share_of_aerobic"]
    speed, _ = from_tests(player, share).estimates["critical_speed_mps"]
    found = f"critical speed {two(speed)} m/s (greatest oxygen uptake {two(present(oxygen_of(player)))} mL/kg/min)"
    low = "; the formula reads low for women, 18 % in one study of 18" if _reads_low(player, population) else ""
    return f"Player {called(player)}, {test}: {found}, give or take {100 * ESTIMATE_SPREAD:g} %{low}."


def _reads_low(player: Player, population: str) -> bool:
    return player.intermittent_run is not None and population == "women"


def tests_in_words(game: Game) -> list[str]:
    """One sentence for every test of every player, in order of id; empty where nobody was tested."""
    lines = []
    for player in game.players:
        if player.sprint is not None:
            lines.append(_sprint(player))
        if oxygen_of(player) is not None:
            lines.append(_endurance(player, game.team(player.team).population))
    return lines
