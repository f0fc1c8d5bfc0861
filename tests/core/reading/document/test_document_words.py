"""The words that one document makes known for all its clauses; in a line that must be understood whole it makes none."""

from __future__ import annotations

from darby.reading.document.document_words import DocumentWords
from darby.text.spans import Source, View
from laid import layout
from reads import language

TEXT = "PT-1: two coats satin finish paint.\n\nOffices: walls PT-1.\n"


def words(strict: bool) -> tuple[DocumentWords, list[View]]:
    found = DocumentWords(language().lexicon, strict)
    clauses = layout(TEXT).clauses
    found.learn(clauses)
    return found, [clause.view for clause in clauses]


def test_a_mark_of_one_clause_is_known_in_another() -> None:
    known, views = words(strict=False)
    marks = [[t.value for t in known.tags(view) if t.name == "mark"] for view in views if "PT-1" in view.text]
    assert marks == [["PT-1"], ["PT-1"]]
    assert known.systems.subjects == {"PT-1": "finish paint"}


def test_where_all_must_be_understood_nothing_is_made_known() -> None:
    known, views = words(strict=True)
    assert known.systems.subjects == {}
    assert not [t for view in views for t in known.tags(view) if t.name == "mark"]


def test_the_tags_of_a_view_are_found_once() -> None:
    known = DocumentWords(language().lexicon)
    view = View.of(Source("s.txt", "Walls: two coats."))
    assert known.tags(view) is known.tags(view)
