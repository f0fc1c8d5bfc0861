"""A whole project manual: sections bound and own what stands under them, and other trades' make no rule of ours."""

from __future__ import annotations

import io
import re
import textwrap
from collections import Counter
from collections.abc import Callable
from itertools import chain
from pathlib import Path

import pytest

from darby.reading.layout.normalize import mend
from darby.reading.layout.segmenter import clauses
from darby.reading.read import Reading, read
from darby.rules.rule import SPECIFICATION
from darby.text.files import decode
from darby.text.spans import Source
from pages import pdf
from reads import language, read_text

MANUAL = (Path(__file__).parents[3] / "fixtures" / "manuals" / "small-manual.txt").read_text(encoding="utf-8")
OPENED = re.compile(r"^SECTION ([0-9]{2} [0-9]{2} [0-9]{2})\n(.+)$", re.MULTILINE)
OURS = ("09 29 00", "09 91 23")


def said(reading: Reading) -> Counter[tuple[str, ...]]:
    """The rules of a reading that need no confirming and stand indoors."""
    return Counter(
        (r.kind.name, r.subject, str(r.scope), str(r.amount.value), r.amount.unit.name)
        for r in reading.rules
        if not r.confirm and r.scope.get("room") != "exterior"
    )


def section(number: str) -> str:
    """One section of the manual by itself."""
    start = MANUAL.index(f"\nSECTION {number}\n") + 1
    return MANUAL[start : MANUAL.index("END OF SECTION", start)]


ALONE = said(read_text(section(OURS[0]))) + said(read_text(section(OURS[1])))


def test_of_a_manual_the_same_holds_as_of_our_sections_alone() -> None:
    assert sum(ALONE.values()) == 11
    assert said(read_text(MANUAL)) == ALONE


SHAPES = {
    "number and title on a line": lambda text: OPENED.sub(r"SECTION \1 - \2", text),
    "six digits in one": lambda text: OPENED.sub(lambda m: f"SECTION {m[1].replace(' ', '')}\n{m[2]}", text),
    "number and title, no word": lambda text: OPENED.sub(lambda m: f"{m[1]} - {m[2]}\n\nPART 1 - GENERAL", text),
    "mixed case": lambda text: OPENED.sub(lambda m: f"Section {m[1]} – {m[2].title()}", text),
    "markdown": lambda text: OPENED.sub(r"# SECTION \1 - \2", text),
    "capitals": str.upper,
    "small letters": str.lower,
    "no ends": lambda text: text.replace("END OF SECTION\n", ""),
    "ends with numbers": lambda text: text.replace("END OF SECTION", "*** END OF SECTION 00 00 00 ***"),
    "doubled blanks": lambda text: re.sub(r"(?<=\S) +(?=\S)", lambda gap: gap[0] * 2, text),
    "running heads alone": lambda text: OPENED.sub(lambda m: f"DIVISION {m[1][:2]} - WORK {m[1]} {m[2]}", text),
    "titles alone": lambda text: OPENED.sub(r"\2\n\nPART 1 - GENERAL", text),
}


@pytest.mark.parametrize("shape", SHAPES)
def test_whatever_the_shape_of_its_headings(shape: str) -> None:
    text = SHAPES[shape](MANUAL)
    assert text != MANUAL
    got = said(read_text(text))
    assert {(*key[:2], *key[3:]): n for key, n in got.items()} == {(*key[:2], *key[3:]): n for key, n in ALONE.items()}


def test_at_most_two_rules_come_from_others_and_all_wait_to_be_confirmed() -> None:
    others = [r for r in read_text(MANUAL).rules if r.confirm]
    assert 0 < len(others) <= 2
    assert {"08 11 13" in r.confirm for r in others} == {True}
    assert {r.span.line for r in others} == {MANUAL[: MANUAL.index("A. Anchors")].count("\n") + 1}


def test_what_is_painted_out_of_doors_is_not_within() -> None:
    outside = [r for r in read_text(MANUAL).rules if r.scope.get("room") == "exterior"]
    assert {(r.kind.name, r.subject, str(r.amount.value)) for r in outside} == {
        ("coats", "primer", "1"),
        ("coats", "finish paint", "3"),
        ("coverage", "finish paint", "250"),
    }


def test_each_section_of_others_has_a_line_in_the_account() -> None:
    lines = {one.section.number: one.line for one in read_text(MANUAL).others}
    assert lines["07 56 00"] == "07 56 00 Fluid-applied roofing: 6 numbers, not ours"
    assert set(lines) == {
        "05 50 00",
        "07 56 00",
        "07 92 00",
        "08 11 13",
        "09 30 00",
        "10 14 00",
        "28 31 00",
        "32 17 23",
    }


def test_a_section_that_speaks_of_our_goods_is_asked_about_once() -> None:
    asked = [d.message for d in read_text(MANUAL).diagnostics if d.code == "not-ours"]
    assert len(asked) == len(set(asked)) <= 8
    assert any("08 11 13 Hollow metal doors and frames" in message and "finish paint" in message for message in asked)


