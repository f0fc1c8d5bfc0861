"""What holds in each room stands at the desk as `darby rooms` tells it, every value with its clause."""

from __future__ import annotations

import re
from pathlib import Path

from darby.desk.panes.books import Books
from darby.desk.panes.holds import holds
from darby.documents.rooms import Told, name_of
from desks import JOB, Visitor, bench, loft


def test_the_table_says_what_the_command_says(tmp_path: Path) -> None:
    now = bench(loft(tmp_path)).look().estimate
    assert now is not None
    shown = holds(now, Books(now).shelf, 0)
    told = Told(now)
    assert [line["name"] for line in shown["lines"]] == [name_of(line) for line in told.table.lines]
    assert shown["heads"][-len(told.heads()) :] == told.heads()
    for line, other in zip(shown["lines"], told.table.lines, strict=True):
        for cell, same in zip(line["cells"], told.cells(other), strict=True):
            for held, one in zip(cell, same, strict=True):
                words = [*(value["text"] for value in held["values"]), *filter(None, [held["more"]])]
                assert ", ".join(words or ["not said"]) == told.held(one)


def test_every_value_of_a_document_leads_to_its_clause(tmp_path: Path) -> None:
    html = Visitor(loft(tmp_path)).get("/?document=finishes.txt&table=holds").text
    pane = html.partition('id="p-measures"')[2].partition('id="p-order"')[0]
    links = re.findall(r'href="/\?document=finishes.txt&amp;table=holds#([\w-]+)"[^>]*>([^<]+)<', pane)
    assert "2 coats" in [said for _, said in links]
    reading = html.partition('id="reading"')[2].partition('class="rail"')[0]
    marks = dict(re.findall(r'id="(d\d+-m\d+)"[^>]*>([^<]+)<', reading))
    assert all("two coats" in marks[mark] for mark, said in links if said == "2 coats")


def test_of_many_rooms_a_hundred_are_shown(tmp_path: Path) -> None:
    rooms = "".join(
        f'[[rooms]]\nname = "Berth {n}"\nlength = "9 ft"\nwidth = "9 ft"\nheight = "8 ft"\n' for n in range(120)
    )
    (loft(tmp_path) / "job.toml").write_text(f"{JOB}\n{rooms}", encoding="utf-8")
    html = Visitor(tmp_path).get("/?table=holds&from=100").text
    assert ">Berth 110<" in html
    assert ">Berth 50<" not in html
    assert "table=holds&amp;from=0" in html


def test_before_there_is_an_estimate_it_says_so(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text('name = "x"\nunits = "furlongs"\n', encoding="utf-8")
    assert "as soon as the job can be worked out" in Visitor(tmp_path).get("/?table=holds").text
