"""The order list, the letter and the scope note: complete, in three forms that say the same, with true differences."""

from __future__ import annotations

import html
import re
from pathlib import Path

import pytest
from markdown_it import MarkdownIt

import handed
import made
from darby.cli.jobs import Wanted, demo_folder, estimate_of
from darby.documents.differences import differences, rework
from darby.documents.letters.prose import Heading, Paragraph, Prose, Table, as_markdown, as_text, entries, marked
from darby.documents.words import clause_number, whereabouts
from darby.estimate.model import Estimate
from darby.text.spans import Source
from desk import estimated, item

SHORT = ("order", "letter", "scope")


def words(markup: str) -> list[str]:
    """What a reader sees of HTML, as words; marks of lists and rules of tables are no words."""
    body = re.sub(r"<(style|title)>.*?</\1>", " ", markup, flags=re.DOTALL)
    return html.unescape(re.sub(r"<[^>]*>", " ", body)).split()


def plain_words(text: str) -> list[str]:
    return [w for w in text.split() if not re.fullmatch(r"-+|=+|[0-9]+\.", w)]


@pytest.mark.parametrize("name", SHORT)
def test_the_three_forms_say_the_same_in_the_same_order(name: str) -> None:
    text = plain_words(handed.text(name))
    assert plain_words(" ".join(words(handed.text(f"{name}.html")))) == text
    assert words(MarkdownIt("commonmark").enable("table").render(handed.text(f"{name}.md"))) == text


@pytest.mark.parametrize("name", SHORT)
def test_plain_text_fits_a_sheet(name: str) -> None:
    assert max(map(len, handed.text(name).splitlines())) <= 78


def test_the_order_list_names_each_package_of_the_json_and_no_working() -> None:
    text = handed.text("order")
    for one in handed.demo_json()["items"]:
        (line,) = (x for x in text.splitlines() if x.startswith(one["product"] + " ") and all(v in x for v in one["pool"].values()) and str(one["order"]["count"]) in x)  # fmt: skip
        assert one["order"]["container"] in line
    assert "÷" not in text
    assert "sq ft per" not in text


def test_goods_without_a_package_are_asked_for() -> None:
    text = handed.text("order", made.estimate())
    assert "clip: 6 needed" in text.partition("Please tell us the packages you have")[2]


def test_an_incomplete_estimate_says_so_in_each() -> None:
    for name in ("order", "scope"):
        assert "Incomplete: The lines of coatings are missing" in handed.text(
            name, made.estimate(missing=("coatings",))
        )


def test_the_letter_asks_what_the_architect_can_answer() -> None:
    text = " ".join(handed.text("letter").split())
    for question in handed.demo_json()["questions"]:
        sentence = question["text"].partition(". The documents ")[0]
        assert (sentence in text) == (question["to"] == "specifier" or "say both" in question["text"]), sentence


def test_each_question_has_its_place_what_was_assumed_and_the_difference() -> None:
    text = " ".join(handed.text("letter").split())
    assert "“350 square feet per gallon” in 09 91 23, 3.02 D (09-91-23-interior-painting.txt, line 55)" in text
    assert "“400 sq ft per gallon” in 09 91 23, 2.02 B" in text
    assert "Assumed meanwhile: 350 sq ft per gal." in text
    assert "9 cans of finish paint (sea green, satin, wall) instead of 10, 1 fewer" in text
    assert "With 3 coats: 8 cans of finish paint (fog white, flat, ceiling) instead of 5, 3 more." in text


def reworked(tmp_path: Path, file: str, old: str, new: str) -> Estimate:
    """The demo with other words in one of its files."""
    with demo_folder() as folder:
        for one in folder.iterdir():
            if one.is_file():
                (tmp_path / one.name).write_bytes(one.read_bytes())
    text = (tmp_path / file).read_text(encoding="utf-8")
    assert old in text
    (tmp_path / file).write_text(text.replace(old, new), encoding="utf-8")
    outcome = estimate_of(Wanted(str(tmp_path / "job.toml")))
    assert outcome.estimate is not None, outcome.problems
    return outcome.estimate


