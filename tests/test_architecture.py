"""The house rules that can be read off the files: who imports whom, what stands where, how long a file is."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Set
from functools import cache
from pathlib import Path

import pytest

import cli
import sim

ROOT = Path(__file__).resolve().parents[1]
MODULES = sorted([*ROOT.glob("sim/**/*.py"), *ROOT.glob("cli/**/*.py")])
LONGEST = 400

# Rooms from the ground up.  A module may import from its own floor and from those below it.
FLOORS = (
    (
        "sim.errors",
        "sim.units",
        "sim.compiled",
        "sim.geometry",
        "sim.streams",
        "sim.roots",
        "sim.trajectory",
        "sim.turning",
        "sim.motion",
        "sim.ball",
        "sim.energy",
        "sim.session_load",
        "sim.provenance",
        "sim.shown",
    ),
    (
        "sim.parameters",
        "sim.populations",
        "sim.assumptions",
        "sim.speed_zones",
        "sim.fitness",
        "sim.players",
        "sim.squad",
    ),
    ("sim.game",),
    ("sim.rules",),
    ("sim.pitch",),
    ("sim.measures",),
    ("sim.experiments", "sim.evidence"),
    ("sim.own_counts", "sim.device_files", "sim.groups", "sim.squads"),
    ("sim.planning", "sim.learning"),
    ("sim.weeks",),
    ("sim.results", "sim.words", "sim.plots", "sim.report"),
    ("sim",),
    ("cli",),
)
# Upward on purpose, each with its reason.
ALLOWED = {
    # A roster is drawn for the players of a game: it reads the resolved game and nothing else of that floor.
    ("sim.players", "sim.game.model"),
    # The front door is lazy and light; these ask it only where the package lies, and its version.
    ("sim.game.shipped", "sim"),
    ("sim.experiments", "sim"),
    ("sim.results", "sim"),
    ("sim.evidence", "sim"),
    ("sim.plots", "sim"),
    # What a game is like is read off an estimate of it.
    ("sim.groups", "sim.results"),
    # An estimate *is* a Result: the type is made where the numbers are.
    ("sim.experiments", "sim.results"),
}
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "sim", "cli", "tests", "scenarios", "notebooks"}


def name_of(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


@cache
def tree_of(path: Path) -> ast.Module:
    """A source as Python reads it."""
    return ast.parse(path.read_text(encoding="utf-8"))


@cache
def imported(path: Path) -> frozenset[str]:
    """Full names of all modules a file imports, wherever in the file."""
    names: set[str] = set()
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            names.update(alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written in full"
            for alias in node.names:
                deeper = f"{node.module}.{alias.name}"
                is_module = (ROOT / Path(*deeper.split("."))).with_suffix(".py").exists() or (
                    ROOT / Path(*deeper.split(".")) / "__init__.py"
                ).exists()
                names.add(deeper if is_module else str(node.module))
    return frozenset(names)


def room_of(name: str) -> tuple[int, str]:
    """(floor, room) of one of our modules: the longest room that the name lies in."""
    found = [
        (len(room), floor, room)
        for floor, rooms in enumerate(FLOORS)
        for room in rooms
        if name == room or (name.startswith(room + ".") and room != "sim")
    ]
    assert found, f"{name} lies in no room: give it one in FLOORS"
    _, floor, room = max(found)
    return floor, room


def upward(name: str, targets: Set[str]) -> list[str]:
    """What `name` imports from above its floor, and is not allowed to."""
    floor, room = room_of(name)
    wrong = []
    for target in sorted(targets):
        if target.split(".")[0] not in ("sim", "cli"):
            continue
        above = room_of(target)[0] > floor
        if above and not ({(name, target), (room, target)} & ALLOWED):
            wrong.append(f"{name} imports {target}")
    return wrong


def test_every_module_has_a_room_and_imports_point_one_way():
    wrong = [line for path in MODULES for line in upward(name_of(path), imported(path))]
    assert wrong == []


def test_an_import_that_points_upward_is_noticed():
    assert upward("sim.motion", {"sim.pitch.engine"}) == ["sim.motion imports sim.pitch.engine"]
    assert upward("sim.words.estimate_details", {"cli.files"}) == ["sim.words.estimate_details imports cli.files"]
    assert upward("sim.pitch.engine", {"sim.motion", "numpy"}) == []


def users_of(library: str) -> set[str]:
    return {name_of(path) for path in MODULES if any(name.split(".")[0] == library for name in imported(path))}


IMPORTED_AS = {"fpdf2": "fpdf"}
"""Libraries whose modules are not called as they are."""
ITS_OWN_HALF = {"pydantic_core"}  # pydantic's, pinned to it and named in its own guide


def test_only_libraries_that_are_asked_for_are_imported():
    """What another library happens to bring may be gone tomorrow, or is not there where the extra `dev` is not installed."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = [
        *project["dependencies"],
        *(one for name in ("cluster", "parquet") for one in project["optional-dependencies"][name]),
    ]
    names = [re.match(r"[\w-]+", one)[0].lower().replace("-", "_") for one in asked]
    allowed = (
        {IMPORTED_AS.get(name, name) for name in names} | set(sys.stdlib_module_names) | {"sim", "cli"} | ITS_OWN_HALF
    )
    used = {name.split(".")[0] for path in MODULES for name in imported(path)}
    assert used - allowed == set()


