"""Files from outside are opened by a child with limits first."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import docx
import pytest

import pages
from darby.desk.files.folder import LARGEST, RefusedError
from darby.desk.files.uploads import looked_over
from desks import HOME, Visitor, loft

HEADS = {"origin": HOME, "sec-fetch-site": "same-origin", "x-panes": "1"}


def word(text: str) -> bytes:
    made = docx.Document()
    made.add_paragraph(text)
    held = io.BytesIO()
    made.save(held)
    return held.getvalue()


@pytest.mark.parametrize(
    ("name", "data"),
    [
        ("a.txt", b"Walls: two coats."),
        ("a.pdf", pages.pdf([(72, 700, "Walls: two coats.")])),
        ("a.docx", word("Walls: two coats.")),
    ],
)
def test_what_the_reader_opens_is_taken(name: str, data: bytes) -> None:
    looked_over(data, name)


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "empty"), (b"\x89PNG\r\n\x1a\n" + b"x" * 50, "picture"), (b"PK\x03\x04" + b"\0" * 100, "zip"),
        (b"%PDF-1.4\nbroken", "PDF"), (b"\0" * 500, "text"),
    ],
)  # fmt: skip
def test_what_it_cannot_open_is_refused_with_the_reason(data: bytes, why: str) -> None:
    with pytest.raises(RefusedError, match=why):
        looked_over(data, "sent")


def test_a_file_that_is_too_large_is_not_even_opened() -> None:
    with pytest.raises(RefusedError, match="larger"):
        looked_over(b"x" * (LARGEST + 1), "large.txt")


def test_a_file_that_unpacks_without_end_is_refused() -> None:
    """A word processor file of a few hundred kB that holds far more than it may."""
    held = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(word("x"))) as good, zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as bad:
        for part in good.infolist():
            if part.filename != "word/document.xml":
                bad.writestr(part, good.read(part))
        with bad.open("word/document.xml", "w") as file:
            for _ in range(400):
                file.write(b" " * 1_000_000)
    assert len(held.getvalue()) < LARGEST
    with pytest.raises(RefusedError):
        looked_over(held.getvalue(), "bomb.docx", memory=600_000_000)


def test_a_file_sent_through_the_page_becomes_a_document(tmp_path: Path) -> None:
    visitor = Visitor(loft(tmp_path))
    fields = {"key": visitor.keys.form, "role": "addenda"}
    sent = {"file": ("..\\..\\Addendum <1>.docx", word("Walls: three coats eggshell."))}
    answer = visitor.ask("POST", "/upload", data=fields, files=sent, headers=HEADS)
    assert not answer.json()["refused"], answer.text
    assert visitor.bench.files()[1] == ("Addendum 1.docx", "addenda")
    refused = visitor.ask(
        "POST", "/upload", data=fields, files={"file": ("x.png", b"\x89PNG" + b"x" * 60)}, headers=HEADS
    )
    assert refused.json()["refused"]
    assert not list(tmp_path.glob("*.png"))


def test_opening_takes_no_longer_than_it_may() -> None:
    with pytest.raises(RefusedError, match="longer"):
        looked_over(b"Walls: two coats.", "slow.txt", seconds=0)
