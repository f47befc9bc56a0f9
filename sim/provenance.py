"""What numbers hang on: a digest over the sources of every module that can be reached by import from where numbers are made.

The imports are read off the sources, also those inside functions, so nobody has to keep a list, and a module that is
imported tomorrow is covered tomorrow.  `engine()` is what stands beside the version wherever numbers are kept: it covers
reading a game, drawing players, playing, counting and summing up.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from functools import cache, lru_cache
from pathlib import Path

__all__ = ["ENGINE", "digest", "engine", "reached"]

HERE = Path(__file__).parent
ENGINE = ("sim.game.loader", "sim.players", "sim.pitch", "sim.measures", "sim.experiments.sessions")
"""Where the numbers of an answer are made; a package stands for all its modules."""
DIGITS = 12  # of the digest, hexadecimal: short enough for the foot of a picture, and no two engines alike by chance
NO_CODE = re.compile(r"#[^\n]*|\\\n")  # comments, and where a line goes on in the next
IMPORT = re.compile(
    r"^[ \t]*(?:from[ ]+(?P<base>[.\w]+)[ ]+import[ ]+(?P<names>\([^)]*\)|[^\n(]+)|import[ ]+(?P<modules>\w[^\n]*))",
    re.MULTILINE,
)
"""An import as the formatter sets it, on a line of its own.  Reading whole sources as Python does takes half a second in every
process that makes a number; that both find the same in all of ours is tested."""


def file_of(name: str, here: Path) -> Path | None:
    """The source of one of our modules, `here` being the folder of the package `sim`; None for anything else."""
    first, *rest = name.split(".")
    if first != "sim":
        return None
    place = here.joinpath(*rest)
    for file in (place / "__init__.py", place.with_name(place.name + ".py")):
        if file.is_file():
            return file
    return None


def first_words(listed: str) -> list[str]:
    """What is imported, of ``this, that as other``."""
    return [word for one in listed.split(",") for word in one.split()[:1]]


@lru_cache(maxsize=1024)
def imported(name: str, text: str, package: bool) -> tuple[str, ...]:
    """Whatever a module imports, wherever in the file: modules, and names in them that may be modules."""
    found: list[str] = []
    for line in IMPORT.finditer(NO_CODE.sub(" ", text)):
        if line["modules"]:
            found += first_words(line["modules"])
            continue
        base = line["base"].lstrip(".")
        if level := len(line["base"]) - len(base):
            parts = name.split(".")
            above = parts[: len(parts) - level + package]
            base = ".".join([*above, *([base] if base else [])])
        found += [base, *(f"{base}.{one}" for one in first_words(line["names"].strip("()")))]
    return tuple(found)


def reached(roots: Iterable[str] = ENGINE, here: Path = HERE) -> dict[str, Path]:
    """Every module of ours that can be reached from these, by name, in order; packages on the way are modules, too."""
    waiting = []
    for root in roots:
        file = file_of(root, here)
        if file is None:
            raise ValueError(f"roots must be modules of the package (got {root})")
        waiting.append(root)
        if file.name == "__init__.py":
            waiting += [f"{root}.{one.stem}" for one in file.parent.glob("*.py") if one != file]
    found: dict[str, Path] = {}
    seen: set[str] = set()
    while waiting:
        name = waiting.pop()
        file = None if name in seen else file_of(name, here)
        seen.add(name)
        if file is None:
            continue
        found[name] = file
        waiting += imported(name, file.read_text(encoding="utf-8"), file.name == "__init__.py")
        if "." in name:
            waiting.append(name.rpartition(".")[0])
    return dict(sorted(found.items()))


def digest(roots: Iterable[str] = ENGINE, more: Iterable[Path] = (), here: Path = HERE) -> str:
    """A short digest of all modules reached from the roots and of `more` files (of the package), by place and content."""
    total = hashlib.sha256()
    for file in sorted({*reached(roots, here).values(), *more}):
        data = file.read_bytes().replace(b"\r\n", b"\n")
        total.update(f"{file.relative_to(here).as_posix()}\0{len(data)}\0".encode() + data)
    return total.hexdigest()[:DIGITS]


@cache
def engine() -> str:
    """The digest of this engine."""
    return digest()
