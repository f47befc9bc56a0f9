"""The pages tell the truth: their commands run and give the output printed under them, their links lead somewhere.

Where an answer has rightly changed, ``python tests/cli/test_readme.py`` plays all examples of all pages anew, writes their
output under them and draws the pictures; nothing else ever does.
"""

from __future__ import annotations

import re
import subprocess
import tempfile
from pathlib import Path
from typing import get_args

import pytest

from sim import __version__
from sim.experiments.assumption_file import read_assumptions
from sim.game.loader import load_game
from tests.support import consoles, language_page, readmes
from tests.support.readmes import ROOT
from tests.support.screens import NOT_OURS, STATISTICIANS, said

README = ROOT / "README.md"
LONGEST_FRONT_PAGE = 260  # lines: read before the kettle boils
EXAMPLES = readmes.examples()
AS_TYPED = [command for page, command, _ in EXAMPLES if page == README and command.startswith("overload estimate")][:2]
"""Played in a shell, by the `overload` that is installed; the others in this process."""


def marked(kind: str) -> list[readmes.Block]:
    return [block for page in readmes.pages() for block in readmes.blocks(page, kind)]


FILES = marked("file")


def named(page: Path) -> str:
    return page.relative_to(ROOT).as_posix()


def one_line(mark: str) -> str:
    (body,) = [block.body for block in readmes.blocks(README, "command") if block.name == mark]
    assert body.count("\n") == 1, f"{mark}: one command, one line"
    return body.strip()


def test_the_front_page_is_short():
    assert len(README.read_text(encoding="utf-8").splitlines()) <= LONGEST_FRONT_PAGE


def test_the_front_page_has_an_example_of_every_question_of_a_coach():
    commands = {command.split()[1] for page, command, _ in EXAMPLES if page == README}
    assert {"check", "estimate", "compare", "tune", "adjust", "session"} <= commands


def test_the_front_page_names_every_command():
    from cli.app import app

    told = re.findall(r"^\| `overload ([\w-]+)", README.read_text(encoding="utf-8"), re.MULTILINE)
    assert sorted(told) == sorted(one.name for one in (*app.registered_commands, *app.registered_groups))


@pytest.mark.parametrize(
    "page", [README, *(ROOT / folder / "README.md" for folder in ("cli", "scenarios", "sim"))], ids=named
)
def test_a_page_for_coaches_speaks_as_the_screens_do(page: Path):
    prose = re.sub(r"`[^`]+`", "", readmes.FENCED.sub("", readmes.text_of(page)))
    avoided = (*NOT_OURS, *STATISTICIANS) if page == README else NOT_OURS
    assert [word for word in avoided if said(prose, word)] == []


def words_in(kind: object) -> set[str]:
    """The words that a type allows by name, also inside a union."""
    return {word for one in get_args(kind) for word in ({one} if isinstance(one, str) else words_in(one))}


def words_of_the_language() -> set[str]:
    """Every key a game file may have, and every word that may stand for a value where only some may."""
    from pydantic import BaseModel

    from sim.game import actions, loads, model, spec, trials, values
    from sim.populations import POPULATIONS

    tables = [
        one
        for module in (actions, loads, spec, trials)
        for one in vars(module).values()
        if isinstance(one, type) and issubclass(one, BaseModel) and one.__module__ == module.__name__
    ]
    keys = {field.alias or name for table in tables for name, field in table.model_fields.items()}
    kinds = (model.Event, model.Style, model.Aim, model.End, values.LossCause, values.Unlock)
    said = {word for kind in kinds for word in words_in(kind)} | set(POPULATIONS)
    return (
        keys
        | said
        | {word for field in actions.AssignAction.model_fields.values() for word in words_in(field.annotation)}
    )


