"""The notebooks run top to bottom, and what they hold is what they say.

`python tests/notebooks/test_notebooks.py` plays them anew and writes their outputs into them.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "notebooks"
NAMES = ("rule-tweak", "grid-for-a-target", "staff-meeting", "for-a-sceptic", "pre-season")
CAUTION = "An estimate, not advice"

pytestmark = pytest.mark.slow


def read(name: str):
    import nbformat

    return nbformat.read(FOLDER / f"{name}.ipynb", as_version=4)


def played(name: str):
    """The notebook, run in a fresh kernel on this checkout's code; an error in a cell is an error here."""
    from nbclient import NotebookClient

    book = read(name)
    for cell in book.cells:
        if cell.cell_type == "code":
            cell.outputs, cell.execution_count = [], None
    with tempfile.TemporaryDirectory() as place, pytest.MonkeyPatch.context() as here:
        here.setenv("PYTHONPATH", str(ROOT))
        here.setenv("JUPYTER_RUNTIME_DIR", place)  # usually in the home of the user, who may have none
        NotebookClient(
            book, timeout=240, iopub_timeout=240, kernel_name="python3", record_timing=False, config=by_files(Path(place)),
            resources={"metadata": {"path": str(FOLDER)}},
        ).execute()  # fmt: skip
    return book


def by_files(place: Path):
    """Kernel and reader talk through files, where the system can: of the five ports that were found free for a kernel another
    program may have taken one until it has started."""
    from traitlets.config import Config

    if sys.platform == "win32":
        return Config()
    return Config(KernelManager={"transport": "ipc", "ip": str(place / "kernel")})


def told(book) -> str:
    """All text that the cells print."""
    found = []
    for cell in book.cells:
        for output in cell.get("outputs", ()):
            found.append(output.get("text", "") or output.get("data", {}).get("text/plain", ""))
    return "\n".join(found)


def test_every_notebook_is_checked():
    assert sorted(file.stem for file in FOLDER.glob("*.ipynb")) == sorted(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_outputs_are_kept_with_the_line_of_caution(name: str):
    book = read(name)
    assert all(cell.outputs for cell in book.cells if cell.cell_type == "code" and not cell.source.startswith("import"))
    assert CAUTION in told(book)


# jupyter_client and pyzmq leave their sockets to the garbage collector and warn of a loop that is not theirs.
@pytest.mark.filterwarnings("ignore::ResourceWarning")
@pytest.mark.filterwarnings("ignore::DeprecationWarning")
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
@pytest.mark.parametrize("name", NAMES)
def test_it_runs_top_to_bottom(name: str):
    book = played(name)
    assert CAUTION in told(book)
    pictures = [
        output for cell in book.cells for output in cell.get("outputs", ()) if "image/png" in output.get("data", {})
    ]
    assert pictures


def test_a_game_shows_its_diagram_and_a_bout_its_replay():
    shown = [output.get("data", {}) for cell in read("rule-tweak").cells for output in cell.get("outputs", ())]
    assert any("<svg" in data.get("image/svg+xml", "") for data in shown)
    assert any("<iframe" in data.get("text/html", "") for data in shown)


def write_anew() -> None:
    """Play every notebook and keep its outputs."""
    import nbformat

    for name in NAMES:
        book = played(name)
        book.metadata = {"kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"}}
        for number, cell in enumerate(book.cells):
            cell.id, cell.metadata = f"cell-{number}", {}
        nbformat.write(book, FOLDER / f"{name}.ipynb")


if __name__ == "__main__":
    write_anew()
