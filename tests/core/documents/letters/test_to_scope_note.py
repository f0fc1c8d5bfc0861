"""What is in the bid, what documents and job leave out, and what was assumed; nothing of how the firm works."""

from __future__ import annotations

from attrs import evolve

import handed
import made
from darby.job.model import Sending
from darby.rules.rule import SPECIFICATION
from darby.text.spans import Source
from desk import estimated

PARTS = [
    "Documents", "Included", "Excluded", "Alternates, not included", "Allowances", "Assumed", "Clarifications asked", "Validity",
    "Cautions",
]  # fmt: skip


def part(text: str, title: str) -> str:
    """What stands under a heading, on one line."""
    return " ".join(text.partition(f"\n{title}\n---")[2].partition("\n\n\n")[0].split())


def test_the_scope_note_has_its_parts_in_order() -> None:
    text = handed.text("scope")
    assert sorted(PARTS, key=lambda p: text.index(f"\n{p}\n---")) == PARTS
    for one in handed.demo_json()["items"]:
        assert one["product"] in part(text, "Included")
    assert "addendum-1.txt" in part(text, "Documents")
    for caution in handed.demo_json()["cautions"]:
        assert caution["topic"].lower() in part(text, "Cautions").lower()


def test_only_what_documents_and_job_leave_out_is_excluded() -> None:
    out = part(handed.text("scope"), "Excluded")
    assert "“The pilings, the pier deck and everything beyond Grid 7 are by others”" in out
    for word in ("Level 4", "Weight", "could not be read", "no line here"):
        assert word not in out
    job = evolve(made.estimate().job, sending=Sending(excluded=("Work above 14 ft.",)))
    assert "Work above 14 ft." in part(handed.text("scope", made.estimate(job=job)), "Excluded")


def test_no_rate_or_waste_of_the_firm_is_told() -> None:
    demo = handed.demo()
    text = handed.text("scope")
    own = [
        a.answer.rule for a in demo.assumptions if a.answer.rule.kind.known_to != "specifier" and a.answer.rule.amount
    ]
    assert own
    for rule in own:
        assert rule.says().replace(" per 1 ", " per ") not in part(text, "Assumed")
    assert "2 coats of finish paint on the ceilings; the documents do not say" in part(text, "Assumed")


ROOM = """[[rooms]]
name = "{}"
length = "10 ft"
width = "10 ft"
height = "8 ft"
board = "two layers"
"""
CEILINGS = """ROOM FINISH SCHEDULE
Room       Walls                      Ceiling
Oar loft   One coat primer, two coats satin   ACT-1
Sail room  One coat primer, two coats satin   ACT-1
"""


def test_what_other_goods_take_the_place_of_is_told_once_with_its_rooms() -> None:
    out = part(
        handed.text("scope", estimated(ROOM.format("Oar loft") + ROOM.format("Sail room"), CEILINGS)), "Excluded"
    )
    assert (
        "Gypsum board, finish paint and primer on ceilings in oar loft and sail room: “ACT-1” there (spec.txt)" in out
    )
    assert out.count("ACT-1") == 1


def test_what_takes_the_place_of_goods_in_no_named_room_is_quoted() -> None:
    said = "Walls: one coat primer, two coats satin.\nAll other ceilings: acoustic tile, not in this section.\n"
    out = part(handed.text("scope", estimated(ROOM.format("Oar loft"), said)), "Excluded")
    assert "(spec.txt, line 2)" in out or "spec.txt, line 2: “All other ceilings: acoustic tile" in out
    assert "on ceilings:" not in out


def test_what_a_sentence_leaves_undone_is_quoted_as_it_stands() -> None:
    said = "Walls and ceilings: one coat primer, two coats satin.\nDo not paint the oar loft.\n"
    out = part(handed.text("scope", estimated(ROOM.format("Oar loft") + ROOM.format("Sail room"), said)), "Excluded")
    assert "Finish paint and primer: spec.txt, line 2: “Do not paint the oar loft”" in out
    assert "omitted" not in out