def test_no_number_of_a_manual_is_out_of_the_account_and_few_are_open() -> None:
    numbers = read_text(MANUAL).numbers
    assert [n.span.text for n in numbers if n.became == "unread"] == []
    held = sorted((n.span.start, n.span.end) for n in numbers)
    for digits in re.finditer("[0-9]+", MANUAL):
        assert any(start <= digits.start() and digits.end() <= end for start, end in held), digits


def test_contents_heads_and_ends_are_no_part_of_what_is_said() -> None:
    taken = clauses(mend(Source("s", MANUAL), language().known), language().known)
    why = Counter(apart.why for apart in taken.apart)
    assert why["a list of sections"] == 18
    assert why["a page header or footer"] == 4
    assert why["the end of a section"] == 10


def test_a_running_head_closes_nothing() -> None:
    taken = clauses(mend(Source("s", MANUAL), language().known), language().known)
    (compound,) = (c for c in taken.clauses if c.text.startswith("Joint compound"))
    (screws,) = (c for c in taken.clauses if c.text.startswith("Screws 12 in. o.c. on"))
    assert compound.section is screws.section


def test_a_new_section_closes_every_heading() -> None:
    text = "SECTION 07 21 00\nINSULATION\n\n1.05 WARRANTY\nA. Of 2 years.\n\nSECTION 09 91 23\nPAINTING\n\nWalls: two coats of paint.\n"
    assert said(read_text(text)) == Counter({("coats", "finish paint", "wall", "2", "each"): 1})


def test_behind_the_end_of_a_section_nobody_says_whose_a_text_is() -> None:
    text = (
        "SECTION 09 91 23\nPAINTING\n\nWalls: two coats of paint.\n\nEND OF SECTION\n\nCeilings: one coat of paint.\n"
    )
    weak = [r for r in read_text(text).rules if r.confirm]
    assert [r.scope["surface"] for r in weak] == ["ceiling"]
    assert "behind the end of section 09 91 23" in weak[0].confirm


def test_a_text_without_sections_is_ours() -> None:
    reading = read_text("Walls: two coats of paint.\n")
    assert [(len(reading.rules), reading.rules[0].confirm, reading.others)] == [(1, "", ())]


@pytest.mark.parametrize("text", [
    "A. Related work is in these:\n   Section 07 21 00 - Insulation\n   Section 07 92 00 - Sealants\nB. Walls: two coats of paint.\n",
    "Walls: two coats of paint over what\nSection 07 21 00 calls for.\n",
    "See the roof,\nSection 07 56 00\n\nWalls: two coats of paint.\n",
    "07 56 00 - see there\nWalls: two coats of paint.\n",
])  # fmt: skip
def test_a_section_that_is_only_named_opens_none(text: str) -> None:
    (rule,) = read_text(text).rules
    assert (rule.subject, rule.confirm) == ("finish paint", "")


def as_word(text: str) -> bytes:
    """The manual as a word processor has it: a paragraph a line, wrapped ones joined, headings in a style of their own."""
    docx = pytest.importorskip("docx")
    document = docx.Document()
    for line in re.sub(r"(?<=[^\n])\n   +(?=\S)", " ", text).split("\n"):
        if line.startswith(("SECTION", "PART")):
            document.add_heading(line, 1)
        elif line.strip():
            document.add_paragraph(line)
    file = io.BytesIO()
    document.save(file)
    return file.getvalue()


def as_pages(text: str) -> bytes:
    """The manual as a PDF: a page for each section, its number and page at the foot."""
    pytest.importorskip("pypdf")
    pages: list[list[tuple[int, int, str]]] = []
    for part in re.split(r"(?=^SECTION [0-9 ]+\n[A-Z])", text, flags=re.MULTILINE):
        lines = [textwrap.wrap(line, 84, subsequent_indent="   ") or [""] for line in part.split("\n")]
        page = [(60, 740 - 12 * n, line) for n, line in enumerate(chain.from_iterable(lines)) if line.strip()]
        if opened := OPENED.match(part):
            page.append((60, 30, f"SECTION {opened[1]} - {len(pages)}"))
        pages.append([(x, y, re.sub(r"([()\\])", r"\\\1", said)) for x, y, said in page])
    return pdf(*pages)


@pytest.mark.parametrize(("name", "made"), [("manual.docx", as_word), ("manual.pdf", as_pages)])
def test_in_a_word_processor_file_and_a_pdf_too(name: str, made: Callable[[str], bytes]) -> None:
    source, problems = decode(made(MANUAL), name)
    assert source is not None, problems
    reading = read(source, SPECIFICATION, language())
    assert said(reading) == ALONE
    assert {one.section.number for one in reading.others} >= {"07 56 00", "28 31 00", "32 17 23"}
    assert len([r for r in reading.rules if r.confirm]) <= 2


def test_a_clause_of_an_addendum_that_opens_with_another_trade_s_section_is_none_of_ours() -> None:
    text = (
        "ADDENDUM 3\n\n"
        "A.1  Section 09 65 19, Paragraph 2.1: adhesive at 225 sq ft per gallon.\n\n"
        "A.2  Section 09 91 23: two coats eggshell on walls.\n"
    )
    reading = read(Source("a.txt", text), SPECIFICATION, language())
    assert [(rule.kind.name, rule.confirm) for rule in reading.rules] == [("coats", "")]
    assert [d.code for d in reading.diagnostics] == ["not-ours"]
