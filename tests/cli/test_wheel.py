"""The wheel alone is enough: built, installed in a fresh environment, it plays a shipped game from an empty folder."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

from sim.game.schema import FILE
from sim.game.shipped import shipped_games

ROOT = Path(__file__).resolve().parents[2]


def run(*command: str | Path, cwd: Path, **more: str) -> str:
    """What a command prints, with `more` in its environment."""
    alone = {
        name: value for name, value in os.environ.items() if name != "PYTHONPATH"
    }  # which may lead to this checkout
    alone |= more
    done = subprocess.run([str(part) for part in command], cwd=cwd, env=alone, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", folder, ROOT, cwd=folder)
    (built,) = folder.glob("*.whl")
    return built


@pytest.mark.slow
def test_the_wheel_holds_the_two_packages_and_every_shipped_game(wheel: Path):
    names = zipfile.ZipFile(wheel).namelist()
    assert {name.split("/")[0] for name in names if ".dist-info" not in name} == {"sim", "cli"}
    inside = {Path(name).stem for name in names if name.startswith("sim/shipped/") and name.endswith(".toml")}
    evening = {file.stem for file in (ROOT / "scenarios" / "evening").glob("*.toml")}
    assert inside == set(shipped_games()) | evening
    assert f"sim/shipped/{FILE}" in names
    modules = {str(file.relative_to(ROOT)) for room in ("sim", "cli") for file in (ROOT / room).rglob("*.py")}
    assert {name for name in names if name.endswith(".py")} == modules


@pytest.fixture(scope="module")
def installed(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of commands of a fresh environment with the wheel in it.

    The libraries are those of this environment, lent by a .pth file, so that nothing is downloaded; a .pth file
    found inside a lent folder is not followed, so this checkout is not on the path.
    """
    folder = tmp_path_factory.mktemp("fresh")
    venv.create(folder, with_pip=False)
    commands = folder / ("Scripts" if sys.platform == "win32" else "bin")
    python = commands / "python"
    run(sys.executable, "-m", "pip", "--python", python, "install", "--quiet", "--no-deps", wheel, cwd=folder)
    own = Path(run(python, "-c", "import sysconfig; print(sysconfig.get_path('purelib'))", cwd=folder).strip())
    (own / "lent.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    return commands


@pytest.mark.slow
def test_the_wheel_estimates_a_shipped_game_from_an_empty_folder(installed: Path, tmp_path: Path):
    found = run(installed / "python", "-c", "import sim, cli; print(sim.__file__); print(cli.__file__)", cwd=tmp_path)
    assert all(Path(line).is_relative_to(installed.parent) for line in found.splitlines())
    # In plain Python: compiling everything for this environment alone takes longer than all the rest of this file.
    short = ("--set", "bouts.count=1", "--set", "bouts.minutes=0.2", "--bouts", "2", "--workers", "1")
    asked = (installed / "overload", "estimate", "tight-square", *short, "--json", "-")
    text = run(*asked, cwd=tmp_path, NUMBA_DISABLE_JIT="1")
    answer = json.loads(text)
    assert answer["game"]
    assert answer["measures"]
    assert list(tmp_path.iterdir()) == []


@pytest.mark.slow
def test_the_wheel_reads_all_shipped_games_by_name(installed: Path, tmp_path: Path):
    listed = run(installed / "overload", "games", cwd=tmp_path)
    assert sorted(line.split()[0] for line in listed.splitlines() if line.startswith("  ")) == sorted(shipped_games())
    first, *others = sorted(shipped_games())
    assert run(installed / "overload", "check", first, "--bouts", "0", cwd=tmp_path)
    code = f"import sim; print(*[sim.load_game(name).name for name in {others}])"
    assert run(installed / "python", "-c", code, cwd=tmp_path).split() == others
