"""What a page shows of an estimate is made where somebody looks, and says the same as the papers."""

from __future__ import annotations

from pathlib import Path

import pytest

from darby.desk.panes import books as module
from darby.desk.panes.books import Books
from darby.documents.page.to_html import view
from desks import Visitor, bench, loft


@pytest.fixture
def books(tmp_path: Path) -> Books:
    now = bench(loft(tmp_path)).look().estimate
    assert now is not None
    return Books(now)


def test_every_line_and_its_working_are_those_of_the_page_of_papers(books: Books) -> None:
    papers = view(books.estimate)
    assert [one["id"] for one in books.items] == [one["id"] for one in papers["items"]]
    for one, other in zip(books.items, papers["items"], strict=True):
        assert all(other[key] == said for key, said in one.items())
        worked = books.working(one["id"])
        assert worked is not None
        assert [step["made"] for step in worked["steps"]] == [step["made"] for step in other["steps"]]
    assert books.working("i99") is None


def test_what_was_set_aside_and_may_be_to_order_is_listed_and_marked_and_nothing_else(tmp_path: Path) -> None:
    text = "A. Walls: two coats eggshell.\nB. Send 12 samples in 21 days.\nC. Where stained, put on one coat more.\n"
    (loft(tmp_path) / "finishes.txt").write_text(text, encoding="utf-8")
    now = bench(tmp_path).look().estimate
    assert now is not None
    assert {(span.text, why) for span, why in now.set_aside} >= {("12", "a count of something else"), ("21", "a time")}
    books = Books(now)
    assert [(one["number"], one["words"]) for one in books.aside if one["number"] == "12"] == [("12", "B. Send 12 samples in 21 days.")]  # fmt: skip
    assert not [one for one in books.aside if one["number"] == "21"]
    shown = books.marked("finishes.txt")
    assert shown is not None
    marks = {p.mark.span.text: p.mark.name for _, line in shown["lines"] for p in line if p.mark}
    assert marks["12"] in shown["aside"]
    assert marks["21"] not in shown["aside"]
    assert {one["at"]["mark"] for one in books.aside} == shown["aside"]


def test_a_mark_names_the_lines_that_come_from_it(books: Books) -> None:
    shown = books.marked("finishes.txt")
    assert shown is not None
    coats = next(p.mark for _, line in shown["lines"] for p in line if p.mark and p.mark.span.text == "two coats")
    named = [one["product"] for one in books.items if one["id"] in shown["uses"][coats.name].split()]
    assert named == ["finish paint"]
    job = books.marked("job.toml")
    assert job is not None
    length = next(p.mark for _, line in job["lines"] for p in line if p.mark and p.mark.span.text == "36 ft 4 in")
    assert len(job["uses"][length.name].split()) > 3
    assert books.marked("nothing.txt") is None


def test_of_a_large_job_what_answers_change_is_worked_out_when_it_is_asked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    visitor = Visitor(loft(tmp_path))
    now = visitor.bench.look().estimate
    assert now is not None
    told = {q["field"]: q["answers"] for group in Books(now).every_question for q in group["asked"]}
    assert any(told.values())
    monkeypatch.setattr(module, "_WEIGHED", 2)
    assert not any(q["answers"] for group in Books(now).every_question for q in group["asked"])
    for field, answers in told.items():
        alone = visitor.get(f"/worth?of={field}", headers={"x-panes": "1"}).text
        assert all(answer["answer"] in alone for answer in answers)
        assert "<html" not in alone
    assert visitor.get("/worth?of=q0-1").status_code == 404


def test_a_working_is_a_page_of_its_own_without_a_script(tmp_path: Path) -> None:
    visitor = Visitor(loft(tmp_path))
    assert "/working?of=i1&amp;document=finishes.txt" in visitor.get("/").text
    page = visitor.get("/working?of=i1&document=finishes.txt&table=walls")
    assert 'href="/?document=finishes.txt&amp;table=walls"' in page.text
    assert "Stove room" in page.text
    assert visitor.get("/working?of=i99").status_code == 404
