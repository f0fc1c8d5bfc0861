"""How paragraphs and items are named."""

from __future__ import annotations

import pytest

from darby.reading.addenda.wording.paragraph_names import begins_with, path_named, pieces
from darby.reading.layout.clause import Clause
from darby.text.spans import Source, View


@pytest.mark.parametrize(
    ("ref", "path"),
    [("3.02.C", "3 2 C"), ("3.2 c", "3 2 C"), ("2.3B", "2 3 B"), ("3.02.C.1.a", "3 2 C 1 a"), ("3.2(B)(4)", "3 2 B 4"),
     ("3.2.1", "3 2 1")],
)  # fmt: skip
def test_a_paragraph_is_known_however_it_is_written(ref: str, path: str) -> None:
    assert path_named(ref) == tuple(path.split())


@pytest.mark.parametrize(
    ("text", "item", "is_it"),
    [
        ("Item 2 Extra over", "2", True), ("Item 21 Extra over", "2", False), ("F1 | Walls: two coats.", "F1", True),
        ("f1 walls", "F1", True), ("F10 walls", "F1", False), ("2.1 Walls", "2", False), ("Walls of item 2", "2", False),
    ],
)  # fmt: skip
def test_an_item_begins_with_its_number_or_letter(text: str, item: str, is_it: bool) -> None:
    assert begins_with(Clause(View.of(Source("s.txt", text))), item) is is_it


SPLIT = {
    "Delete 3.02.B. Change 12 to 8.": ["Delete 3.02.B.", "Change 12 to 8."],
    'Add "one. Two" to 3.02.B.': ['Add "one. Two" to 3.02.B.'],
    "Delete 3.02.A; delete 3.02.B.": ["Delete 3.02.A", ";", "delete 3.02.B."],
    "Delete paragraph 3.02.A and delete paragraph 3.02.B.": [
        "Delete paragraph 3.02.A",
        "and",
        "delete paragraph 3.02.B.",
    ],
    "Change 12 to 8 and in 3.02.B change 7 to 6.": ["Change 12 to 8", "and", "in 3.02.B change 7 to 6."],
    "In 3.02.A and in 3.02.B change 12 to 8.": ["In 3.02.A and in 3.02.B change 12 to 8."],
    "Change 12 to 8 and delete the second coat.": ["Change 12 to 8 and delete the second coat."],
}


@pytest.mark.parametrize("text", SPLIT)
def test_a_sentence_ends_where_another_paragraph_is_told_of(text: str) -> None:
    ends = list(pieces(text))
    assert [text[at:end].strip() for at, end in zip([0, *ends], ends, strict=False)] == SPLIT[text]
