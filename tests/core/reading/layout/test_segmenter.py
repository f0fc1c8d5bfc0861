"""A document is taken apart into clauses, each of which knows what it stands under."""

from __future__ import annotations

from darby.reading.layout.clause import Clause, Layout
from darby.reading.layout.normalize import mend
from darby.reading.layout.segmenter import clauses
from darby.text.spans import Source
from reads import language


def layout(text: str) -> Layout:
    return clauses(mend(Source("s.txt", text), language().known), language().known)


def texts(text: str) -> list[str]:
    return [c.text for c in layout(text).clauses]


def under(clause: Clause) -> list[str]:
    return [p.text for p in clause.parents]


def clause(text: str, begins: str) -> Clause:
    return next(c for c in layout(text).clauses if c.text.startswith(begins))


THREE_PART = """SECTION 09 91 23
INTERIOR PAINTING

PART 3 - EXECUTION

3.1 PRIMER
    A. Walls:
        1. One coat.
    B. Ceilings: one coat.

3.2 FINISH PAINT
    A. Two coats.
"""


def test_a_paragraph_stands_under_its_article_and_its_part() -> None:
    found = clause(THREE_PART, "One coat")
    assert under(found)[:3] == ["Walls:", "PRIMER", "EXECUTION"]
    assert found.label == "1."
    assert under(clause(THREE_PART, "Two coats"))[:2] == ["FINISH PAINT", "EXECUTION"]
    assert "Walls:" not in under(clause(THREE_PART, "Ceilings"))


def test_decimal_numbers_alone_make_the_same_tree() -> None:
    text = "2 MATERIALS\n2.1 Primer\n2.1.1 Walls: one coat.\n2.2 Board\n2.2.1 Ceilings.\n"
    assert "Primer" in under(clause(text, "Walls"))
    assert "Primer" not in under(clause(text, "Ceilings"))
    assert "Board" in under(clause(text, "Ceilings"))


def test_hash_headings_nest_by_their_depth() -> None:
    text = "# Paint\n\n## Walls\n\nTwo coats.\n\n## Ceilings\n\nOne coat.\n"
    assert under(clause(text, "Two")) == ["Walls", "Paint"]
    assert under(clause(text, "One")) == ["Ceilings", "Paint"]


def test_a_hard_wrap_is_one_clause() -> None:
    assert texts("Space the screws on ceilings 12\ninches apart.\n") == [
        "Space the screws on ceilings 12 inches apart."
    ]


def test_a_split_word_is_joined_where_it_is_known_without_the_hyphen() -> None:
    assert texts("Apply two coats of finish paint to all ceil-\nings.\n")[0].endswith("to all ceilings.")


def test_a_compound_word_keeps_its_hyphen() -> None:
    assert "moisture-resistant" in texts("Line all of the bathroom walls with moisture-\nresistant board.\n")[0]


def test_a_blank_line_ends_a_clause() -> None:
    assert texts("Two coats of primer\n\non walls.\n")[0] == "Two coats of primer"


def test_a_lead_in_is_the_parent_of_its_first_item() -> None:
    text = "Screws:\n- Ceilings: 12 in. o.c.\n"
    found = clause(text, "Ceilings")
    assert under(found)[0] == "Screws:"
    assert found.parents[0].leads_in


def test_a_page_number_and_a_running_title_say_nothing() -> None:
    found = layout("Walls: one coat.\n\n- 7 -\n\nCeilings: one coat.\nProject 4411    page 8 of 20\n")
    assert [a.why for a in found.apart] == ["a page header or footer"] * 2
    assert [c.text for c in found.clauses] == ["Walls: one coat.", "Ceilings: one coat."]


def test_a_note_to_the_writer_between_asterisks_says_nothing() -> None:
    stars = "*" * 30
    found = layout(f"Walls: one coat.\n{stars}\nChoose 2 coats for schools.\n{stars}\nCeilings: one coat.\n")
    assert "a note to the writer of the specification" in [a.why for a in found.apart]
    assert not any("schools" in c.text for c in found.clauses)


def test_a_number_that_ends_a_wrapped_sentence_is_no_label() -> None:
    assert any(
        "12. apart" in t or "at 12." in t
        for t in texts("Set every one of the screws along the edges at\n12. apart they hold less.\n")
    )


def test_every_clause_points_at_its_own_lines() -> None:
    found = layout(THREE_PART)
    for one in (c for c in found.clauses if c.text):
        assert one.view.whole.text.split()[0] == one.text.split()[0]
        assert one.view.whole.source.text == THREE_PART


def test_hostile_nesting_is_kept_shallow() -> None:
    deep = "\n".join(f"{'  ' * n}- level" for n in range(200))
    assert max(len(c.parents) for c in layout(deep).clauses) <= 14


def test_names_over_the_same_label_are_headings_and_words_that_a_line_goes_on_with_are_none() -> None:
    rows = "Finishes\n\nLoft\nWalls - two coats flat\nCeiling - one coat of primer and two coats of the flat paint\nStore\nWalls - one coat"
    made = layout(rows).clauses
    assert [c.text for c in made if c.heading] == ["Finishes", "Loft", "Store"]
    assert [p.text for p in made[-1].parents] == ["Store", "Finishes"]
    wrapped = "Walls: two coats of flat paint over one coat of primer in the North\nTower\nDoors: two coats gloss"
    assert "North Tower" in texts(wrapped)[0]
