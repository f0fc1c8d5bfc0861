"""Exceptions among words: the places that are taken out of what a line is about."""

from __future__ import annotations

import pytest

from darby.reading.parsing.exceptions import unexcepted
from darby.reading.parsing.tagging.tag import Tag
from reads import read_text


@pytest.mark.parametrize(
    ("names", "kept"),
    [
        ("surface EXCEPT room AND room COLON", "surface COLON"),
        ("EXCEPT room COLON", "EXCEPT room COLON"),
        ("surface EXCEPT surface EITHER where subject", "surface subject"),
        ("subject EXCEPT room", "subject"),
        ("surface PLACE_BEHIND surface COLON", "surface COLON"),
        ("PLACE_BEHIND surface NUMBER", "NUMBER"),
        ("sheen EXCEPT room NUMBER room", "sheen NUMBER room"),
        ("COLON EXCEPT room", "COLON EXCEPT room"),
        ("surface room", "surface room"),
    ],
)
def test_what_an_exception_names_is_left_out(names: str, kept: str) -> None:
    tags = [Tag(n, n + 1, name) for n, name in enumerate(names.split())]
    assert [t.name for t in unexcepted(tags)] == kept.split()


@pytest.mark.parametrize(
    ("heading", "out"),
    [
        ("EXCLUSIONS", True),
        ("6. Excluded", True),
        ("Our price does not include:", True),
        ("Inclusions and exclusions", False),
        ("EXCLUSION ZONE WALLS", False),
        ("INCLUDED", False),
        ("WALLS", False),
    ],
)
def test_below_a_heading_of_what_is_left_out_nothing_is_a_rule(heading: str, out: bool) -> None:
    text = f"OFFER FOR THE PARISH HALL\n\n1. WORK\n   Walls: two coats matt.\n\n{heading}\n   - Doors: two coats gloss\n   - Ceilings: one coat matt\n\n7. RATES\nPrimer: 10 m2/L."
    kinds = [rule.kind.name for rule in read_text(text).rules]
    assert kinds == ["coats", *([] if out else ["coats", "coats"]), "coverage"]


def test_behind_a_label_of_what_is_left_out_nothing_is_a_rule() -> None:
    rules = read_text(
        "Board: 5/8 in. on walls.\n\nExclusions: epoxy floor, 2 coats; two coats gloss on doors.\nPrimer: 10 m2/L."
    ).rules
    assert [rule.kind.name for rule in rules] == ["thickness", "coverage"]


@pytest.mark.parametrize(
    "by", ["by the cold store contractor", "by the tiler", "by a kitchen supplier", "by the tenant's shopfitter"]
)
def test_who_does_work_of_others_is_asked_about(by: str) -> None:
    reading = read_text(f"Foyer walls two coats eggshell {by}.")
    assert not reading.rules
    assert any("work of a trade" in d.message for d in reading.diagnostics)


@pytest.mark.parametrize(
    "by", ["by the painting contractor", "by the contractor", "by an approved applicator", "by hand"]
)
def test_who_does_our_own_work_is_nobody_else(by: str) -> None:
    assert len(read_text(f"Foyer walls two coats eggshell {by}.").rules) == 1