def test_surfaces_that_no_document_speaks_of_are_told() -> None:
    said = "Walls: one coat primer, two coats satin.\n"
    out = part(handed.text("scope", estimated(ROOM.format("Oar loft"), said)), "Excluded")
    assert "No document speaks of primer and finish paint on ceilings" in out
    assert "- :" not in out


def test_goods_are_described_as_on_the_order_list_and_spare_stock_stands_apart() -> None:
    said = "Walls: one coat primer, two coats satin.\nLeave 1 gallon of each color of finish paint with the owner.\n"
    included = part(handed.text("scope", estimated(ROOM.format("Oar loft"), said)), "Included")
    assert "- finish paint: satin - " in included
    assert "- spare stock, finish paint: satin" in included


def test_what_a_row_of_the_job_says_is_no_assumption_and_a_line_of_ones_own_is() -> None:
    rows = ROOM.format("Oar loft")
    assert "2 layers" not in part(handed.text("scope", estimated(rows)), "Assumed")
    own = estimated(f'rules = ["Gypsum board: two layers."]\n{rows}')
    assert "2 layers of gypsum board" in part(handed.text("scope", own), "Assumed")


def noted(text: str) -> str:
    return handed.text("scope", made.estimate(papers=((Source("notes.txt", text), SPECIFICATION),)))


def test_alternates_and_allowances_are_quoted_and_not_included() -> None:
    text = noted("A. Alternate No. 1: Line the loft as well.\nB. Include an allowance of 200 sq ft of patching.\n")
    assert "A (notes.txt, line 1): “Alternate No. 1: Line the loft as well”" in part(text, "Alternates, not included")
    assert "B (notes.txt, line 2): “Include an allowance of 200 sq ft of patching”" in part(text, "Allowances")


def test_a_document_is_told_with_its_date_and_revision() -> None:
    told = part(noted("NOTES\nMarch 4, 2026   Revision B\n"), "Documents")
    assert "notes.txt specification March 4, 2026 Revision B" in told
    assert "notes.txt specification none given none given" in part(noted("NOTES\n"), "Documents")


def test_what_a_reading_to_confirm_leaves_out_is_told_as_not_settled() -> None:
    for said, told in (
        (CEILINGS, "“ACT-1” there (spec.txt); to be confirmed"),
        ("Walls: two coats satin.\nDo not paint the oar loft.\n", "“Do not paint the oar loft”; to be confirmed"),
    ):
        done = estimated(ROOM.format("Oar loft") + ROOM.format("Sail room"), said)
        assert "to be confirmed" not in part(handed.text("scope", done), "Excluded")
        doubtful = [evolve(one, confirm="why") if one.kind.name == "replaced" else one for one in done.rules]
        assert told in part(handed.text("scope", evolve(done, rules=tuple(doubtful))), "Excluded")


def test_doors_are_told_by_the_piece_and_trim_by_its_length() -> None:
    rows = '[[doors]]\nname = "flush"\nwidth = "3 ft"\nheight = "7 ft"\ncount = 4\n[[trim]]\nname = "base"\nlength = "60 ft"\nwidth = "6 in"\n'  # fmt: skip
    included = part(handed.text("scope", estimated(rows, "Doors and trim: two coats gloss.\n")), "Measured")
    assert "- Doors: 4, 168 sq ft over all faces" in included
    assert "- Trim: 60 ft, 30 sq ft over all faces" in included


def test_an_assumption_says_where_it_is_made() -> None:
    said = "PT-1: One coat primer, two coats satin.\n\nROOM        WALLS   CEILING\nOar loft    PT-1    PT-1\nSail room   PT-9    PT-1\n"
    done = estimated(ROOM.format("Oar loft") + ROOM.format("Sail room"), said)
    assumed = part(handed.text("scope", done), "Assumed")
    assert "- 2 coats of finish paint on the walls in Sail room; the documents do not say" in assumed


def test_the_work_of_another_contractor_is_excluded_without_the_title_above_it() -> None:
    text = noted("3.1  FRAMES\n     Steel frames, by the shopfront contractor, are in place.\n")
    assert "3.1 (notes.txt, line 2): “Steel frames, by the shopfront contractor, are in place”" in part(
        text, "Excluded"
    )
