"""What numbers hang on: a digest over the sources of every module that can be reached by import from where numbers are made.

The imports are read off the sources, also those inside functions, so nobody has to keep a list, and a module that is
imported tomorrow is covered tomorrow.  `engine()` is what stands beside the version wherever numbers are kept: it covers
reading a game, drawing players, playing, counting and summing up.
"""

from __future__ import annotations

import ast
import hashlib
from collections.abc import Iterable, Iterator
from functools import cache, lru_cache
from pathlib import Path

__all__ = ["ENGINE", "digest", "engine", "reached"]

HERE = Path(__file__).parent
ENGINE = ("sim.game.loader", "sim.players", "sim.pitch", "sim.measures", "sim.experiments.sessions")
"""Where the numbers of an answer are made; a package stands for all its modules."""
DIGITS = 12  # of the digest, hexadecimal: short enough for the foot of a picture, and no two engines alike by chance


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


def statements(node: ast.AST) -> Iterator[ast.stmt]:
    """All statements in a piece of source, however deep; expressions, which are most of it, hold none."""
    for part in ("body", "orelse", "finalbody", "handlers", "cases"):
        for one in getattr(node, part, ()):
            yield one
            yield from statements(one)


@lru_cache(maxsize=1024)
def imported(name: str, text: str, package: bool) -> tuple[str, ...]:
    """Whatever a module imports, wherever in the file: modules, and names in them that may be modules."""
    found = []
    for node in statements(ast.parse(text)):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            base = node.module or ""
            if node.level:
                parts = name.split(".")
                above = parts[: len(parts) - node.level + package]
                base = ".".join([*above, *([node.module] if node.module else [])])
            found += [base, *(f"{base}.{alias.name}" for alias in node.names)]
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
    while waiting:
        name = waiting.pop()
        file = None if name in found else file_of(name, here)
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
