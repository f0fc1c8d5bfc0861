"""What an addendum tells to do: which paragraph each sentence names, what it takes away and what it puts in."""

from __future__ import annotations

from time import process_time

import pytest

from darby.reading.addenda.instructions import (
    Instruction,
    instructions,
)
from darby.reading.addenda.wording.paragraph_names import stands
from darby.reading.layout.segmenter import clauses
from darby.text.spans import Source, View


def told(text: str) -> list[Instruction]:
    source = Source("a.txt", text)
    return list(instructions(stands(source, clauses(View.of(source), str)), len(text)))


def brief(text: str) -> list[tuple[str, str, str]]:
    """What to do, in which section, in which paragraph."""
    return [(one.what, one.section, ".".join(one.path)) for one in told(text)]


HEAD = "SECTION 09 29 00\n\n"
ONE = {
    "Delete paragraph 3.02.B.": ("delete", "3.2.B"),
    "Paragraph 3.2 B is deleted in its entirety.": ("delete", "3.2.B"),
    "Paragraph 3.02(B): delete this paragraph.": ("delete", "3.2.B"),
    "Article 3.02: Not used.": ("delete", "3.2"),
    "In paragraph 3.02.A change 12 to 8.": ("change", "3.2.A"),
    "In paragraph 3.02.A delete 12 and insert 8.": ("change", "3.2.A"),
    "Paragraph 3.02.A: delete the second coat.": ("delete words", "3.2.A"),
    "Paragraph 2.01.A now reads: Primer: 250 sq ft per gallon.": ("replace", "2.1.A"),
    "Delete paragraph 2.01.A and substitute the following: Primer.": ("replace", "2.1.A"),
    "Replace paragraph 2.01.A with the following: Primer.": ("replace", "2.1.A"),
}


@pytest.mark.parametrize("line", ONE)
def test_a_sentence_tells_one_thing_of_one_paragraph(line: str) -> None:
    what, path = ONE[line]
    assert brief(HEAD + line) == [(what, "092900", path)]


@pytest.mark.parametrize(
    ("line", "old", "new"),
    [
        ("change 12 inches to 8 inches", "12 inches", "8 inches"),
        ('change "12" to "8"', "12", "8"),
        ("revise 12 to read 8", "12", "8"),
        ("replace 12 with 8", "12", "8"),
        ("substitute 8 for 12", "12", "8"),
        ("in lieu of 12 provide 8", "12", "8"),
        ("for 12 read 8", "12", "8"),
        ("12 inches is changed to 8 inches", "12 inches", "8 inches"),
        ("change the spacing from 12 inches to 8 inches", "12 inches", "8 inches"),
    ],
)
def test_the_old_and_the_new_are_told_apart_however_it_is_put(line: str, old: str, new: str) -> None:
    (one,) = told(f"{HEAD}In paragraph 3.02.A {line}.")
    assert one.old is not None
    assert one.new is not None
    assert (one.old.text, one.new.text) == (old, new)


def test_several_paragraphs_named_in_one_breath_are_as_many() -> None:
    text = f"{HEAD}Delete paragraphs 3.02.A, 3.02.B and 3.02.C.2."
    assert brief(text) == [("delete", "092900", path) for path in ("3.2.A", "3.2.B", "3.2.C.2")]


def test_a_section_goes_by_its_own_number_and_a_run_says_that_it_is_one() -> None:
    assert brief("Delete Section 09 91 23 in its entirety.") == [("delete", "099123", "")]
    assert [one.through for one in told(f"{HEAD}Delete paragraphs 3.02.A through C.")] == [True]
    assert [one.through for one in told(f"{HEAD}Delete paragraph 3.02.A.")] == [False]


def test_what_stands_below_a_heading_that_names_a_paragraph_is_said_of_it() -> None:
    text = f"{HEAD}1. Paragraph 3.02.A:\n   a. Change 12 to 8.\n2. Paragraph 3.02.B:\n   a. Change 16 to 12.\n"
    assert brief(text) == [("change", "092900", "3.2.A"), ("change", "092900", "3.2.B")]


def test_words_of_a_new_text_tell_nothing_and_it_ends_at_the_next_item() -> None:
    text = f'{HEAD}1. Paragraph 2.01.A now reads:\n   "Delete 2 of 3."\n2. Delete paragraph 3.02.B.\n'
    assert brief(text) == [("replace", "092900", "2.1.A"), ("delete", "092900", "3.2.B")]
    low, high = told(text)[0].region
    assert "Delete 2 of 3." in text[low:high]
    assert "3.02.B" not in text[low:high]
    assert brief(f"{HEAD}Add paragraph 3.01.B: Delete loose dust.") == []


def test_a_clause_stands_in_the_section_that_was_headed_last_or_that_its_file_is_named_for() -> None:
    def sections(name: str, text: str) -> list[tuple[str, str]]:
        source = Source(name, text)
        found = stands(source, clauses(View.of(source), str))
        return [(one.section, ".".join(one.path)) for one in found if one.path]

    text = "SECTION 09 29 00\nBOARD\n\n3.02 FASTENING\n  A. Screws.\n"
    assert sections("a.txt", text) == [("092900", "3.2"), ("092900", "3.2.A")]
    bare = "3.02 FASTENING\n  A. Screws.\n"
    assert sections("specs/09-29-00 board.txt", bare) == [("092900", "3.2"), ("092900", "3.2.A")]
    assert sections("a.txt", bare) == [("", "3.2"), ("", "3.2.A")]


@pytest.mark.parametrize(
    "piece", ["change ", "delete 3.02.A, ", "12 to ", '"', "paragraph 3.02.A: change 12 to 8. ", "3.02."]
)
def test_hostile_addenda_take_no_longer_than_their_length(piece: str) -> None:
    def seconds(size: int) -> float:
        layout = clauses(
            View.of(Source("a.txt", "Section 09 29 00 paragraph 3.02.A " + piece * (size // len(piece)))), str
        )
        began = process_time()
        for _ in instructions(stands(Source("a.txt", ""), layout), size):
            pass
        return process_time() - began

    small, large = (min(seconds(size) for _ in range(3)) for size in (10_000, 40_000))
    assert large < 10 * max(small, 0.01)