@pytest.mark.parametrize(
    ("answer", "file", "old", "new"),
    [
        ("400 sq ft per gal", "09-91-23-interior-painting.txt", "350 square feet per gallon", "400 square feet per gallon"),
        ("3 coats", "job.toml", "rules = [", 'rules = [ "Ceilings: three coats finish paint.",'),
        ("1 coat", "job.toml", "rules = [", 'rules = [ "Ceilings: one coat finish paint.",'),
        ("all openings taken out", "job.toml", "rules = [", 'rules = [ "Deduct all openings.",'),
    ],
)  # fmt: skip
def test_the_difference_told_is_what_darby_gives_under_that_answer(
    tmp_path: Path, answer: str, file: str, old: str, new: str
) -> None:
    demo = handed.demo()
    told = [d for q in demo.questions for d in differences(q, demo) if d.answer == answer]
    again = reworked(tmp_path, file, old, new)
    counts = {i.id: i.count for i in again.items}
    assert told
    assert {d.item.id: d.then for d in told} == {d.item.id: counts[d.item.id] for d in told}
    moved = {i.id for i in demo.items if counts[i.id] != i.count}
    assert moved <= {d.item.id for d in told}


def test_rework_without_changes_gives_the_same_order() -> None:
    for one in handed.demo().items:
        assert one.order is not None
        assert rework(one.order, lambda _: None) == one.order


def test_the_scope_note_tells_what_is_in_what_is_out_and_what_was_assumed() -> None:
    text = handed.text("scope")
    parts = ["Included", "Excluded", "Assumed", "Cautions"]
    assert sorted(parts, key=lambda p: text.index(f"\n{p}\n---")) == parts
    included, excluded, assumed, cautions = (text.split(f"\n{p}\n---")[1] for p in parts)
    for one in handed.demo_json()["items"]:
        assert one["product"] in included
    assert "“1,200” in 09 29 00, 1.04 A" in " ".join(excluded.split())
    assert "labor, equipment, delivery and prices" in excluded
    assert "“Do not deduct openings”, which the documents do not say (our default)" in " ".join(assumed.split())
    for caution in handed.demo_json()["cautions"]:
        assert caution["topic"] in cautions


def test_what_no_trade_took_up_is_excluded_by_name() -> None:
    made_of = estimated(
        "[[walls]]\nname = 'w'\nlength = '10 ft'\nheight = '8 ft'\nfaces = 1\n",
        "Door trim: two coats satin finish paint.\n",
    )
    assert item(made_of, "gypsum board").count
    out = handed.text("scope", made_of).split("\nExcluded\n---")[1].split("\nAssumed\n---")[0]
    assert "what no line here takes up: two coats" in out


@pytest.mark.parametrize(
    ("text", "at", "number"),
    [
        ("SECTION 09 91 23\n\n3.02 APPLICATION\n    A. One.\n    D. Spread it.\n", "Spread", "09 91 23, 3.02 D"),
        ("3.02 APPLICATION\n  Spread it.\n", "Spread", "3.02"),
        ("A. Old.\n3.02 NEW\nSpread it.\n", "Spread", "3.02"),
        ("ADDENDUM\n\n1.  Section 2 now reads:\n   Spread it.\n", "Spread", "item 1"),
        ("Spread it.\n", "Spread", ""),
    ],
)
def test_a_place_is_told_as_the_document_counts_it(text: str, at: str, number: str) -> None:
    source = Source("s.txt", text)
    span = source.span(text.index(at), text.index(at) + len(at))
    assert clause_number(span) == number
    assert f"line {span.line}" in whereabouts(span)


@pytest.mark.parametrize("nasty", handed.NASTY)
def test_markdown_shows_any_text_and_runs_none(nasty: str) -> None:
    prose = Prose(nasty, (Heading(nasty), Paragraph(nasty, nasty), entries([nasty]), Table((nasty,), ((nasty,),))))
    rendered = MarkdownIt("commonmark", {"html": True}).enable("table").render(as_markdown(prose))
    tags = set(re.findall(r"</?([a-z0-9]+)", rendered))
    assert tags <= {"h1", "h2", "p", "strong", "ul", "li", "table", "thead", "tbody", "tr", "th", "td"}
    assert words(rendered).count(as_text(prose).split()[0]) >= 1


def test_only_what_markdown_would_take_for_markup_is_escaped() -> None:
    assert marked("09-29-00-gypsum-board.txt (line 4)") == "09-29-00-gypsum-board.txt (line 4)"
    assert marked("2. *x* <b>") == r"2\. \*x\* \<b\>"


@pytest.mark.parametrize("nasty", handed.NASTY)
@pytest.mark.parametrize("name", SHORT)
def test_no_control_sign_of_a_hostile_job_is_in_the_text(name: str, nasty: str) -> None:
    for form in ("", ".md", ".html"):
        text = handed.text(name + form, handed.hostile(nasty))
        assert not [c for c in text if (ord(c) < 32 and c != "\n") or 127 <= ord(c) < 160 or c in "\u202e\u2066\u200b"]
