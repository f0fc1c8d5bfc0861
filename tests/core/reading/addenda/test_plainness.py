"""What denies, conditions or limits a change makes it a question; nothing is then said of anything."""

from __future__ import annotations

import pytest

import reads
from darby.reading.addenda.addenda import amend
from darby.reading.read import read
from darby.rules.rule import SPECIFICATION, addendum
from darby.text.diagnostics import Severity
from darby.text.spans import Source

SPEC = """\
SECTION 09 91 23
INTERIOR PAINTING
2.1 COLORS
  .1 PT-1: Moss. PT-2: Bone.
3.1 SCHEDULE
  .1 PT-1: one coat primer, two coats latex eggshell.
  .2 PT-2: one coat primer, one coat latex flat.
  .3 Walls PT-1; ceilings PT-2.
3.2 BOARD
  .1 Level 4 generally. Level 5 in Lobby.
  .2 Walls: 1/2 in. thick gypsum board, moisture resistant in Washrooms.
  .3 Screws at 12 in. on center on ceilings, 16 in. on center on walls.
"""


@pytest.mark.parametrize(
    "order",
    [
        '3.2.1: For Lobby, change "Level 4" to "Level 5".',
        '3.1.1: In Lobby, change "eggshell" to "satin".',
        '3.1.1: (Lobby only): change "eggshell" to "satin".',
        '3.1.1: Except in Stairs, change "eggshell" to "satin".',
        '3.1.1: change "eggshell" to "satin"; exclude Lobby.',
        '3.1.1: change "eggshell" to "satin". This applies to Lobby only.',
        "3.2.3: change 12 in. to 8 in. at walls.",
        '3.1.1: Do not change "eggshell" to "satin".',
        '3.1.1: Never change "eggshell" to "satin".',
        '3.1.1: If approved, change "eggshell" to "satin".',
        '3.1.1: Bidder asked to change "eggshell" to "satin". Response: rejected.',
    ],
)
def test_what_limits_denies_or_conditions_a_change_makes_it_a_question(order: str) -> None:
    language = reads.language()
    text = f"ADDENDUM 1\n\nSection 09 91 23, {order}\n"
    papers = [(Source("spec.txt", SPEC), SPECIFICATION), (Source("add-1.txt", text), addendum(1))]
    before = [read(source, layer, language) for source, layer in papers]
    readings, told = amend(before, language)
    assert not readings[-1].rules, [(r.kind.name, dict(r.scope), r.says()) for r in readings[-1].rules]
    assert [r.says() for r in readings[0].rules] == [r.says() for r in before[0].rules]
    assert [d for d in told if d.severity is Severity.QUESTION], told


def test_a_change_under_an_alternate_is_no_change_of_the_base() -> None:
    language = reads.language()
    text = (
        'ADDENDUM 1\n\nALTERNATE NO. 1: SMOOTHER WALLS\n  A. Section 09 91 23, 3.2.1: change "Level 4" to "Level 5".\n'
    )
    papers = [(Source("spec.txt", SPEC), SPECIFICATION), (Source("add-1.txt", text), addendum(1))]
    readings, _ = amend([read(source, layer, language) for source, layer in papers], language)
    assert sorted(r.says() for x in readings for r in x.rules if r.kind.name == "finish level") == ["4", "5"]


ROOMS = """\
SECTION 09 91 23
3.1 SYSTEMS
   A. PT-1: one coat primer, two coats eggshell.
   B. PT-3: one coat primer, two coats satin.
3.2 FINISH SCHEDULE

NO. | ROOM | WALLS
103 | Store | PT-1
104 | Staff Workroom | PT-1
"""


@pytest.mark.parametrize(
    ("order", "given", "coats"),
    [
        ('3.2: Room 104, Staff Workroom, walls: change "PT-1" to "PT-3".', ["PT-1", "PT-3"], [1, 2, 1, 2]),
        ('3.2: 104 Staff Workroom, walls: for "PT-1" read "PT-3".', ["PT-1", "PT-3"], [1, 2, 1, 2]),
        # another number than that of the row: which is meant is asked
        ('3.2: Room 105, Staff Workroom, walls: change "PT-1" to "PT-3".', ["PT-1", "PT-1"], [1, 2, 1, 2]),
        ('3.1: PT-3, for "two coats" read "three coats".', ["PT-1", "PT-1"], [1, 2, 1, 3]),
    ],
)
def test_a_change_in_one_row_is_carried_out_there_and_only_there(
    order: str, given: list[str], coats: list[int]
) -> None:
    language = reads.language()
    papers = [
        (Source("spec.txt", ROOMS), SPECIFICATION),
        (Source("add-1.txt", f"ADDENDUM 1\n\n1. {order}\n"), addendum(1)),
    ]
    readings, told = amend([read(source, layer, language) for source, layer in papers], language)
    rules = [rule for reading in readings for rule in reading.rules]
    assert sorted(rule.choice for rule in rules if rule.kind.name == "system") == given
    assert sorted(int(rule.amount.value) for rule in rules if rule.kind.name == "coats") == sorted(coats)
    carried_out = not any(d.severity is Severity.QUESTION for d in told)
    assert carried_out == (given != ["PT-1", "PT-1"] or 3 in coats)
