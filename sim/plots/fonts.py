"""The letters of all that we draw, as files: DejaVu Sans, which comes with matplotlib, so that no machine needs its own."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

from matplotlib import get_data_path
from matplotlib.font_manager import get_font


def font_file(bold: bool = False) -> Path:
    """The file of the plain or of the bold letters."""
    return Path(get_data_path()) / "fonts" / "ttf" / f"DejaVuSans{'-Bold' if bold else ''}.ttf"


def missing(text: Collection[str]) -> list[str]:
    """The letters in a text that the font has no picture of."""
    font = get_font(str(font_file()))
    return sorted({letter for one in text for letter in one if letter != "\n" and not font.get_char_index(ord(letter))})
