"""The sheet of one grid of an evening: names in place of blanks, limits with who set them, the heat with who approved it."""

from __future__ import annotations

from dataclasses import replace

from sim.experiments.cautions import LINE
from sim.planning.heat import Heat, Rule
from sim.planning.session import planned
from sim.report.session_sheets import sheet_for
from tests.support.evening import SHORT, SIX, evening

RULE = Rule(28.0, 0.7, 100.0, 90.0, 0.0, True, "R. Hale")


def test_names_limits_and_heat_stand_on_the_sheet():
    people = (replace(SIX[0], most_bouts=9, set_by="M. Thorne"), *SIX[1:])
    plan = planned(evening(SHORT, SHORT, people=people), people, Heat(29.0, RULE, "heat.csv"))
    assert [one.games[0].bouts.count for one in plan.line_ups] == [2, 2]
    sheet = sheet_for(plan, 1, 0, "0")
    assert sheet.title == "Tonight, after 7 min 20 s b2: Lose it and go in"
    sections = {one.heading: " ".join(one.lines) for one in sheet.sections}
    assert sections["Caps"] == "1 P1: nine bouts at most (M. Thorne)."
    who = sections["Who plays: number, name, shirt"]
    for spot in plan.line_ups[1].spots:
        number = plan.line_ups[1].games[0].players[spot.place].number
        assert f"{number} {spot.person.name} ({spot.person.shirt})" in who
    assert sheet.foot[0].startswith("29 WBGT: 70 % of the bouts") and sheet.foot[0].endswith("approved by R. Hale.")
    assert sheet.foot[-1] == LINE
    assert sheet_for(planned(evening(SHORT), SIX), 0, 0, "0").foot == (LINE,)
