"""Word processor files: paragraphs, list numbers, tables, tracked changes."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import docx
from docx.oxml import parse_xml
from docx.oxml.ns import nsdecls

from darby.text.files import decode
from papers import made, rules_of, run, words


def text_in(data: bytes) -> str:
    source, _ = decode(data, "s.docx")
    assert source is not None
    return source.text


def boxes(deep: int) -> bytes:
    """A document of text boxes within text boxes."""
    inner = "<w:p><w:r><w:t>the innermost</w:t></w:r></w:p>"
    for number in range(deep):
        inner = f"<w:p><w:r><w:t>box {number}</w:t><w:txbxContent>{inner}</w:txbxContent></w:r></w:p>"
    document = docx.Document()
    body = document.element.body
    body.insert(0, parse_xml(inner.replace("<w:p>", f"<w:p {nsdecls('w')}>", 1)))
    return made(document)


def test_text_boxes_within_text_boxes_are_read_once_each() -> None:
    text = text_in(boxes(40))  # twice as many with each would be a million million
    assert text.count("the innermost") == 1
    assert [line for line in text.split("\n") if line] == [*(f"box {n}" for n in reversed(range(40))), "the innermost"]


def test_text_that_unpacks_to_more_than_any_has_is_refused() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as parts:
        parts.writestr("word/document.xml", bytes(61_000_000))
    source, (told,) = decode(out.getvalue(), "s.docx")
    assert source is None
    assert "its text unpacks to more than 60 MB" in told.message


def test_each_paragraph_stands_alone_and_is_counted() -> None:
    source, notes = decode(words("One coat of the long sentence that nobody wrapped", "", "Second"), "s.docx")
    assert source is not None
    assert not notes
    assert source.unit == "paragraph"
    assert source.text == "One coat of the long sentence that nobody wrapped\n\nSecond\n"
    assert source.span(source.text.index("Second"), len(source.text)).where == "paragraph 2"


def test_list_numbers_that_the_program_shows_are_part_of_the_text() -> None:
    levels = "".join(
        f'<w:lvl w:ilvl="{n}"><w:start w:val="1"/><w:numFmt w:val="{form}"/><w:lvlText w:val="{text}"/></w:lvl>'
        for n, (form, text) in enumerate(
            [("decimal", "PART %1 -"), ("decimalZero", "%1.%2"), ("upperLetter", "%3."), ("decimal", "%4.")]
        )
    )
    document = docx.Document()
    numbering = document.part.numbering_part.element
    numbering.insert(0, parse_xml(f'<w:abstractNum {nsdecls("w")} w:abstractNumId="77">{levels}</w:abstractNum>'))
    numbering.append(parse_xml(f'<w:num {nsdecls("w")} w:numId="77"><w:abstractNumId w:val="77"/></w:num>'))
    for depth, text in ((0, "GENERAL"), (1, "SUMMARY"), (2, "First"), (3, "Inner"), (2, "Second"), (0, "PRODUCTS"),
                        (1, "GOODS"), (2, "Anew")):  # fmt: skip
        properties = document.add_paragraph(text)._p.get_or_add_pPr()
        properties.append(
            parse_xml(f'<w:numPr {nsdecls("w")}><w:ilvl w:val="{depth}"/><w:numId w:val="77"/></w:numPr>')
        )
    shown = [line.strip() for line in text_in(made(document)).split("\n") if line]
    assert shown == [
        "PART 1 - GENERAL", "1.01 SUMMARY", "A. First", "1. Inner", "B. Second", "PART 2 - PRODUCTS", "2.01 GOODS",
        "A. Anew",
    ]  # fmt: skip


def test_a_bullet_and_a_heading_keep_their_signs() -> None:
    document = docx.Document()
    document.add_heading("Spreading rates", 2)
    document.add_heading("2.2 RATES", 1)
    document.add_paragraph("one coat", style="List Bullet")
    assert text_in(made(document)) == "## Spreading rates\n\n2.2 RATES\n\n- one coat\n"


def test_a_table_is_rows_of_pipes_and_merged_cells_are_said_once() -> None:
    document = docx.Document()
    document.add_paragraph("Schedule")
    table = document.add_table(rows=3, cols=3)
    for r, row in enumerate([("Room", "Walls", "Ceilings"), ("Hall", "2 coats", "1 coat"), ("", "a|b", "")]):
        for c, text in enumerate(row):
            table.cell(r, c).text = text
    table.cell(1, 0).merge(table.cell(2, 0))
    table.cell(2, 1).merge(table.cell(2, 2))
    document.add_paragraph("After")
    assert text_in(made(document)) == (
        "Schedule\n| Room | Walls | Ceilings |\n| Hall | 2 coats | 1 coat |\n|  | a b |  |\n\nAfter\n"
    )


def test_a_table_in_a_word_processor_file_gives_rules_with_their_paragraph(tmp_path: Path) -> None:
    document = docx.Document()
    document.add_paragraph("SECTION 09 91 23")
    table = document.add_table(rows=2, cols=3)
    for r, row in enumerate([("Room", "Walls", "Ceilings"), ("Hall", "2 coats satin", "1 coat primer")]):
        for c, text in enumerate(row):
            table.cell(r, c).text = text
    path = tmp_path / "s.docx"
    path.write_bytes(made(document))
    found = {(r["subject"], r["scope"]["surface"], r["amount"]["value"]): r["source"] for r in rules_of(path)}
    assert found.keys() == {("finish paint", "wall", "2"), ("primer", "ceiling", "1")}
    assert found["finish paint", "wall", "2"]["paragraph"] == 3
    assert found["finish paint", "wall", "2"]["line"] == 3
    assert "  3 │ | Hall" in run(path).stdout


def test_tracked_changes_are_read_as_accepted_and_that_is_said() -> None:
    document = docx.Document()
    paragraph = document.add_paragraph("Walls: ")
    tracked = 'w:id="1" w:author="A"'
    paragraph._p.append(parse_xml(f"<w:del {nsdecls('w')} {tracked}><w:r><w:delText>one</w:delText></w:r></w:del>"))
    paragraph._p.append(parse_xml(f"<w:ins {nsdecls('w')} {tracked}><w:r><w:t>two</w:t></w:r></w:ins>"))
    paragraph.add_run(" coats, not ")
    paragraph.add_run("three").font.strike = True
    source, notes = decode(made(document), "s.docx")
    assert source is not None
    assert source.text == "Walls: two coats, not ~~three~~\n"
    assert [n.code for n in notes] == ["text-left-out"]


def test_hidden_text_is_left_out_and_that_is_said() -> None:
    document = docx.Document()
    document.add_paragraph("Shown. ").add_run("Note to the writer: 9 coats").font.hidden = True
    source, notes = decode(made(document), "s.docx")
    assert source is not None
    assert source.text == "Shown.\n"
    assert "hidden" in notes[0].message


def test_text_in_a_content_control_is_read() -> None:
    document = docx.Document()
    control = f"<w:sdt {nsdecls('w')}><w:sdtContent><w:p><w:r><w:t>Two coats</w:t></w:r></w:p></w:sdtContent></w:sdt>"
    document.element.body.insert(0, parse_xml(control))
    assert text_in(made(document)) == "Two coats\n"


def test_an_archive_that_only_looks_like_a_word_processor_file_is_refused() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as parts:
        parts.writestr("word/document.xml", "<no/>")
    assert decode(out.getvalue(), "s.docx")[1][0].code == "file-no-text"
