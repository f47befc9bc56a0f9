"""What must be said with an answer so that nobody is misled."""

from __future__ import annotations

import math
import re
from collections.abc import Collection, Sequence
from typing import TYPE_CHECKING

from sim.evidence.published import Study, domains, nearest
from sim.experiments.last_line import LINE
from sim.game.model import Game
from sim.game.names import spoken_of
from sim.geometry import corners
from sim.measures.basis import Setting, basis_of, setting_of
from sim.measures.thresholds import Thresholds, limits_of
from sim.populations import population
from sim.speed_zones import SHARE, preset

if TYPE_CHECKING:
    from sim.measures.summary import Measure

STOPPED = "Stopped early"
NO_FIGURES = "Nobody has published counts for this kind of game: count your own."
STUDIED = {"distance_per_min": "metres a minute", "mean_heart_rate_estimate": "% of top heart rate"}
STUDY, STUDIES = "Nearest study: ", "Nearest studies. "
FROM_MEMORY = " (memory)"
SHORT_LINE_M = 20.0
RARE = 0.01
FEW_SESSIONS = 10
ROUGH = "take the ranges as rough."
REDUCED = "On reduced load: "


def longest_line(game: Game) -> float:
    """Longest straight line between two corners of the areas, metres."""
    ends = [point for area in game.areas for point in corners(area.bounds)]
    return max(math.dist(a, b) for a in ends for b in ends)


def cautions_for(
    game: Game, measures: Sequence[Measure], thresholds: Thresholds, sessions: int, wanted: int
) -> tuple[str, ...]:
    """All cautions of an answer; the general line comes last."""
    found = []
    if sessions < wanted:
        found.append(f"{STOPPED}: {sessions} of {wanted} sessions were finished.")
    if sessions < FEW_SESSIONS:
        noun = "session" if sessions == 1 else "sessions"
        found.append(f"Only {sessions} {noun} played: {ROUGH}")
    if all(row.basis == "extrapolated" for row in measures) and nearest(game) is None:
        found.append(NO_FIGURES)
    found += footing(game, {row.measure for row in measures if row.basis == "published"})
    line = longest_line(game)
    if line < SHORT_LINE_M:
        found.append(short_line(f"{line:.0f}"))
    found += of_players(game, thresholds)
    for row in measures:
        if row.measure == "threshold_chance" and row.mean is not None and row.mean < RARE:
            what = row.definition.removeprefix("threshold: ").split(";")[0]
            per = row.unit.removeprefix("1/")
            found.append(f"Hardly ever reached: {what} ({often(row.mean, per)}). Ask for fewer.")
    return (*found, LINE)


def cautions_of_runs(runs: Sequence[tuple[Game, Collection[str]]]) -> tuple[str, ...]:
    """All cautions of an answer over many games, each with the names of its measures; the general line comes last."""
    found = footing_of_runs(runs)
    lines = [longest_line(game) for game, _ in runs]
    short = [f"{line:.0f}" for line in sorted(lines) if line < SHORT_LINE_M]
    if short:
        where = "here" if len(short) == len(runs) else f"in {len(short)} of these {len(runs)} games"
        found.append(short_line(" to ".join(dict.fromkeys((short[0], short[-1]))), where))
    for game, _ in runs:
        found += of_players(game, limits_of(game))
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
        which = f"for {without} of these {len(runs)} games"
        found.append(NO_FIGURES if without == len(runs) else NO_FIGURES.replace("for this kind of game", which))
    if len(whole) == 1:
        return [*found, *whole.pop()]
    found += dict.fromkeys(study_said(one) for one in studies if one is not None)
    for what in dict.fromkeys(name for one in known for name in one):
        count = sum(what in one for one in known)
        found.append(f"In {count} of these {len(runs)} games our {STUDIED[what]} {rest(what)} on published ones.")
    return found


def study_said(study: Study) -> str:
    """The caution that names the nearest study."""
    return f"{STUDY}{study_named(study)}."


def study_named(study: Study) -> str:
    """A study with its figure and ours."""
    about, ours = study.about, "" if math.isnan(study.ours) else f" (our players: {study.ours:.0f})"
    which = about.format.split(" / ").index(study.part.split()[-1]) if " / " in about.format else 0
    kind, pitch = (text.split(" / ")[which] for text in (about.format, about.pitch_m))
    figure = f"{study.published:g} {STUDIED[study.measure]}{ours}"
    return f"{numbers_of(kind)}, {size_of(pitch)}, {people_of(study.setting)}, {figure}"