def test_only_the_engine_imports_simpy():
    assert users_of("simpy") == {"sim.pitch.clock"}


def test_only_the_plots_import_matplotlib():
    assert {name for name in users_of("matplotlib") if not name.startswith("sim.plots")} == set()


def test_sim_never_imports_the_command_line():
    assert {name for name in users_of("cli") if name.startswith("sim")} == set()
    assert {name for name in users_of("typer") | users_of("click") if name.startswith("sim")} == set()


def test_nothing_in_sim_prints():
    printing = [
        f"{name_of(path)}:{node.lineno}"
        for path in MODULES
        if name_of(path).startswith("sim")
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "print"
    ]
    assert printing == []


def test_every_module_opens_with_its_purpose():
    without = [name_of(path) for path in MODULES if not ast.get_docstring(tree_of(path))]
    assert without == []


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_modules_are_short(path: Path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= LONGEST


def test_the_top_level_holds_only_what_it_should():
    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    top = {line.split("/")[0] for line in tracked.splitlines()}
    assert {name for name in top if not name.startswith(".")} <= TOP_LEVEL
    assert {name for name in top if name.startswith(".")} <= {
        ".ci",
        ".gitignore",
        ".gitattributes",
        ".pre-commit-config.yaml",
    }


def test_packages_resolve_inside_this_project():
    assert Path(sim.__file__).resolve().parents[1] == ROOT
    assert Path(cli.__file__).resolve().parents[1] == ROOT


def loaded_after(statement: str) -> set[str]:
    """Top-level names of all modules in a fresh interpreter after `statement`."""
    code = f"import sys\n{statement}\nsys.stdout.write(' '.join({{name.split('.')[0] for name in sys.modules}}))"
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    return set(done.stdout.split())


HEAVY = {"pandas", "scipy", "numba", "simpy", "matplotlib", "numpy", "pydantic"}


@pytest.mark.parametrize("statement", ["import sim", "import cli.app"])
def test_the_doors_are_light(statement: str):
    assert loaded_after(statement) & HEAVY == set()


KNOWN = "import sim.planning.closing, sim.planning.kept_loads, sim.words.session_details"
KNOWN += ", sim.weeks.playing, sim.weeks.moving, sim.words.plan_details, sim.words.move_screen"


def test_what_is_known_is_answered_without_the_engine():
    """An evening and a week whose blocks have been played load nothing that plays: it takes longer than all the rest."""
    assert loaded_after(KNOWN) & {"numba", "simpy", "pandas", "matplotlib"} == set()


def test_heavy_modules_would_be_noticed():
    assert "numpy" in loaded_after("import sim; import numpy")


def test_the_front_door_keeps_its_names():
    code = (
        "from sim import InputError, Result, estimate, load_game, play\n"
        "import sim, sim.pitch.log, sim.experiments.estimate\n"
        "assert callable(sim.play) and callable(sim.estimate) and callable(load_game)\n"
        "assert sim.play is play and sim.estimate is estimate\n"
        "assert sim.__version__\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


def test_an_unknown_name_at_the_front_door_is_an_attribute_error():
    with pytest.raises(AttributeError, match="module 'sim' has no attribute 'nonsense'"):
        sim.nonsense  # noqa: B018  (the look-up is the test)


CALLED_BY_TESTS_ALONE = {
    "sim.pitch.chance.constant_success": "the test mode: the whole simulator against closed forms",
    "sim.ball.deceleration_of_turf": "what the standard's test of a surface says (row M40 of the evidence)",
    "sim.ball.is_football_turf": "the range of that test",
}
"""Public functions that nothing in `sim` and `cli` calls, each with the reason why it stands there all the same."""
OF_EVERY_PICTURE = ("draw", "size", "folded")  # of modules of `sim.plots`; `sim.plots.page` is handed the module


def public_functions(path: Path) -> list[str]:
    """Of a module; those that are handed to a command line by a decorator are called from there."""
    return [
        node.name
        for node in tree_of(path).body
        if isinstance(node, ast.FunctionDef)
        and not node.name.startswith("_")
        and not any(ast.unparse(one).startswith("app.") for one in node.decorator_list)
    ]


def asked_for(path: Path, modules: set[str]) -> set[str]:
    """Full names of what a module takes from others and of what it uses of its own, a function's calls of itself left out.

    Of a module that it loads by name (a string) it may take whatever it names as an attribute or in a string.
    """
    tree = tree_of(path)
    full: dict[str, str] = {}
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            full |= {alias.asname or alias.name: alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            full |= {alias.asname or alias.name: f"{node.module}.{alias.name}" for alias in node.names}
    found = set(full.values())
    for node in tree.body:
        own = node.name if isinstance(node, ast.FunctionDef) else ""
        names = {part.id for part in ast.walk(node) if isinstance(part, ast.Name)}
        found |= {f"{name_of(path)}.{name}" for name in names if name != own}
    attributes = [node for node in ast.walk(tree) if isinstance(node, ast.Attribute)]
    found |= {f"{full.get(ast.unparse(one.value), '')}.{one.attr}" for one in attributes}
    strings = {node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)}
    for home in strings & modules:
        found |= {f"{home}.{name}" for name in strings | {one.attr for one in attributes}}
    return found


def uncalled(paths: list[Path]) -> set[str]:
    """Full names of the public functions that none of these modules asks for."""
    modules = {name_of(path) for path in paths}
    asked = set().union(*(asked_for(path, modules) for path in paths))
    return {
        f"{name_of(path)}.{function}"
        for path in paths
        for function in public_functions(path)
        if not (name_of(path).startswith("sim.plots.") and function in OF_EVERY_PICTURE)
    } - asked


def test_no_function_is_there_for_tests_alone():
    """It has its user, or it is a tool of the tests and stands with them, or it goes."""
    assert uncalled(MODULES) == set(CALLED_BY_TESTS_ALONE)


def test_a_function_for_tests_alone_is_noticed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sys.modules[__name__], "ROOT", tmp_path)
    one, other = tmp_path / "one.py", tmp_path / "other.py"
    one.write_text(
        "def used():\n    return 1\n\n\ndef spare(n):\n    return spare(n - 1)\n\n\ndef lazy():\n    return 2\n"
    )
    other.write_text("from one import used\n\n\ndef _own():\n    return used() + load('one').lazy()\n")
    assert uncalled([one, other]) == {"one.spare"}


PLAIN_ARITHMETIC = {0, 1, 2, -1, 0.5}
BARE_NUMBERS = 33
"""Those left in `sim/pitch`: corners of rectangles, parts of a lane, steps of a solver.  The count may only fall."""


def bare_numbers(path: Path) -> list[str]:
    """Numbers in the functions of a module that are neither plain arithmetic nor have a name."""
    tree = tree_of(path)
    named = {id(part) for node in tree.body if isinstance(node, ast.Assign | ast.AnnAssign) for part in ast.walk(node)}
    return [
        f"{name_of(path)}:{node.lineno}: {node.value}"
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and type(node.value) in (int, float)
        and node.value not in PLAIN_ARITHMETIC
        and id(node) not in named
    ]


def test_the_engine_holds_no_new_bare_number():
    """A judgement is a row of `sim.pitch.assumptions`, where `why`, the calibration and a user's file reach it."""
    found = [line for path in sorted(ROOT.glob("sim/pitch/*.py")) for line in bare_numbers(path)]
    assert len(found) <= BARE_NUMBERS, "\n".join(found)


def test_a_bare_number_is_noticed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(sys.modules[__name__], "ROOT", tmp_path)
    file = tmp_path / "press.py"
    file.write_text("REACH_M = 1.4\n\n\ndef press(x):\n    return 0.5 * x + 3.7 * REACH_M\n")
    assert bare_numbers(file) == ["press:5: 3.7"]


def games_named(path: Path) -> list[str]:
    """Where a module asks which game it is: a shipped game by its name, or what only people read of a game."""
    shipped = {file.stem for file in ROOT.glob("scenarios/*.toml")}
    return [
        f"{name_of(path)}:{node.lineno}"
        for node in ast.walk(tree_of(path))
        if (isinstance(node, ast.Constant) and node.value in shipped)
        or (isinstance(node, ast.Attribute) and node.attr in ("family", "title", "purpose"))
        or (isinstance(node, ast.Compare) and "game.name" in ast.unparse(node))
    ]


def test_the_engine_names_no_game():
    """What a game is stands in its rules alone."""
    found = [
        line for room in ("pitch", "rules") for path in ROOT.glob(f"sim/{room}/*.py") for line in games_named(path)
    ]
    assert found == []


def test_a_game_that_is_named_is_noticed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    file = tmp_path / "press.py"
    file.write_text("def press(game):\n    return game.name == 'mine' or game.family\n\n\nWIDE = 'two-squares'\n")
    monkeypatch.setattr(sys.modules[__name__], "name_of", lambda path: path.stem)
    assert sorted(games_named(file)) == ["press:2", "press:2", "press:5"]


def test_lint_is_clean():
    done = subprocess.run(
        [sys.executable, "-m", "ruff", "check", "--no-cache", "."], cwd=ROOT, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stdout


def test_every_file_is_set_by_the_formatter():
    done = subprocess.run(
        [sys.executable, "-m", "ruff", "format", "--check", "--no-cache", "."], cwd=ROOT, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stdout


@pytest.mark.slow
def test_types_are_right(tmp_path: Path):
    asked = [sys.executable, "-m", "mypy", "--cache-dir", str(tmp_path)]
    done = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout
