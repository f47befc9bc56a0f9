"""The README tells the truth: its commands run, and give the output printed under them.

Where an answer has rightly changed, ``python tests/cli/test_readme.py`` plays all examples anew and writes their
output into README.md; nothing else ever does.
"""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
README = ROOT / "README.md"
BLOCK = re.compile(r"<!-- (?P<mark>[^>]+) -->\n```(?P<language>\w+)\n(?P<body>.*?)```\n", re.DOTALL)


def blocks(mark: str) -> list[str]:
    """What stands in the README's blocks under ``<!-- mark -->``."""
    return [
        found["body"] for found in BLOCK.finditer(README.read_text(encoding="utf-8")) if found["mark"].strip() == mark
    ]


def example(body: str) -> tuple[str, str]:
    """(command, printed output) of one example."""
    first, _, output = body.partition("\n")
    assert first.startswith("$ "), first
    return first[2:], output


def run(command: str) -> str:
    """The output of a command as a reader would type it, with `overload` from this environment."""
    path = os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])
    done = subprocess.run(
        ["bash", "-c", command], cwd=ROOT, env=os.environ | {"PATH": path}, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return done.stdout


EXAMPLES = [example(body) for body in blocks("example")]


def one_line(mark: str) -> str:
    (body,) = blocks(f"command: {mark}")
    assert body.count("\n") == 1, f"{mark}: one command, one line"
    return body.strip()


def test_there_are_examples_of_the_main_commands():
    commands = {command.split()[1] for command, _ in EXAMPLES}
    assert {"check", "estimate", "play"} <= commands


@pytest.mark.slow
@pytest.mark.parametrize(("command", "printed"), EXAMPLES, ids=[command for command, _ in EXAMPLES])
def test_an_example_gives_the_output_printed_under_it(command: str, printed: str):
    assert printed != ""
    assert run(command).splitlines() == printed.splitlines()


def test_the_first_command_ends_in_an_example_that_is_printed():
    main_job = one_line("run").split("&& ")[-1].removeprefix(".venv/bin/")
    assert main_job in [command for command, _ in EXAMPLES]


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
    """Write the examples' output of today into README.md."""

    def anew(found: re.Match[str]) -> str:
        if found["mark"].strip() != "example":
            return found[0]
        command, _ = example(found["body"])
        return f"<!-- {found['mark']} -->\n```{found['language']}\n$ {command}\n{run(command)}```\n"

    README.write_text(BLOCK.sub(anew, README.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    refresh()
