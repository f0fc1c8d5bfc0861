"""PDF files: pages, columns, pictures without text."""

from __future__ import annotations

from pathlib import Path

from darby.text.files import decode
from pages import pdf
from papers import rules_of, run


def test_pages_of_a_pdf_count_their_own_lines(tmp_path: Path) -> None:
    path = tmp_path / "s.pdf"
    path.write_bytes(
        pdf(
            [(72, 720, "2.2 SPREADING RATES"), (90, 708, "A. Primer: 300 sq ft per gallon.")],
            [(72, 720, "3.1 FASTENING"), (90, 708, "A. Screws on walls: 16 in. o.c.")],
        )
    )
    first, second = rules_of(path)
    assert (first["source"]["page"], first["source"]["line"]) == (1, 2)
    assert (second["source"]["page"], second["source"]["line"]) == (2, 4)
    assert second["source"]["text"] == "16 in. o.c."
    assert " 2:2 │" in run(path).stdout


def test_columns_of_a_pdf_stay_columns(tmp_path: Path) -> None:
    rows = [("Room", "Walls", "Ceilings"), ("Hall", "2 coats satin", "1 coat primer"), ("Lobby", "3 coats flat", "")]
    page = [(72 + 150 * c, 720 - 12 * r, text) for r, row in enumerate(rows) for c, text in enumerate(row) if text]
    path = tmp_path / "s.pdf"
    path.write_bytes(pdf(page))
    assert [(r["scope"]["room"], r["scope"]["surface"], r["amount"]["value"]) for r in rules_of(path)] == [
        ("hall", "wall", "2"), ("hall", "ceiling", "1"), ("lobby", "wall", "3"),
    ]  # fmt: skip


def test_a_sentence_that_turns_the_page_of_a_pdf_is_one_sentence(tmp_path: Path) -> None:
    path = tmp_path / "s.pdf"
    path.write_bytes(pdf([(72, 100, "A. Screws on walls shall be spaced 12")], [(72, 720, "inches on center.")]))
    (rule,) = rules_of(path)
    assert (rule["kind"], rule["source"]["page"]) == ("spacing", 1)


def test_a_pdf_of_pictures_says_that_it_has_no_text() -> None:
    source, problems = decode(pdf([]), "scan.pdf")
    assert source is None
    assert problems[0].code == "file-no-text"
    assert "pictures" in problems[0].message


def test_a_page_without_text_is_named() -> None:
    source, notes = decode(pdf([(72, 720, "Two coats")], []), "s.pdf")
    assert source is not None
    assert [n.message for n in notes] == ["s.pdf: page 2 holds no text and may be a picture."]


def test_problems_in_a_pdf_are_placed_by_page(tmp_path: Path) -> None:
    path = tmp_path / "s.pdf"
    path.write_bytes(pdf([(72, 700, "Notes")], [(72, 720, "Walls: either 2 or 3 coats of primer.")]))
    shown = run(path).stdout
    assert "s.pdf,page2,line1" in "".join(shown.split())  # a long path wraps
