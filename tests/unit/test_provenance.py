"""The digest of the engine hears of every source that numbers hang on, and of nothing else."""

from __future__ import annotations

import ast
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from sim import provenance
from sim.evidence import reference_table
from sim.evidence.tables import folder
from sim.experiments import cluster
from sim.experiments.made_of import made_of
from sim.experiments.provenance import provenance_of
from sim.game.loader import load_game
from sim.measures.thresholds import limits_of

TOP = provenance.HERE
MODULES = provenance.reached()


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    shutil.copytree(TOP, tmp_path / "sim", ignore=shutil.ignore_patterns("__pycache__", "results"))
    return tmp_path / "sim"


def test_a_change_of_any_module_reached_is_heard(copied: Path):
    seen = [provenance.digest(here=copied)]
    assert seen == [provenance.engine()], "a copy elsewhere signs alike"
    for file in MODULES.values():
        with (copied / file.relative_to(TOP)).open("a", encoding="utf-8") as more:
            more.write("\nSOMETHING = 1\n")
        seen.append(provenance.digest(here=copied))
    assert len(set(seen)) == len(MODULES) + 1


@pytest.mark.parametrize(
    "name", ["fitness", "game.resolve", "speed_zones", "measures.external_load", "session_load", "experiments.sessions"]
)
def test_what_numbers_hang_on_is_reached(name: str):
    assert f"sim.{name}" in MODULES


def test_whatever_a_bout_loads_is_reached():
    """What Python itself imports when a bout is read, played, counted and summed up, against what is read off the sources."""
    code = (
        "import sys\nfrom sim.game.loader import load_game\nfrom sim.experiments.sessions import play_sessions, session_bouts\n"
        "from sim.measures import summary, tables\n"
        "load_game('tight-square')\nimport sim.pitch.engine, sim.pitch.fatigue, sim.players\n"
        "sys.stdout.write(' '.join(name for name in sys.modules if name.split('.')[0] == 'sim'))"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=TOP.parent, capture_output=True, text=True, check=True)
    assert set(done.stdout.split()) <= set(MODULES)


def test_no_module_reached_imports_by_name_at_run_time():
    """Such an import could not be read off the source.  The front door does it for those who knock, and `sim.shown` for a
    notebook that asks how a value looks; neither makes a number."""
    for name, file in MODULES.items():
        names = {
            getattr(node, "attr", getattr(node, "id", ""))
            for node in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        }
        assert name in ("sim", "sim.shown") or not names & {"import_module", "__import__"}, name


def test_imports_inside_functions_and_new_modules_are_followed(copied: Path):
    (copied / "luck.py").write_text("LUCK = 1\n", encoding="utf-8")
    with (copied / "ball.py").open("a", encoding="utf-8") as more:
        more.write("\ndef later():\n    try:\n        from sim import luck\n    finally:\n        return luck.LUCK\n")
    assert "sim.luck" in provenance.reached(here=copied)
    before = provenance.digest(here=copied)
    (copied / "luck.py").write_text("LUCK = 2\n", encoding="utf-8")
    assert provenance.digest(here=copied) != before


def test_words_pictures_and_the_way_lines_end_are_not_heard(copied: Path):
    for name in ("words/estimate_screen.py", "plots/page.py", "experiments/executors.py", "evidence/table.py"):
        (copied / name).write_text("# another\n", encoding="utf-8")
    ball = copied / "ball.py"
    ball.write_bytes(ball.read_bytes().replace(b"\n", b"\r\n"))
    assert provenance.digest(here=copied) == provenance.engine()


def test_the_table_of_evidence_hears_of_the_engine_and_of_its_own_files(copied: Path, monkeypatch: pytest.MonkeyPatch):
    own = [
        "fitness.py",
        "evidence/criteria.py",
        "evidence/trajectories.py",
        *(f"evidence/{one.name}" for one in folder().glob("*.csv")),
    ]
    own += [f"evidence/games/{one.name}" for one in (folder() / "games").glob("*.toml")]
    own.remove("evidence/known_misses.csv")
    monkeypatch.setattr(reference_table, "folder", lambda: copied / "evidence")
    seen = [reference_table.digest()]
    for name in own:
        with (copied / name).open("a", encoding="utf-8") as more:
            more.write("\n")
        seen.append(reference_table.digest())
    assert len(own) > 10 and len(set(seen)) == len(own) + 1


def test_one_digest_stands_everywhere():
    game = load_game("tight-square")
    made = provenance_of(limits_of(game))
    assert made.engine == made_of(game, 1, made)["engine"] == cluster.facts()["engine"] == provenance.engine()
    assert reference_table.meta_of("small")["engine"] == provenance.engine()
    assert len(made.engine) == provenance.DIGITS and int(made.engine, 16) >= 0


def imported_by_python(text: str, name: str, package: bool) -> set[str]:
    found: set[str] = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            above = name.split(".")[: len(name.split(".")) - node.level + package] if node.level else []
            base = ".".join([*above, *filter(None, [node.module])])
            found |= {base, *(f"{base}.{alias.name}" for alias in node.names)}
    return found


@pytest.mark.parametrize(
    "text",
    [
        "import a, sim.b as c",
        "from sim import (\n    a,  # noqa: X (why)\n    b as c,\n)",
        "from sim.x import a, \\\n    b",
        "def later():\n    try:\n        from sim import luck\n    finally:\n        import sim.pluck",
        "from . import a\nfrom .b import c\nfrom .. import d",
        "if True:\n\tfrom sim import tabbed  # and why",
    ],
)
@pytest.mark.parametrize("package", [False, True])
def test_an_import_is_read_however_it_is_written(text: str, package: bool):
    assert set(provenance.imported("sim.x.y", text, package)) == imported_by_python(text, "sim.x.y", package)


def test_of_every_module_the_imports_are_read_as_python_reads_them():
    for file in TOP.rglob("*.py"):
        name = ".".join(["sim", *file.relative_to(TOP).with_suffix("").parts]).removesuffix(".__init__")
        text, package = file.read_text(encoding="utf-8"), file.name == "__init__.py"
        read, imported = set(provenance.imported(name, text, package)), imported_by_python(text, name, package)
        assert imported <= read, name
        assert not [one for one in read - imported - {"sim"} if provenance.file_of(one, TOP)], f"{name}: only spoken of"


def test_an_unknown_root_is_refused():
    with pytest.raises(ValueError, match=r"roots must be modules of the package \(got sim.nothing\)"):
        provenance.reached(["sim.nothing"])
