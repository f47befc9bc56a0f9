"""The pages that people read beside the code: which there are, what stands in their blocks, and where their links lead.

A block is fenced and has its mark in the line above it:

    <!-- example -->         a command, as typed after ``$ ``, and under it what it prints
    <!-- file: NAME -->      a file as a reader would save it; the examples of the same page find it in their folder
    <!-- added to: NAME -->  lines that a shipped game may have besides its own
    <!-- python -->          a program, run in that folder
    <!-- picture: PLACE -->  the command that draws the picture kept at PLACE (from the top of the checkout)
    <!-- evidence -->        how much of the evidence is met, counted in the table kept with the program
    <!-- evening: DIGEST --> commands of one evening, played when the pages are made anew (`tests.support.consoles`)
    <!-- command: WHAT -->   a command for people or CI, not played here
"""

from __future__ import annotations

import hashlib
import os
import re
import shlex
import subprocess
import sys
from collections.abc import Iterator
from contextlib import chdir
from pathlib import Path
from shutil import copytree
from typing import Any, NamedTuple

from typer.testing import CliRunner, Result

ROOT = Path(__file__).resolve().parents[2]
EVENING = ROOT / "scenarios" / "evening"
FOLDERS = ("cli", "notebooks", "scenarios", "sim", "tests")
BLOCK = re.compile(r"^<!-- (?P<mark>[^>]+) -->\n```(?P<language>\w+)\n(?P<body>.*?)^```\n", re.DOTALL | re.MULTILINE)
FENCED = re.compile(r"^```.*?^```$", re.DOTALL | re.MULTILINE)
LINK = re.compile(r"\[[^\]]*\]\((?P<target>[^()\s]+)\)")
HEADING = re.compile(r"^#{1,6} +(?P<words>.+?) *$", re.MULTILINE)
WORDS_OF_SVG = re.compile(r"<!-- (.*?) -->", re.DOTALL)
DRAWN_FROM = "Drawn from"
"""Key of the digest in a kept picture: of every number and every word in it."""


STILL, STILL_S = (900, 640), 36.0
"""Width and height of the kept picture of a replay, and the second of the bout that it shows."""


class Block(NamedTuple):
    """One marked block: the page it stands on, its mark, what kind of mark that is, and what stands in it."""

    page: Path
    mark: str
    body: str

    @property
    def kind(self) -> str:
        return self.mark.partition(":")[0]

    @property
    def name(self) -> str:
        return self.mark.partition(":")[2].strip()


def pages() -> list[Path]:
    """Every page of the checkout, the front page first."""
    below = sorted(page for folder in FOLDERS for page in (ROOT / folder).rglob("*.md"))
    return [ROOT / "README.md", ROOT / "DEVELOPERS.md", *below]


def text_of(page: Path) -> str:
    return page.read_text(encoding="utf-8")


def blocks(page: Path, kind: str) -> list[Block]:
    """The blocks of one kind on a page, in order."""
    found = [Block(page, one["mark"].strip(), one["body"]) for one in BLOCK.finditer(text_of(page))]
    return [block for block in found if block.kind == kind]


def example(body: str) -> tuple[str, str]:
    """(command, printed output) of one example."""
    first, _, output = body.partition("\n")
    assert first.startswith("$ "), first
    return first[2:], output


def examples() -> list[tuple[Path, str, str]]:
    """(page, command, printed output) of every example of every page."""
    return [(page, *example(block.body)) for page in pages() for block in blocks(page, "example")]


def pictures() -> list[Block]:
    return [block for page in pages() for block in blocks(page, "picture")]


def lay_out(page: Path, folder: Path) -> None:
    """Write the files that a page shows into a folder, where its examples are to find them, and the evening that is shipped."""
    copytree(EVENING, folder / EVENING.relative_to(ROOT), dirs_exist_ok=True)
    for block in blocks(page, "file"):
        (folder / block.name).write_text(block.body, encoding="utf-8")


def run(command: str, folder: Path) -> str:
    """The output of a command as a reader would type it in that folder, with `overload` from this environment and checkout."""
    commands = os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])
    ours = os.pathsep.join([str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])])
    return ended(command, folder, env=os.environ | {"PATH": commands, "PYTHONPATH": ours})


def ended(command: str, folder: Path, **more: Any) -> str:
    """What a shell's command put out, and nothing else said."""
    done = subprocess.run(["bash", "-c", command], cwd=folder, capture_output=True, text=True, **more)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return done.stdout


def answer(command: str, folder: Path) -> str:
    """The output of an `overload ...` and what it is piped into, played in this process: a new one takes as long to begin as
    most of these take to play."""
    typed, _, filters = command.partition(" | ")
    result = played(typed, folder)
    assert result.stderr == ""
    return filtered(filters, result.stdout, folder) if filters else result.stdout


def filtered(filters: str, text: str, folder: Path) -> str:
    """What comes of a text that is piped into these."""
    return ended(filters, folder, input=text)


def played(typed: str, folder: Path) -> Result:
    """What an `overload ...` said, on both streams."""
    from cli.app import app

    program, *arguments = shlex.split(typed)
    assert program == "overload", typed
    with chdir(folder):
        result = CliRunner().invoke(app, arguments, catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result


def draw(block: Block, folder: Path, suffix: str) -> tuple[Path, str]:
    """Draw a page's picture in a folder by its command, in another format if need be: what was written, and the numbers in it."""
    command = block.body.strip()
    before, name = command.rpartition(" ")[::2]
    assert Path(name).stem == Path(block.name).stem and before.endswith((" --plot", " --out")), command
    place = folder / Path(name).with_suffix(suffix).name
    played(f"{before} {place.name}", folder)
    if before.endswith(" --plot"):
        return place, text_of(place.with_suffix(".csv"))
    from sim.game.loader import load_game

    return place, load_game(before.split()[2]).model_dump_json()


def is_replay(block: Block) -> bool:
    return block.body.startswith("overload replay ")


def drawn_from(block: Block, folder: Path) -> str:
    """The digest of all that is to be read in a picture as it is drawn today: its numbers and its words, whatever shape the
    letters have (an SVG holds every word a second time, as a comment beside its letters); of a replay, of the whole page."""
    if is_replay(block):
        page, _ = draw(block, folder, ".html")
        return hashlib.sha256(page.read_bytes()).hexdigest()
    picture, numbers = draw(block, folder, ".svg")
    words = " ".join(" ".join(WORDS_OF_SVG.findall(text_of(picture))).split())
    return hashlib.sha256(f"{numbers}\n{words}".encode()).hexdigest()


def still_of(page: Path) -> Path:
    """A picture of a replay some way into the bout, as the browser shows it."""
    from tests.support.browser import address, browser

    place = page.with_suffix(".png")
    with browser(*STILL) as driver:
        driver.get(f"{address(page)}#t={STILL_S}")
        driver.save_screenshot(str(place))
    return place


def kept_digest(picture: Path) -> str:
    """The digest that was written into a kept picture when it was drawn."""
    from PIL import Image

    with Image.open(picture) as image:
        return str(image.info.get(DRAWN_FROM, ""))


def keep(block: Block, folder: Path) -> None:
    """Draw a page's picture anew where it is kept, with its digest in it; one that is still right stays as it is."""
    from PIL import Image
    from PIL.PngImagePlugin import PngInfo

    place, digest = ROOT / block.name, drawn_from(block, folder)
    if place.exists() and kept_digest(place) == digest:
        return
    drawn = still_of(draw(block, folder, ".html")[0]) if is_replay(block) else draw(block, folder, ".png")[0]
    told = PngInfo()
    told.add_text(DRAWN_FROM, digest)
    with Image.open(drawn) as image:
        place.parent.mkdir(exist_ok=True)
        image.convert("L").save(place, pnginfo=told, optimize=True)


def evidence() -> str:
    """How much of the evidence the table kept with the program meets, in three lines."""
    from sim.evidence.reference_table import shipped_table
    from sim.evidence.table import count

    lines, _ = shipped_table()
    unseen = count(lines, "measurement", ("predicted",))
    published, trade = (count(lines, "direction", marks) for marks in (("***", "**"), ("trade",)))
    return (
        f"Measurements that no constant was fitted to: {unseen.inside} of {unseen.assessed} as close as was asked beforehand.\n"
        f"What studies agree on (more room, more running): {published.inside} of {published.assessed} come out.\n"
        f"What every coach knows of tight keep-ball: {trade.inside} of {trade.assessed} come out.\n"
    )


def anchors(page: Path) -> set[str]:
    """Where a link into a page may lead: its headings, as GitHub names them."""
    found: set[str] = set()
    for heading in HEADING.finditer(FENCED.sub("", text_of(page))):
        plain = LINK.sub(lambda link: link[0][1:].partition("]")[0], heading["words"]).lower()
        name = re.sub(r"[^\w\- ]", "", plain).replace(" ", "-")
        again = next(f"{name}{end}" for end in ("", *(f"-{k}" for k in range(1, 100))) if f"{name}{end}" not in found)
        found.add(again)
    return found


def links(page: Path) -> Iterator[tuple[str, Path, str]]:
    """(link as written, file or folder, anchor or "") of every link of a page that leads to another place of the checkout."""
    for link in LINK.finditer(FENCED.sub("", text_of(page))):
        target = link["target"]
        if "://" in target or target.startswith("mailto:"):
            continue
        place, _, anchor = target.partition("#")
        yield target, (page.parent / place).resolve() if place else page, anchor


def leads_nowhere(target: Path, anchor: str) -> bool:
    """Whether there is no such file or folder here, or no such heading in it."""
    if not target.exists() or not target.is_relative_to(ROOT):
        return True
    return bool(anchor) and (target.suffix != ".md" or anchor not in anchors(target))
