"""Where an addendum begins in a document of the specification."""

from __future__ import annotations

import pytest

import reads
from darby.reading.addenda.wording.titles import parted, told_parts
from darby.rules.rule import HOUSE, REVISION, SPECIFICATION, addendum
from darby.text.spans import Source

SPEC = "Works at Tarn Bank\n\nWALLS\nTwo coats eggshell.\n\nCEILINGS\nOne coat flat.\n\n"


def layers(text: str) -> list[str]:
    return [layer.name for layer, _ in parted(Source("spec.txt", text), SPECIFICATION, reads.language().known)]


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("ADDENDUM NO. 1", "addendum 1"), ("Addendum 2 - 3 March 2026", "addendum 2"), ("ADDENDUM NUMBER THREE", "addendum 3"),
        ("Bulletin No. 4:", "addendum 4"), ("CHANGES AND CLARIFICATIONS", "revision"), ("Changes to the specification:", "revision"),
        ("LIST OF AMENDMENTS", "revision"), ("## Corrections", "revision"),
    ],
)  # fmt: skip
def test_a_title_on_a_line_of_its_own_begins_an_addendum(title: str, name: str) -> None:
    text = f"{SPEC}{title}\n\nLobby walls: three coats, not two coats.\n"
    source = Source("spec.txt", text)
    parts = parted(source, SPECIFICATION, reads.language().known)
    assert [layer.name for layer, _ in parts] == ["specification", name]
    assert parts[1][1] is not None
    assert parts[1][1].text.lstrip().startswith(title)
    (told,) = told_parts(parts, source, SPECIFICATION)
    assert told.code == "addendum-found"
    assert told.span is not None
    assert told.span.text == title


def test_a_document_that_is_titled_so_is_one_as_a_whole() -> None:
    assert layers("Tarn Bank\nADDENDUM NO. 2\n\nLobby walls: three coats.\n") == ["addendum 2"]


def test_several_addenda_below_one_specification_are_told_apart() -> None:
    both = f"{SPEC}ADDENDUM NO. 1\n\nWalls: three coats.\n\nADDENDUM NO. 2\n\nWalls: one coat.\n"
    assert layers(both) == ["specification", "addendum 1", "addendum 2"]
    assert REVISION < addendum(1) < addendum(2)
    assert REVISION > SPECIFICATION


@pytest.mark.parametrize(
    "text",
    [
        f"{SPEC}See Addendum No. 1 for the lobby.\n",
        f"{SPEC}Colors changed in ADDENDUM NO. 1\nare listed there.\n",
        f"{SPEC}Changes are charged for.\n",
        f"CHANGES\n\n{SPEC}",  # a list on top, with the specification below it
        f"{SPEC}ADDENDUM NO. 1\n\nSECTION 09 91 23\nPART 1 - GENERAL\n1.01 SCOPE\nPART 2 - PRODUCTS\n",
    ],
)
def test_what_is_no_title_parts_nothing(text: str) -> None:
    assert layers(text) == ["specification"]


def test_only_documents_of_the_specification_are_parted() -> None:
    text = f"{SPEC}ADDENDUM NO. 1\n\nWalls: three coats.\n"
    assert len(parted(Source("house.txt", text), HOUSE, reads.language().known)) == 1
