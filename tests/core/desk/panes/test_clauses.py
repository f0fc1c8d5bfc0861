"""What is excluded is quoted whole, and a line that orders none of it is offered only where there is one."""

from __future__ import annotations

from pathlib import Path

from darby.desk.panes.clauses import item_around
from darby.text.spans import Source
from desks import Visitor, loft

LONG = """PAINTING
A. Walls: one coat primer,
   two coats
   eggshell.
B. Ceilings: one coat primer, flat to cover.
C. Paint covers 350 sq ft per gallon.
"""


def marked(visitor: Visitor, words: str) -> str:
    now = visitor.bench.look().estimate
    assert now is not None
    from darby.desk.views import books_of

    document = books_of(now, None).documents["finishes.txt"]
    return next(mark.name for mark in document.marks if words in mark.span.text)


def asked(visitor: Visitor, words: str) -> dict[str, object]:
    found: dict[str, object] = visitor.get(f"/clause?document=finishes.txt&mark={marked(visitor, words)}").json()
    return found


def test_a_clause_is_quoted_over_all_its_lines(tmp_path: Path) -> None:
    (loft(tmp_path) / "finishes.txt").write_text(LONG, encoding="utf-8")
    found = asked(Visitor(tmp_path), "two coats")
    assert "Walls: one coat primer, two coats eggshell." in str(found["words"])
    assert found["none"] == ["Walls: 0 coats eggshell finish paint.", "Walls: 0 coats primer."]


def test_a_rate_has_no_line_that_orders_none_of_it(tmp_path: Path) -> None:
    (loft(tmp_path) / "finishes.txt").write_text(LONG, encoding="utf-8")
    visitor = Visitor(tmp_path)
    assert asked(visitor, "350")["none"] == []
    assert visitor.get("/clause?document=finishes.txt&mark=d9-m9").status_code == 404
    assert visitor.get("/clause?document=other.txt&mark=d1-m1").status_code == 404


def test_with_its_line_an_exclusion_takes_the_work_out_of_the_order_and_both_are_undone_together(
    tmp_path: Path,
) -> None:
    visitor = Visitor(loft(tmp_path))
    found = asked(visitor, "two coats")
    none = "\n".join(found["none"])  # type: ignore[arg-type]
    before = (tmp_path / "job.toml").read_bytes()
    said = visitor.do(
        "not-ours", words=str(found["words"]), why="the owner paints", at="finishes.txt 4", none=none
    ).json()
    assert "none of it is ordered" in said["told"]
    now = visitor.bench.look().estimate
    assert now is not None
    assert not [item.id for item in now.items if "wall" in item.id and item.product == "finish paint"]
    assert now.job.sending.excluded[0].startswith("“")
    visitor.do("undo")
    assert (tmp_path / "job.toml").read_bytes() == before


def test_without_a_line_it_says_that_the_order_stays(tmp_path: Path) -> None:
    visitor = Visitor(loft(tmp_path))
    told = visitor.do("not-ours", words="Board 1/2 in.", why="by others", lines="Used for: gypsum board").json()["told"]
    assert "The order stays as it was: Used for: gypsum board" in told


def test_a_question_quotes_the_sentence_alone_where_a_paragraph_has_many(tmp_path: Path) -> None:
    text = "PT-1: one coat primer, two coats eggshell.\nPT-2: one coat primer, two coats flat.\nSend 3 copies of the\ncolor chart.\n"
    (loft(tmp_path) / "finishes.txt").write_text(text, encoding="utf-8")
    visitor = Visitor(tmp_path)
    found = asked(visitor, "3")
    assert found["there"] == "Send 3 copies of the color chart"
    assert found["at"] == "finishes.txt, line 3"
    line = visitor.get("/clause?document=finishes.txt&mark=line-4").json()
    assert (line["there"], line["at"]) == (found["there"], found["at"])


def test_an_item_is_taken_from_its_label_to_the_next_or_to_a_blank_line() -> None:
    source = Source("s.txt", "1. First of\n   two lines\n2. Second\n\nA paragraph\nof 7 lines.\n\nEnd")
    assert item_around(source, source.span(14, 20)).text == "1. First of\n   two lines"
    at = source.text.index("7")
    assert item_around(source, source.span(at, at + 1)).text == "A paragraph\nof 7 lines."
    assert item_around(source, source.span(0, 2)).text == "1. First of\n   two lines"