def test_the_language_page_names_every_word_of_a_game_file():
    text = readmes.text_of(ROOT / "scenarios" / "README.md")
    fenced = readmes.FENCED.findall(text)
    told = " ".join([*fenced, *re.findall(r"`([^`]+)`", readmes.FENCED.sub("", text))])
    missing = [
        word for word in words_of_the_language() if not re.search(rf"(?<![\w-]){re.escape(word)}(?![\w-])", told)
    ]
    assert sorted(missing) == []


def test_every_version_has_its_entry():
    assert f"\n## {__version__}\n" in readmes.text_of(ROOT / "sim" / "CHANGELOG.md")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("page", "command", "printed"), EXAMPLES, ids=[f"{named(page)}: {command}" for page, command, _ in EXAMPLES]
)
def test_an_example_gives_the_output_printed_under_it(page: Path, command: str, printed: str, tmp_path: Path):
    assert printed != ""
    readmes.lay_out(page, tmp_path)
    ask = readmes.run if command in AS_TYPED else readmes.answer
    assert ask(command, tmp_path).splitlines() == printed.splitlines()


def test_the_evening_on_a_page_is_of_this_program_and_goes_all_the_way():
    (block,) = marked("evening")
    assert block.name == consoles.digest(), "make it anew: python tests/cli/test_readme.py"
    asked = [command.split()[1] for command, _ in consoles.steps(block.body)]
    assert asked == ["estimate", "tuesday.csv", "tally", "review", "learn", "estimate", "learn"]


def test_an_evening_is_made_anew_with_its_files(tmp_path: Path):
    body = "$ cat two.csv\na,b\n1,2\n$ overload games | head -n 1\nold\n"
    made = consoles.anew(body, tmp_path)
    assert (tmp_path / "two.csv").read_text(encoding="utf-8") == "a,b\n1,2\n"
    assert [command for command, _ in consoles.steps(made)] == ["cat two.csv", "overload games | head -n 1"]
    assert "old" not in made and made.count("\n") == 5


@pytest.mark.parametrize("block", FILES, ids=lambda block: block.name)
def test_a_file_shown_on_a_page_is_accepted(block: readmes.Block, tmp_path: Path):
    readmes.lay_out(block.page, tmp_path)
    place = tmp_path / block.name
    assert load_game(str(place)).players if "areas." in block.body else read_assumptions(place)


@pytest.mark.parametrize("block", marked("added to"), ids=lambda block: block.name)
def test_lines_shown_on_a_page_can_be_added_to_a_game(block: readmes.Block, tmp_path: Path):
    place = tmp_path / block.name
    place.write_text(readmes.text_of(ROOT / "scenarios" / block.name) + "\n" + block.body, encoding="utf-8")
    assert load_game(str(place)) != load_game(block.name.removesuffix(".toml"))


@pytest.mark.slow
@pytest.mark.parametrize("block", marked("python"), ids=lambda block: named(block.page))
def test_a_program_shown_on_a_page_runs(block: readmes.Block, tmp_path: Path):
    readmes.lay_out(block.page, tmp_path)
    (tmp_path / "shown.py").write_text(block.body, encoding="utf-8")
    assert readmes.run("MPLBACKEND=Agg python shown.py", tmp_path) == ""


@pytest.mark.slow
@pytest.mark.parametrize("block", readmes.pictures(), ids=lambda block: block.name)
def test_a_picture_is_what_its_command_draws(block: readmes.Block, tmp_path: Path):
    assert readmes.kept_digest(ROOT / block.name) == readmes.drawn_from(block, tmp_path)


def test_the_front_page_says_how_much_of_the_evidence_is_met():
    (told,) = readmes.blocks(README, "evidence")
    assert told.body == readmes.evidence()


def test_every_picture_kept_is_on_a_page_and_every_one_on_a_page_is_kept():
    kept = {place.relative_to(ROOT).as_posix() for place in (ROOT / "cli" / "pictures").glob("*.png")}
    assert kept == {block.name for block in readmes.pictures()} != set()
    for block in readmes.pictures():
        assert any(target == ROOT / block.name for _, target, _ in readmes.links(block.page)), block.name


