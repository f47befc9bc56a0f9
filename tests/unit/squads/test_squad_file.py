"""Squad files: read as they are meant, refused with everything that is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.errors import InputError
from sim.squads.squad import Person, numbered
from sim.squads.squad_file import read_squad

CSV = """shirt,name,position,level,pass_success,status,limits,most_minutes,set_by,days
1,Idris Vane,keeper,6,,,,,,
7,Ola Brandt,midfielder,8,0.82,reduced,no defending+no tackles,40,M. Thorne (physio),tue+thu
9,Bo Sallow,forward,,,out,,,M. Thorne (physio),
"""
TOML = """
[[people]]
shirt = 7
name = "Ola Brandt"
position = "midfielder"
level = 8
pass_success = 0.82
status = "reduced"
limits = ["no defending", "no tackles"]
most_minutes = 40
set_by = "M. Thorne (physio)"
days = ["tue", "thu"]
"""
OLA = Person(
    7,
    "Ola Brandt",
    "midfielder",
    level=8.0,
    pass_success=0.82,
    status="reduced",
    limits=("no defending", "no tackles"),
    most_minutes=40.0,
    set_by="M. Thorne (physio)",
    days=("tue", "thu"),
)


def written(folder: Path, text: str, name: str = "squad.csv") -> Path:
    file = folder / name
    file.write_text(text, encoding="utf-8")
    return file


def test_a_csv_and_a_toml_say_the_same(tmp_path: Path):
    assert read_squad(written(tmp_path, CSV)).people[1] == OLA
    assert read_squad(written(tmp_path, TOML, "squad.toml")).people == (OLA,)
    semicolons = CSV.replace(",", ";").replace("0.82", "0,82")
    assert read_squad(written(tmp_path, semicolons, "s.csv")).people[1] == OLA


def test_who_is_there(tmp_path: Path):
    squad = read_squad(written(tmp_path, CSV))
    assert [person.shirt for person in squad.there("tue")] == [1, 7]
    assert [person.shirt for person in squad.there("mon")] == [1]
    assert [person.shirt for person in squad.there()] == [1, 7]
    assert [person.called for person in numbered(2).people] == ["1", "2"]


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("shirt,name\n7,A\n7,B\n", "line 3, shirt must be one person's .got 7, as in line 2."),
        ("shirt,status,set_by\n7,hamstring,M\n", "line 2, status must be full, reduced, out, and never why"),
        ("shirt,diagnosis\n7,x\n", "line 2, diagnosis is no key of it"),
        ("shirt,most_bouts\n7,3\n", "line 2, set_by must say who set"),
        ("shirt,limits,set_by\n7,no heading,M\n", "line 2, limits must be some of no defending, no tackles"),
        ("shirt,days\n7,tuesday\n", "line 2, days must be some of mon, tue"),
        ("shirt,level\n7,11\n", "line 2, level must be from 1 to 10 .got 11.0."),
        ("shirt,level\n7,good\n", 'line 2, level must be a number .got "good".'),
        ("shirt,position\n7,libero\n", "line 2, position must be one of keeper, defender"),
        ("shirt,population\n7,giants\n", "line 2, population must name a population"),
        ('shirt,most_bouts,set_by\n7,3,"M\nX"\n', "set_by must be 40 printable characters at most"),
        ("name\nA\n", "line 2, shirt must be given"),
        ("shirt,shirt\n7,8\n", "line 1 must name a column once"),
        ("shirt\n7,8\n", "line 2 must have 1 cells"),
        ("shirt\n", "must have a person at least"),
        ("", "must have a line of column names"),
    ],
)
def test_what_is_wrong_is_said(tmp_path: Path, text: str, rule: str):
    with pytest.raises(InputError, match=rule):
        read_squad(written(tmp_path, text))


def test_what_is_no_file_is_said(tmp_path: Path):
    with pytest.raises(InputError, match="must be a file that can be read"):
        read_squad(tmp_path / "none.csv")
    with pytest.raises(InputError, match="people must be tables"):
        read_squad(written(tmp_path, "people = 3\n", "squad.toml"))
