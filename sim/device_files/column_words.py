"""What columns are usually called, in four languages (common practice, no source): for drafts, which a person checks."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from types import MappingProxyType

from sim.device_files.layouts import FAST
from sim.device_files.tables import plain

WORDS: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "date": ("date", "datum", "fecha", "session day", "day", "tag", "jour"),
    "block": ("drill", "block", "period", "exercise", "task", "übung", "exercice", "ejercicio", "tarea", "activity", "session part",
              "phase", "session"),
    "player": ("player", "athlete", "spieler", "joueur", "jugador", "full name", "name", "surname", "last name", "nachname", "nom",
               "nombre", "shirt", "squad no", "rückennummer"),
    "bout": ("bout", "set", "repetition", "rep", "reps", "wiederholung", "durchgang", "série", "serie"),
    "role": ("role", "position", "rolle", "poste", "posición"),
    "duration": ("duration", "minutes", "mins", "min", "seconds", "secs", "time on", "playing time", "dauer", "durée", "duración",
                 "time", "zeit", "temps", "tiempo"),
    "fast": ("high speed", "high-speed", "fast", "high intensity", "hsr", "schnell", "hochintensiv", "haute vitesse",
             "haute intensité", "alta velocidad", "alta intensidad"),
    "sprint": ("sprint",),
    "distance": ("total distance", "distance", "metres", "meters", "strecke", "gesamtstrecke", "laufstrecke", "distancia",
                 "distanz", "dist", "km"),
    "accelerations": ("accelerations", "accel", "acc", "beschleunigung", "accélérations", "aceleraciones"),
    "decelerations": ("decelerations", "decel", "dec", "braking", "bremsung", "décélérations", "deceleraciones", "freinages"),
    "top_speed": ("top speed", "max speed", "maximum speed", "peak speed", "speed max", "top velocity", "max velocity",
                  "maximum velocity", "peak velocity", "vmax", "spitzengeschwindigkeit", "höchstgeschwindigkeit", "vitesse max",
                  "velocidad máx", "velocidad max", "top", "max km/h", "max m/s"),
})  # fmt: skip
"""By column, the surest word first; the columns in the order in which they choose."""
WHOLE = 4
"""A word of so many letters or fewer is meant alone, a longer one also as the beginning of another (house default)."""
NOT_MEANT = re.compile(
    r"\bper\b|/ ?min\b|%|\bavg\b|\baverage\b|\bmean\b|\b(?:start|end|begin|finish)\b|\bmoyenne|\bschnitt\b|\bpromedio\b"
)
"""Of a rate, a share, a mean or a time of day: never proposed."""
UNITS: Mapping[str, tuple[str, ...]] = MappingProxyType({
    "km/h": ("km/h", "kmh", "kph"), "m/s": ("m/s", "mps", "m.s-1"), "h:mm:ss": ("hh:mm:ss", "h:mm:ss"), "mm:ss": ("mm:ss", "m:ss"),
    "h:mm": ("hh:mm", "h:mm"), "km": ("km", "kilometres", "kilometers"), "m": ("m", "metres", "meters"),
    "min": ("min", "mins", "minutes", "minuten"), "s": ("s", "sec", "secs", "seconds", "sekunden"),
})  # fmt: skip
"""Units by how they are written in the name of a column."""
START = re.compile(r"\b(?:from|threshold|limit|ab|schwelle|seuil|umbral)$")
"""Of a column that says row by row from which speed on."""
ABOVE = re.compile(r"(?:>=?|≥|from|over|above|ab|über)\s*([0-9]+(?:[.,][0-9]+)?\s*(?:km/h|m/s|%))")
"""From which speed on, where the name of a column says it."""


def columns_in(head: Sequence[str]) -> dict[str, str]:
    """Which column is what, as far as their names say; each name once, of several that fit the shortest.

    Beside those of `WORDS`: `fast_from_column`, `sprint_from_column`.
    """
    found: dict[str, str] = {}
    for column, words in WORDS.items():
        left = [name for name in head if name not in found.values() and is_meant(name)]
        fits = next((those for word in words if (those := [name for name in left if has(word, plain(name))])), [])
        if fits:
            found[column] = min(fits, key=lambda name: len(bare(name)))
    for column in FAST:
        starts = [name for name in head if name not in found.values() and START.search(plain(name))]
        starts = [name for name in starts if column in found and any(has(word, plain(name)) for word in WORDS[column])]
        if starts:
            found[f"{column}_from_column"] = starts[0]
    return found


def is_meant(name: str) -> bool:
    """Whether a column may be proposed at all."""
    return NOT_MEANT.search(ABOVE.sub("", plain(name))) is None


def bare(name: str) -> str:
    """A name without what stands in brackets."""
    return re.sub(r"[(\[][^)\]]*[)\]]?", "", name).strip()


def has(word: str, name: str) -> bool:
    """Whether a word stands in a name."""
    end = r"(?!\w)" if len(word) <= WHOLE else ""
    return re.search(rf"(?<!\w){re.escape(word)}{end}", name) is not None


def unit_in(name: str, allowed: Sequence[str]) -> str:
    """The unit that the name of a column says, one of those allowed; "" where it says none."""
    words = {word: unit for unit, written in UNITS.items() for word in written if unit in allowed}
    parts = [part for part in re.split(r"[\s()\[\]_,;]+", plain(name)) if part]
    return next((words[part] for part in reversed(parts) if part in words), "")


def threshold_in(name: str) -> str:
    """From which speed on, where the name of a column says it; else ""."""
    found = ABOVE.search(plain(name))
    return found[1] if found else ""
