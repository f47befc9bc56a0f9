"""What lies in the cache of compiled functions is run: it must be this user's, and nobody else may write there."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from sim import compiled

pytestmark = pytest.mark.skipif(not hasattr(os, "getuid"), reason="files have no such owners here")


@pytest.fixture
def apart(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A package folder and a folder of temporary files of their own."""
    (tmp_path / "sim").mkdir()
    (tmp_path / "tmp").mkdir()
    monkeypatch.setattr(compiled, "HERE", tmp_path / "sim")
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "tmp"))
    return tmp_path


def test_it_lies_beside_the_sources_and_is_ours_alone(apart: Path):
    folder = compiled.cache_folder()
    assert folder == apart / "sim" / "__pycache__" / f"kernels-{compiled.digest()}"
    assert folder.stat().st_mode & 0o777 == 0o700 and compiled.cache_folder() == folder


@pytest.mark.parametrize("mode", [0o770, 0o777, 0o702])
def test_a_folder_that_others_may_write_is_not_used(apart: Path, mode: int):
    open_to_all = compiled.cache_folder()
    open_to_all.chmod(mode)
    folder = compiled.cache_folder()
    assert folder.parent == apart / "tmp" / f"overload-kernels-{os.getuid()}" and folder.stat().st_mode & 0o777 == 0o700


def test_a_folder_of_somebody_else_is_not_used(apart: Path, monkeypatch: pytest.MonkeyPatch):
    theirs = compiled.cache_folder()
    shared = apart / "tmp" / f"overload-kernels-{os.getuid() + 1}"
    shared.mkdir(mode=0o700)
    somebody = os.getuid() + 1
    monkeypatch.setattr(os, "getuid", lambda: somebody)
    folder = compiled.cache_folder()
    assert theirs not in (folder, *folder.parents) and shared not in (folder, *folder.parents)
    assert folder.parent == apart / "tmp" and not list(folder.iterdir()), "this process compiles for itself alone"


def test_a_link_to_another_place_is_not_used(apart: Path):
    folder = compiled.cache_folder()
    folder.rmdir()
    (apart / "trap").mkdir(mode=0o700)
    folder.symlink_to(apart / "trap", target_is_directory=True)
    assert compiled.cache_folder().parent.parent == apart / "tmp"


def test_a_process_that_is_alone_leaves_nothing_behind(tmp_path: Path):
    code = (
        "import os\nme = os.getuid()\nos.getuid = lambda: me + 1\nfrom numba import config\nimport sim.compiled\n"
        "assert os.path.isdir(config.CACHE_DIR)\nimport sys\nsys.stdout.write(config.CACHE_DIR)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=compiled.HERE.parent, capture_output=True, text=True, check=True,
        env=os.environ | {"TMPDIR": str(tmp_path)},
    )  # fmt: skip
    assert Path(done.stdout).parent == tmp_path and not Path(done.stdout).exists()
