"""What is beside an answer gives way, the first last; answer, advice and cautions never do."""

from __future__ import annotations

from sim.words.screen import fit_screen

BESIDE = [f"Beside {n}." for n in range(1, 7)]
CAUTIONS = [f"Caution {n}." for n in range(1, 6)]


def test_at_most_four_beside_and_fewer_where_room_is_short():
    wide = fit_screen("Asked.", ["Answer."], BESIDE, ["Do."], CAUTIONS[:1])
    assert [line for line in BESIDE if f"  {line}\n" in wide] == BESIDE[:4]
    tight = fit_screen("Asked.", ["Answer."] * 3, BESIDE, ["Do."] * 3, CAUTIONS)
    assert [line for line in BESIDE if f"  {line}\n" in tight] == BESIDE[:2]
    assert len(tight.splitlines()) == 14 and all(line in tight for line in CAUTIONS)


def test_where_even_that_is_too_much_sentences_follow_each_other_and_then_it_grows():
    answer = ["Answer one.", "Answer two.", "Answer three."]
    many = [f"Caution {n}." for n in range(8)]
    flowing = fit_screen("Asked.", answer, BESIDE, ["Do."] * 3, many, flowing=True)
    assert "Answer one. Answer two. Answer three.\n  Beside 1.\nDo." in flowing and len(flowing.splitlines()) == 14
    grown = fit_screen("Asked.", answer, BESIDE, ["Do."] * 3, many)
    assert len(grown.splitlines()) == 15 and all(line in grown for line in (*answer, *many))