def numbers_of(kind: str) -> str:
    """``5v5 + keepers`` of ``5v5 + goalkeepers``: who was there, without how they were shouted on."""
    return re.sub(r"^(\d+v\d+) (small|large) pitch.*$", r"\1", kind).replace("goalkeepers", "keepers")


def size_of(pitch: str) -> str:
    """``about 24 x 32 m`` of ``24x32 (memory)``: what is known from memory is said to be about so."""
    sure = pitch.removesuffix(FROM_MEMORY)
    return f"{'about ' if sure != pitch else ''}{sure.replace('x', ' x ')} m"


def footing(game: Game, published: Collection[str]) -> list[str]:
    """The nearest study, how far this game is from it, and which numbers stand on figures of such games."""
    study, own = nearest(game), setting_of(game)
    if study is None:
        return []
    other = study.setting
    apart = []
    if own.players != other.players:
        apart.append(f"{own.players} players, not {other.players}")
    if round(own.area_per_player_m2) != round(other.area_per_player_m2):
        apart.append(f"{own.area_per_player_m2:.0f} m2 each, not {other.area_per_player_m2:.0f}")
    if own.populations != other.populations:
        apart.append(people_of(own))
    if own.helpers != other.helpers:
        apart.append("floaters outside" if own.helpers else "no floaters outside")
    yours = f"Yours: {'; '.join(apart)}" if apart else "Yours: the same size and players"
    what = [name for name in STUDIED if name in published]
    stands = f". Our {ours_on(what)}." if what else ": count your own."
    return [f"{study_said(study)} {yours}{stands}"]


def studies_of(games: Sequence[Game], names: Sequence[str]) -> str:
    """The nearest study of each of these games, in one line, and which of our numbers stand on such games; nothing without any.

    `names`: what each game is called.
    """
    about: dict[str, list[str]] = {}
    stand: dict[tuple[str, ...], list[str]] = {}
    known = [(name, study, game) for name, game in zip(names, games, strict=True) if (study := nearest(game))]
    for name, study, game in known:
        about.setdefault(study_named(study), []).append(name)
        if what := stands_on(game, STUDIED):
            stand.setdefault(tuple(what), []).append(name)

    def only(whose: Sequence[str]) -> str:
        return "" if len(whose) == len(names) else f" (only {', '.join(whose)})"

    if not known:
        return ""
    told = "; ".join(
        study if len(whose) == len(names) else f"{', '.join(whose)}: {study}" for study, whose in about.items()
    )
    told = told[:1].upper() + told[1:]
    rests = [f"Our {ours_on(what)}{only(whose)}." for what, whose in stand.items()]
    return " ".join([f"{STUDY if len(about) == 1 else STUDIES}{told}.", *(rests or ["Count your own."])])


def ours_on(what: Sequence[str]) -> str:
    """Which of our numbers stand on figures of such games."""
    return f"{' and '.join(STUDIED[name] for name in what)} {rest(what[0])} on such games"


def rest(measure: str) -> str:
    """The verb for the first of these measures."""
    return "rest" if measure == "distance_per_min" else "rests"


def people_of(setting: Setting) -> str:
    """Who played, by the names of their presets."""
    return " and ".join(sorted(setting.populations))


def short_line(metres: str, where: str = "here") -> str:
    """The caution about fast running where the longest line is so short."""
    return f"Fast running: do not rely on it {where}, the longest line is {metres} m."


def of_players(game: Game, thresholds: Thresholds) -> list[str]:
    """What hangs on who plays."""
    presets = sorted({team.population for team in game.teams})
    found = [f"Nobody has measured a game of {people(name)}." for name in presets if not population(name).measured]
    if not thresholds.own and preset(presets).unit == SHARE:
        found.insert(0, "The speeds we count, in km/h, do not suit all of these players alike.")
    spoken = spoken_of(game)
    careful = [spoken[player.id] for player in game.players if player.restricted]
    if careful:
        found.append(f"{REDUCED}{', '.join(careful)}. We propose nothing that could mean more to do.")
    return found


def people(preset: str) -> str:
    """``U12 players``, ``mixed adults``: an age alone is no word for people."""
    return preset if " " in preset else f"{preset} players"


def often(mean: float, per: str) -> str:
    """In words, for a mean below `RARE`."""
    return f"never in any {per} played" if mean == 0 else f"once in {float(f'{1 / mean:.2g}'):.0f} {per}s"
