"""Any table in any of the ways in which files are written reads back equal; any bytes give rows or one refusal."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.device_files.people import People
from sim.device_files.report import Report, Setting, examined
from sim.device_files.tables import names_in, read_table
from sim.errors import InputError
from sim.own_counts.delivered import Delivered
from tests.unit.device_files.made import TODAY, layout, workbook

HEADS = ["Who", "When", "What", "Long", "Far", "Fast", "Sharp", "Top"]
NAMES = st.text("abcdefgäöéÅß'- ;,\t\"", min_size=1, max_size=8).map(lambda one: f"P{one}".strip())
TENTHS = st.integers(0, 20_000).map(lambda n: n / 10)
TIMES = ("min", "s", "h:mm:ss", "mm:ss")


@st.composite
def tables(draw) -> list[Delivered]:
    """Rows that are possible, each of a player of its own, none of them the sum of the others."""
    names = draw(st.lists(NAMES, min_size=1, max_size=5, unique_by=lambda one: " ".join(one.split()).casefold()))
    found = []
    for line, name in enumerate(names, 2):
        metres = draw(TENTHS)
        found.append(
            Delivered(
                line,
                (TODAY - timedelta(days=draw(st.integers(0, 700)))).isoformat(),
                draw(st.sampled_from(("", "4v2", "warm up, long; easy"))),
                name,
                draw(st.integers(1, 10_000)) / 60,
                metres=metres,
                fast_metres=round(metres / 10, 1) if draw(st.booleans()) else None,
                accelerations=draw(st.none() | st.integers(0, 4000)),
                top_speed_kmh=draw(st.none() | TENTHS),
            )
        )
    return [replace(one, fast_from="" if one.fast_metres is None else "19.8 km/h") for one in found]


def number(value: float | None, mark: str, grouped: bool) -> str:
    if value is None:
        return ""
    text = f"{value:,.1f}" if grouped else f"{value:.1f}"
    return text if mark == "." else text.translate(str.maketrans(",.", ".,"))


def duration(minutes: float, unit: str, mark: str) -> str:
    seconds = round(60 * minutes)
    if unit == "min":
        return repr(minutes).replace(".", mark)
    if unit == "s":
        return str(seconds)
    hours, rest = divmod(seconds, 3600)
    return f"{hours}:{rest // 60:02}:{rest % 60:02}" if unit == "h:mm:ss" else f"{seconds // 60}:{seconds % 60:02}"


def day(iso: str, order: str) -> str:
    found = date.fromisoformat(iso)
    return {"iso": iso, "day first": f"{found:%d.%m.%Y}", "month first": f"{found:%m/%d/%Y}"}[order]


def own(unit: str, **more: object):
    data = {
        "checked": True, "headers": HEADS, "player": "Who", "date": "When", "block": "What", "duration": "Long",
        "duration_unit": unit, "distance": "Far", "distance_unit": "m", "fast": "Fast", "fast_unit": "m", "fast_from": "19.8 km/h",
        "accelerations": "Sharp", "top_speed": "Top", "top_speed_unit": "km/h",
    }  # fmt: skip
    return layout(data, **more)


def close(found: Delivered, wanted: Delivered) -> bool:
    """Equal, minutes to the rounding of their last digit."""
    return abs(found.minutes - wanted.minutes) < 1e-9 and replace(found, minutes=wanted.minutes) == wanted


def read(data: bytes, unit: str, **more: object):
    own_layout = own(unit, **more)
    table = read_table(data, "a.csv", {names_in(HEADS)})
    return examined(table, own_layout, Setting({}, People(), None, TODAY), "a.csv")


@settings(max_examples=40, deadline=None)
@given(
    tables(), st.sampled_from(";\t,"), st.sampled_from(("utf-8", "utf-8-sig", "utf-16", "cp1252")), st.sampled_from(".,"),
    st.booleans(), st.sampled_from(("iso", "day first", "month first")), st.sampled_from(TIMES),
    st.sampled_from(("\n", "\r\n", "\r")),
)  # fmt: skip
def test_any_table_in_any_dialect_reads_back_equal(rows, separator, encoding, mark, grouped, order, unit, ending):
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=separator, lineterminator=ending)
    writer.writerow(HEADS)
    for one in rows:
        writer.writerow([
            one.player, day(one.day, order), one.block, duration(one.minutes, unit, mark), number(one.metres, mark, grouped),
            number(one.fast_metres, mark, grouped), "" if one.accelerations is None else one.accelerations,
            number(one.top_speed_kmh, mark, grouped),
        ])  # fmt: skip
    said = {"decimal_mark": "point" if mark == "." else "comma"} | ({} if order == "iso" else {"date_order": order})
    found = read(out.getvalue().encode(encoding), unit, **said)
    assert found.left_out == () and all(map(close, found.kept, rows)) and len(found.kept) == len(rows)


@settings(max_examples=6, deadline=None)
@given(tables())
def test_any_table_in_a_spreadsheet_reads_back_equal(rows):
    lines = [
        [one.player, date.fromisoformat(one.day), one.block, one.minutes, one.metres, one.fast_metres, one.accelerations,
         one.top_speed_kmh]
        for one in rows
    ]  # fmt: skip
    found = read(workbook(Page=[HEADS, *lines]), "min")
    assert found.left_out == () and all(map(close, found.kept, rows)) and len(found.kept) == len(rows)


def told(data: bytes, below_names: bool) -> Report | InputError | None:
    """What comes of a file: a report, one refusal, or a table with other columns."""
    try:
        table = read_table(data, "a.csv", {names_in(HEADS)})
        if names_in(table.head) == names_in(HEADS):
            return read(data, "min")
    except InputError as error:
        return error
    assert not below_names
    return None


@settings(max_examples=80, deadline=None)
@given(st.binary(max_size=200) | st.text('0123456789.,;:/-\n\t"Pab% ', max_size=120).map(str.encode), st.booleans())
def test_any_bytes_give_rows_or_one_refusal(data: bytes, below_names: bool):
    found = told(f"{';'.join(HEADS)}\n".encode() + data if below_names else data, below_names)
    if isinstance(found, InputError):
        assert found.problems and all("\n" not in one for one in found.problems)
    elif found is not None:
        assert len(found.kept) + len(found.left_out) == found.read


@settings(max_examples=25, deadline=None)
@given(st.binary(max_size=300))
def test_any_bytes_behind_the_mark_of_a_spreadsheet_are_one_refusal(data: bytes):
    with pytest.raises(InputError) as caught:
        read_table(b"PK\x03\x04" + data, "a.xlsx")
    assert len(caught.value.problems) == 1
