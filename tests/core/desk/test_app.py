"""The pages of the desk: what is there, what is not, and papers made as they would be from the command."""

from __future__ import annotations

from pathlib import Path

import pytest

from darby.documents.catalogue import document_named, documents
from desks import Visitor, loft


@pytest.fixture
def visitor(tmp_path: Path) -> Visitor:
    return Visitor(loft(tmp_path))


def test_every_paper_is_made_as_the_command_makes_it(visitor: Visitor) -> None:
    listed = visitor.get("/papers").text
    now = visitor.bench.look().estimate
    assert now is not None
    for document in documents():
        assert f'href="/paper/{document.name}"' in listed
        answer = visitor.get(f"/paper/{document.name}")
        assert answer.status_code == 200
        if document.name != "xlsx":  # two workbooks differ in the time they were made
            made = document.make(now)
            assert answer.content == (made.encode() if isinstance(made, str) else made)
    assert visitor.get("/paper/xlsx").headers["content-disposition"] == 'attachment; filename="estimate.xlsx"'
    assert document_named("letter.html") is not None


@pytest.mark.parametrize(
    "path", ["/paper/nothing", "/paper/..%2f..%2fetc%2fpasswd", "/static/nothing", "/static/..%2fguard.py", "/nowhere"]
)
def test_what_is_not_there_is_not_there(visitor: Visitor, path: str) -> None:
    assert visitor.get(path).status_code == 404


def test_the_stamp_tells_that_a_file_has_changed(visitor: Visitor) -> None:
    before = visitor.get("/state").json()
    assert visitor.get("/state").json() == before
    (visitor.bench.folder.root / "finishes.txt").write_text("Walls: three coats eggshell.", encoding="utf-8")
    assert visitor.get("/state").json() != before


def test_a_line_is_looked_at_while_it_is_typed(visitor: Visitor) -> None:
    ours = {"origin": "http://127.0.0.1:5417", "sec-fetch-site": "same-origin"}
    good = visitor.ask(
        "POST", "/check", data={"key": visitor.keys.form, "line": "Walls: two coats semi-gloss."}, headers=ours
    )
    assert good.json() == {"says": ["finish paint, semi-gloss, wall: 2 coats"], "wrong": ""}
    bad = visitor.ask("POST", "/check", data={"key": visitor.keys.form, "line": "Paint it nicely."}, headers=ours)
    assert bad.json()["wrong"]


def test_a_form_sent_without_a_script_goes_back_to_the_page_it_came_from(visitor: Visitor) -> None:
    answer = visitor.do("name", name="Other loft", script=False, **{"at-document": "finishes.txt", "at-table": "walls"})
    assert answer.status_code == 303
    page = visitor.get(answer.headers["location"]).text
    assert "Other loft" in page
    assert "were written" in page
    assert "sea wall" in page
    assert "were written" not in visitor.get("/").text  # said once


def test_no_paper_is_made_of_an_order_that_is_older_than_the_files(visitor: Visitor) -> None:
    visitor.get("/")
    (visitor.bench.folder.root / "job.toml").write_text("name = ", encoding="utf-8")
    answer = visitor.get("/paper/letter.html")
    assert answer.status_code == 409
    assert "cannot be worked out" in answer.text
    assert "no paper is made" in visitor.get("/papers").text
