"""What must be said with an answer so that nobody is misled."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

from sim.bands import SHARE, preset
from sim.evidence.published import Study, domains, nearest
from sim.game.model import Game
from sim.game.names import called
from sim.measures.basis import Setting, basis_of, setting_of
from sim.measures.summary import Measure
from sim.measures.thresholds import Thresholds, limits_of
from sim.populations import population

LINE = "An estimate, not advice: medical staff decide; local heat and youth rules first."
STOPPED = "Stopped early"
NO_FIGURES = "No published figures for this kind of game stand behind these numbers: count your own."
STUDIED = {"distance_per_min": "metres a minute", "mean_heart_rate_estimate": "% of the highest heart rate"}
SHORT_LINE_M = 20.0
RARE = 0.01
FEW_SESSIONS = 10


def longest_line(game: Game) -> float:
    """Longest straight line between two corners of the areas, metres."""
    corners = [(x, y) for area in game.areas for x in area.bounds[::2] for y in area.bounds[1::2]]
    return max(math.dist(a, b) for a in corners for b in corners)


def cautions_for(
    game: Game, measures: Sequence[Measure], thresholds: Thresholds, sessions: int, wanted: int
) -> tuple[str, ...]:
    """All cautions of an answer; the general line comes last."""
    found = []
    if sessions < wanted:
        found.append(f"{STOPPED}: {sessions} of {wanted} sessions were finished.")
    if sessions < FEW_SESSIONS:
        noun = "session was" if sessions == 1 else "sessions were"
        found.append(f"Only {sessions} {noun} played: ranges are rough below {FEW_SESSIONS}.")
    if all(row.basis == "extrapolated" for row in measures) and nearest(game) is None:
        found.append(NO_FIGURES)
    found += footing(game, {row.measure for row in measures if row.basis == "published"})
    line = longest_line(game)
    if line < SHORT_LINE_M:
        found.append(short_line(thresholds, f"{line:.0f}"))
    found += of_players(game, thresholds)
    for row in measures:
        if row.measure == "threshold_chance" and row.mean is not None and row.mean < RARE:
            what = row.definition.removeprefix("threshold: ").split(";")[0]
            per = row.unit.removeprefix("1/")
            found.append(f"Hardly ever reached: {what}, {often(row.mean, per)}. Ask for less, or make it easier.")
    return (*found, LINE)


def cautions_of_runs(runs: Sequence[tuple[Game, Collection[str]]]) -> tuple[str, ...]:
    """All cautions of an answer over many games, each with the names of its measures; the general line comes last."""
    found, limits = [], [limits_of(game) for game, _ in runs]
    found += footing_of_runs(runs)
    lines = [longest_line(game) for game, _ in runs]
    short = [f"{line:.0f}" for line in sorted(lines) if line < SHORT_LINE_M]
    if short:
        said = dict.fromkeys((short[0], short[-1]))
        told = short_line(limits[0], " to ".join(said))
        found.append(told if len(short) == len(runs) else f"For {len(short)} of {len(runs)} runs: {told}")
    for (game, _), thresholds in zip(runs, limits, strict=True):
        found += of_players(game, thresholds)
    return (*dict.fromkeys(found), LINE)


def stands_on(game: Game, names: Collection[str]) -> list[str]:
    """The measures among these for which there are figures of such a game."""
    setting = setting_of(game)
    return [name for name in STUDIED if name in names and basis_of(name, setting, (), domains()) == "published"]


def footing_of_runs(runs: Sequence[tuple[Game, Collection[str]]]) -> list[str]:
    """What is said of each, where that is the same for all; else how many have no study, the studies, and what stands on them."""
    studies, known = [nearest(game) for game, _ in runs], [stands_on(game, names) for game, names in runs]
    whole = {tuple(footing(game, names)) for (game, _), names in zip(runs, known, strict=True)}
    without, found = studies.count(None), []
    if without:
        found.append(NO_FIGURES if without == len(runs) else f"For {without} of {len(runs)} runs: {NO_FIGURES}")
    if len(whole) == 1:
        return [*found, *whole.pop()]
    found += dict.fromkeys(study_said(one) for one in studies if one is not None)
    for what in dict.fromkeys(name for one in known for name in one):
        found.append(f"For {sum(what in one for one in known)} of {len(runs)} runs such figures stand behind: {STUDIED[what]}.")
    return found


def study_said(study: Study) -> str:
    """The nearest study with its figure and ours."""
    about, ours = study.about, "" if math.isnan(study.ours) else f" (in the model {study.ours:.0f})"
    figure = f"{study.published:g} {STUDIED[study.measure]}{ours}"
    return f"Nearest published game: {about.format} on {about.pitch_m} m, {people_of(study.setting)}, {figure}."


def footing(game: Game, published: Collection[str]) -> list[str]:
    """The nearest study, how far this game is from it, and which numbers stand on figures of such games."""
    study, own = nearest(game), setting_of(game)
    if study is None:
        return []
    other = study.setting
    apart = []
    if own.players != other.players:
        apart.append(f"{own.players} players inside instead of {other.players}")
    if round(own.area_per_player_m2) != round(other.area_per_player_m2):
        apart.append(f"{own.area_per_player_m2:.0f} m2 a player instead of {other.area_per_player_m2:.0f}")
    if own.populations != other.populations:
        apart.append(f"{people_of(own)} instead of {people_of(other)}")
    if own.helpers != other.helpers:
        apart.append(f"floaters outside: {'yes' if own.helpers else 'no'} instead of {'yes' if other.helpers else 'no'}")
    yours = f"Yours: {', '.join(apart)}." if apart else "Yours is of that size, with such players."
    what = ", ".join(STUDIED[name] for name in STUDIED if name in published)
    stands = f"Figures of such games stand behind: {what}." if what else "Too far from it to stand on: count your own."
    return [f"{study_said(study)} {yours} {stands}"]


def people_of(setting: Setting) -> str:
    return " and ".join(sorted(setting.populations))


def short_line(thresholds: Thresholds, metres: str) -> str:
    above = thresholds.said("high_speed")
    return f"Do not rely on figures above {above}: the longest straight line in the areas is {metres} m."


def of_players(game: Game, thresholds: Thresholds) -> list[str]:
    """What hangs on who plays."""
    presets = sorted({team.population for team in game.teams})
    found = [f"No game of {name} players has been measured." for name in presets if not population(name).measured]
    if not thresholds.own and preset(presets).unit == SHARE:
        found.insert(0, "The speeds that are counted, in km/h, do not fit all of these players alike.")
    careful = [called(player) for player in game.players if player.restricted]
    if careful:
        found.append(f"On reduced load: {', '.join(careful)}. Nothing is proposed that may give more to do.")
    return found


def often(mean: float, per: str) -> str:
    """In words, for a mean below `RARE`."""
    return f"never in any {per} played" if mean == 0 else f"about once in {float(f'{1 / mean:.2g}'):.0f} {per}s"