@pytest.mark.parametrize("page", readmes.pages(), ids=named)
def test_every_link_leads_somewhere(page: Path):
    lost = [written for written, target, anchor in readmes.links(page) if readmes.leads_nowhere(target, anchor)]
    assert lost == []


def test_every_page_can_be_reached_from_the_front_page():
    reached, ahead = set(), [README]
    while ahead:
        page = ahead.pop()
        reached.add(page)
        ahead += [target for _, target, _ in readmes.links(page) if target.suffix == ".md" and target not in reached]
    assert [named(page) for page in readmes.pages() if page not in reached] == []


def test_a_lost_link_is_noticed(tmp_path: Path):
    page = tmp_path / "README.md"
    page.write_text(
        "# One two, three!\n\n[a](#one-two-three) [b](#four) [c](none.md)\n\n```\n[d](none.md)\n```\n", "utf-8"
    )
    found = [(written, target.exists(), anchor) for written, target, anchor in readmes.links(page)]
    assert found == [("#one-two-three", True, "one-two-three"), ("#four", True, "four"), ("none.md", False, "")]
    assert readmes.anchors(page) == {"one-two-three"}
    assert readmes.leads_nowhere(README, "no-such-heading") and not readmes.leads_nowhere(README, "")


def test_the_first_command_ends_in_an_example_that_is_printed():
    main_job = one_line("run").split("&& ")[-1].removeprefix(".venv/bin/")
    assert (README, main_job) in [(page, command) for page, command, _ in EXAMPLES]


def test_both_commands_make_the_environment_and_use_the_exact_versions():
    for mark, what in [("run", "-e ."), ("tests", '-e ".[dev]"')]:
        line = one_line(mark)
        assert line.startswith(
            "[ -d .venv ] || python3 -m venv .venv && "
            f".venv/bin/python -m pip install -q -c .ci/constraints.txt {what} && .venv/bin/"
        )


@pytest.mark.parametrize("mark", ["run", "tests"])
def test_the_windows_lines_do_the_same(mark: str):
    steps = one_line(mark).split(" && ")
    windows = one_line(f"{mark} on Windows").replace("\\Scripts\\", "/bin/").replace(".ci\\", ".ci/").split(" && ")
    assert windows[0] == "(if not exist .venv py -3 -m venv .venv)"
    assert windows[1:] == steps[1:]


def test_ci_reads_the_test_command_from_here():
    found = subprocess.run(
        ["bash", "-c", r"sed -n '/^<!-- command: tests -->$/,/^```$/p' README.md | sed -e '1,2d' -e '$d'"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    assert found.stdout.strip() == one_line("tests")
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert "<!-- command: tests -->" in script
    assert "pytest -q" not in script and "pip install" not in script


def refresh() -> None:
    """Write the reference and the examples' output of today into their pages, and draw the pictures of today."""
    language_page.write()
    for page in readmes.pages():
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            readmes.lay_out(page, folder)

            def anew(found: re.Match[str], folder: Path = folder) -> str:
                mark = found["mark"].strip()
                if mark == "evidence":
                    body = readmes.evidence()
                elif mark == "example":
                    command, _ = readmes.example(found["body"])
                    body = f"$ {command}\n{readmes.answer(command, folder)}"
                elif mark.startswith("evening:"):
                    if mark.endswith(consoles.digest()):
                        return found[0]
                    mark, body = f"evening: {consoles.digest()}", consoles.anew(found["body"], folder)
                else:
                    return found[0]
                return f"<!-- {mark} -->\n```{found['language']}\n{body}```\n"

            before = readmes.text_of(page)
            after = readmes.BLOCK.sub(anew, before)
            if after != before:
                page.write_text(after, encoding="utf-8")
            for block in readmes.blocks(page, "picture"):
                readmes.keep(block, folder)


if __name__ == "__main__":
    refresh()
