"""What a rule was found by: codes alone decide, words only tell, and the guide lists every one."""

from __future__ import annotations

import pytest

from binding_table import BEGIN, END, GUIDE, table
from checkout import ROOT
from darby.documents import words
from darby.documents.words import FOUND_BY, found_words
from darby.reading.read import Reading
from darby.rules.found_by import FoundBy, at, code_of
from phrase_cases import phrases
from reads import read_anew, read_text


def found(reading: Reading) -> set[str]:
    return {code_of(how) for rule in reading.rules for _, how in rule.bound_by}


def test_every_code_has_words_and_the_guide_lists_them() -> None:
    assert set(FOUND_BY) == set(FoundBy)
    assert GUIDE.read_text(encoding="utf-8").partition(BEGIN)[2].partition(END)[0] == table()


def test_the_reader_gives_codes_and_no_words() -> None:
    texts = [case["text"] for case in phrases().values()]
    some = [text for n, text in enumerate(texts) if n % 7 == 0 or "|" in text]
    given = set().union(*(found(read_text(text)) for text in some))
    assert given <= set(FoundBy)
    assert {"phrase", "label", "behind", "column"} <= given


def test_no_module_of_the_reader_looks_at_words_for_what_was_found() -> None:
    said = {f'"{told}"' for told, _ in FOUND_BY.values()}
    for path in (ROOT / "core" / "darby" / "reading").rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        assert not [one for one in said if one in text], path.name


def test_other_words_change_no_rule(monkeypatch: pytest.MonkeyPatch) -> None:
    texts = [case["text"] for case in list(phrases().values())[::9]]
    before = [[(r.kind.name, r.subject, r.scope, r.answer) for r in read_text(text).rules] for text in texts]
    monkeypatch.setattr(words, "FOUND_BY", {code: (f"x{code}", "") for code in FoundBy})
    after = [[(r.kind.name, r.subject, r.scope, r.answer) for r in read_anew(text).rules] for text in texts]
    assert before == after


def test_a_code_is_told_with_the_text_it_stood_in() -> None:
    assert found_words(at(FoundBy.HEADING, "SEALER")) == "the heading “SEALER”"
    assert found_words(FoundBy.LABEL) == "the label"
    assert found_words("addendum 1, where it was 2") == "addendum 1, where it was 2"
