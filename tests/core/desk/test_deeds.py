"""What can be done at the desk, through its pages: each deed in the files, each refusal a sentence with nothing changed."""

from __future__ import annotations

import html
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from darby.desk.panes.own_line import today
from darby.documents.letters.asked import asked, dated, doubt, points
from darby.estimate.model import Estimate
from desks import JOB, Visitor, loft

HOSTILE = '<script>alert(1)</script><img src=x onerror=alert(2)> "quoted" & {{ 7 * 7 }}'


@pytest.fixture
def visitor(tmp_path: Path) -> Visitor:
    return Visitor(loft(tmp_path))


def job(visitor: Visitor) -> dict[str, object]:
    return tomllib.loads(visitor.bench.folder.text("job.toml"))


def test_a_job_is_begun_in_an_empty_folder_and_ordered_for(tmp_path: Path) -> None:
    visitor = Visitor(tmp_path)
    assert "A new job" in visitor.get("/").text
    assert visitor.do("begin", name='Kiln "East"', units="us", script=False).status_code == 303
    visitor.do("paste", role="specification", name="", text="Walls: one coat primer, two coats eggshell.")
    visitor.do("row-new", table="rooms", name="Kiln room", number="1", length="12'-6\"", width="10 ft", height="8 ft")
    made = visitor.bench.look().estimate
    assert made is not None
    assert {item.product for item in made.items} >= {"primer", "finish paint"}
    assert job(visitor) == {
        "name": 'Kiln "East"', "units": "us", "documents": {"specification": ["specification.txt"]},
        "rooms": [{"name": "Kiln room", "number": "1", "length": "12'-6\"", "width": "10 ft", "height": "8 ft"}],
    }  # fmt: skip


def test_a_job_that_is_there_is_not_begun_again(visitor: Visitor) -> None:
    assert visitor.do("begin", name="Other").json()["refused"]
    assert visitor.bench.folder.text("job.toml") == JOB


def test_a_row_is_written_with_its_remarks_kept_and_the_number_of_a_room_is_its_own(visitor: Visitor) -> None:
    said = visitor.do(
        "row",
        table="rooms",
        **{"at-row": "0"},
        was=visitor.was("rooms", 0),
        name="Stove room",
        length="11 ft",
        number="12",
    ).json()
    assert not said["refused"]
    assert '11 ft"   # to the breast' in visitor.bench.folder.text("job.toml")
    assert job(visitor)["rooms"][0]["number"] == "12"  # type: ignore[index]
    assert "moved" in said["told"]


def test_a_row_that_somebody_else_changed_is_not_written_over(visitor: Visitor) -> None:
    was = visitor.was("rooms", 0)
    other = visitor.bench.folder.root / "job.toml"
    other.write_text(JOB.replace('"10 ft"', '"99 ft"'), encoding="utf-8")
    said = visitor.do("row", table="rooms", **{"at-row": "0"}, was=was, name="Stove room", length="11 ft").json()
    assert said["refused"]
    assert "99 ft" in other.read_text(encoding="utf-8")


def test_sizes_without_a_unit_are_asked_about_once_and_settled_by_a_press(visitor: Visitor) -> None:
    visitor.do("row-new", table="rooms", name="Net store", length="12.5", width="10", height="8'")
    page = visitor.get("/?table=rooms").text
    assert page.count("12.5, 10: of what unit?") == 1
    assert "2 sizes have no unit" in page
    assert "length = &#34;12.5 ft" not in page
    fields = {"table": "rooms", "at-row": "1", "was": visitor.was("rooms", 1)}
    assert visitor.do("row-unit", **fields, unit="cubits").json()["refused"]
    assert visitor.do("row-unit", **{**fields, "was": "x"}, unit="ft").json()["refused"]
    assert "in feet now" in visitor.do("row-unit", **fields, unit="ft").json()["told"]
    assert job(visitor)["rooms"][1] == {"name": "Net store", "length": "12.5 ft", "width": "10 ft", "height": "8'"}  # type: ignore[index]
    made = visitor.bench.look()
    assert not made.stale
    assert "of what unit?" not in visitor.get("/?table=rooms").text


def test_rows_are_taken_out_and_come_back(visitor: Visitor) -> None:
    visitor.do("row-remove", table="walls", **{"at-row": "0"}, was=visitor.was("walls", 0))
    assert "walls" not in job(visitor)
    visitor.do("undo")
    assert visitor.bench.folder.text("job.toml") == JOB
    visitor.do("redo")
    assert "walls" not in job(visitor)


def test_the_text_of_a_document_keeps_its_line_ends_and_is_not_written_over(visitor: Visitor) -> None:
    folder = visitor.bench.folder
    (folder.root / "finishes.txt").write_bytes(b"Walls: two coats.\r\nCeilings: one coat.\r\n")
    stamp = folder.stamp("finishes.txt")
    visitor.do("text", name="finishes.txt", stamp=stamp, text="Walls: three coats.\r\nCeilings: one coat.\r\n")
    assert folder.read("finishes.txt") == b"Walls: three coats.\r\nCeilings: one coat.\r\n"
    assert visitor.do("text", name="finishes.txt", stamp=stamp, text="x").json()["refused"]
    assert folder.read("finishes.txt") == b"Walls: three coats.\r\nCeilings: one coat.\r\n"


@pytest.mark.parametrize("name", ["../outside.txt", "/etc/passwd", "other.txt", ".hidden"])
def test_only_documents_of_the_job_are_written(visitor: Visitor, name: str) -> None:
    assert visitor.do("text", name=name, stamp="", text="x").json()["refused"]
    assert visitor.do("document-add", role="house", name=name).json()["refused"]
    assert not (visitor.bench.folder.root.parent / "outside.txt").exists()


def test_a_pasted_text_never_takes_the_place_of_a_file(visitor: Visitor) -> None:
    for _ in range(2):
        visitor.do("paste", role="addenda", name="../finishes.txt", text="Walls: three coats eggshell.")
    documents = job(visitor)["documents"]
    assert documents == {"specification": ["finishes.txt"], "addenda": ["finishes-2.txt", "finishes-3.txt"]}
    assert visitor.bench.folder.text("finishes.txt").startswith("GYPSUM BOARD")


def test_a_document_is_left_out_and_its_file_stays(visitor: Visitor) -> None:
    visitor.do("document-remove", role="specification", name="finishes.txt")
    assert "specification" not in job(visitor)["documents"]  # type: ignore[operator]
    assert (visitor.bench.folder.root / "finishes.txt").exists()
    visitor.do("document-add", role="specification", name="finishes.txt")
    assert job(visitor)["documents"] == {"specification": ["finishes.txt"]}


def test_a_line_of_her_own_is_looked_at_before_it_is_written(visitor: Visitor) -> None:
    said = visitor.do("line", line="Stove room walls: three coats semi-gloss.", source="architect, May [14]").json()
    assert not said["refused"]
    assert job(visitor)["rules"] == [
        "Gypsum board waste: 8 %.",
        "Stove room walls: three coats semi-gloss. [architect, May 14]",
    ]
    for line in ("Paint it nicely.", "", "Walls: 2 quarts of flim.", "x" * 500):
        assert visitor.do("line", line=line, source="").json()["refused"]
    assert len(job(visitor)["rules"]) == 2  # type: ignore[arg-type]
    visitor.do("line-remove", number="1", line="Stove room walls: three coats semi-gloss. [architect, May 14]")
    assert job(visitor)["rules"] == ["Gypsum board waste: 8 %."]
    assert visitor.do("line-remove", number="0", line="another").json()["refused"]


def test_a_reading_to_confirm_is_settled_by_the_line_that_is_offered(tmp_path: Path) -> None:
    loft(tmp_path)
    visitor = Visitor(tmp_path, doubted="two coats")
    made = visitor.bench.look().estimate
    assert made is not None
    assert made.confirmations
    offered = made.confirmations[0].lines[0]
    assert offered in visitor.get("/").text
    visitor.do("line", line=offered, source="looked at")
    after = visitor.bench.look().estimate
    assert after is not None
    assert len(after.confirmations) == len(made.confirmations) - 1


def test_a_reading_that_was_asked_about_is_kept_as_answered_when_its_line_is_written(tmp_path: Path) -> None:
    visitor = Visitor(loft(tmp_path), doubted="two coats")
    made = visitor.bench.look().estimate
    assert made is not None
    point = doubt(made.confirmations[0])
    assert point in {one.text for one in points(made)}
    visitor.do("ask", point=point)
    assert "to be asked" in visitor.get("/").text.partition('id="h-unread"')[0]
    visitor.do("sent")
    assert f"asked {today()}" in visitor.get("/").text.partition('id="h-unread"')[0]
    form = re.search(rf'name="point" value="{re.escape(html.escape(point))}">\n?.*?name="line" value="([^"]+)"', visitor.get("/").text, re.DOTALL)  # fmt: skip
    assert form is not None
    line = html.unescape(form[1])
    assert "kept as answered" in visitor.do("line", line=line, source="architect", point=point).json()["told"]
    assert job(visitor)["letter"]["asked"] == [f"{point} [{today()}] [answered {today()}: {line}]"]  # type: ignore[index]
    assert f"answered {today()}: {line}" in html.unescape(visitor.get("/asks", headers={"x-panes": "1"}).text)


def test_a_list_from_a_spreadsheet_becomes_a_schedule_of_the_job(visitor: Visitor) -> None:
    visitor.do("list", name="", text="name\tlength\twidth\theight\nLoft\t12 ft\t10'-6\"\t8 ft\n")
    assert job(visitor)["schedules"] == ["measured.csv"]
    made = visitor.bench.look().estimate
    assert made is not None
    assert "Loft" in {room.name for room in made.job.rooms}
    assert visitor.do("list", text="only one line").json()["refused"]


def test_a_job_that_cannot_be_worked_out_says_why_and_keeps_the_last_order(visitor: Visitor) -> None:
    visitor.get("/")
    said = visitor.do(
        "row", table="rooms", **{"at-row": "0"}, was=visitor.was("rooms", 0), name="Stove room", length="ten"
    ).json()
    assert "cannot be worked out" in said["panes"]["top"]
    assert "From before the last change" in said["panes"]["order"]
    assert "gypsum board" in said["panes"]["order"]
    assert "class=wrong" in said["panes"]["measures"]


def test_a_job_file_that_is_no_toml_can_be_mended_in_its_text(visitor: Visitor) -> None:
    (visitor.bench.folder.root / "job.toml").write_text("name = \n", encoding="utf-8")
    page = visitor.get("/").text
    assert "cannot be worked out" in page
    assert visitor.do("row-new", table="rooms", name="A").json()["refused"]
    visitor.do("text", name="job.toml", stamp=visitor.bench.folder.stamp("job.toml"), text=JOB)
    assert visitor.bench.look().estimate is not None


def test_what_was_typed_and_refused_is_still_there_without_a_script(visitor: Visitor) -> None:
    visitor.do("line", line="Paint it nicely.", source="", script=False)
    page = visitor.get("/").text
    assert "Paint it nicely." in page
    assert "was not written" in page


def test_nothing_that_a_document_or_a_form_says_becomes_markup(tmp_path: Path) -> None:
    loft(tmp_path)
    (tmp_path / "finishes.txt").write_text(f"{HOSTILE}\nWalls: two coats eggshell.\n", encoding="utf-8")
    visitor = Visitor(tmp_path)
    shown = [
        visitor.do("row-new", table="rooms", name=HOSTILE, length=HOSTILE),
        visitor.do("line", line=HOSTILE, source=HOSTILE),
        visitor.do("name", name=HOSTILE),
        visitor.do("paste", role="house", name=HOSTILE, text=HOSTILE),
        visitor.do("undo"),
    ]
    answers = [
        pane for answer in shown for pane in answer.json()["panes"].values()
    ]  # `told` is shown as text by the script
    answers += [visitor.get(path).text for path in ("/", "/?document=finishes.txt&table=rooms", "/papers")]
    for text in answers:
        assert "<script>alert" not in text
        assert "<img src=x" not in text
        assert "49" not in re.findall(r"&amp; (\S+)", text)


def test_unknown_deeds_and_tables_are_refused(visitor: Visitor) -> None:
    assert visitor.do("format-disk").status_code == 404
    assert visitor.do("row-new", table="prices", name="x").json()["refused"]
    assert visitor.do("row", table="rooms", **{"at-row": "-1"}, was="").json()["refused"]
    assert visitor.do("paste", role="emperor", text="x").json()["refused"]


def test_what_another_program_writes_in_between_is_not_lost(visitor: Visitor, monkeypatch: pytest.MonkeyPatch) -> None:
    theirs = JOB.replace("Net loft", "Theirs")
    change = type(visitor.bench.folder).change

    def late(folder: Any, *args: Any) -> None:
        (folder.root / "job.toml").write_text(theirs, encoding="utf-8")
        change(folder, *args)

    monkeypatch.setattr(type(visitor.bench.folder), "change", late)
    assert visitor.do("line", line="Walls: two coats satin.", source="").json()["refused"]
    assert visitor.bench.folder.text("job.toml") == theirs


def test_a_conflict_is_answered_by_choosing_one_of_the_readings(visitor: Visitor) -> None:
    (visitor.bench.folder.root / "finishes.txt").write_text(
        "Walls: two coats eggshell finish paint.\n\nWalls: three coats eggshell finish paint.\n", encoding="utf-8"
    )
    made = visitor.bench.look().estimate
    assert made is not None
    assert [rule.amount.value for c in made.conflicts for rule in (c.used, *c.others)] == [3, 2]
    page = visitor.get("/").text
    offered = re.findall(r'name="line" value="([^"]+)"><input type="hidden" name="source" value="([^"]+)"', page)
    assert ["3 coats" in line for line, _ in offered] == [True, False]
    line, source = offered[1]
    assert not visitor.do("line", line=line, source=source).json()["refused"]
    settled = visitor.bench.look().estimate
    assert settled is not None
    assert not settled.conflicts
    assert job(visitor)["rules"][-1] == f"{line} [{source}]"  # type: ignore[index]


def test_what_stands_on_a_paper_is_written_into_the_job_and_not_over_what_others_wrote(visitor: Visitor) -> None:
    def was(paper: str) -> str:
        found = re.search(
            rf'name="paper" value="{paper}"><input type="hidden" name="was" value="(\w+)"', visitor.get("/papers").text
        )
        assert found is not None
        return found[1]

    before = was("letter")
    said = {"to": "Quay architects <x>", "reply_by": "May 14", "date": ""}
    answer = visitor.do("sending", script=False, paper="letter", was=before, **said)
    assert answer.headers["location"] == "/papers"
    assert job(visitor)["letter"] == {"to": "Quay architects <x>", "reply_by": "May 14"}
    page = visitor.get("/papers").text
    assert "was written into the job" in page
    assert 'value="Quay architects &lt;x&gt;"' in page
    assert "Quay architects <x>" in visitor.get("/paper/letter").text
    visitor.do("sending", script=False, paper="letter", was=before, to="Somebody else", reply_by="May 20")
    assert job(visitor)["letter"] == {"to": "Quay architects <x>", "reply_by": "May 14"}
    page = visitor.get("/papers").text
    assert "changed since" in page
    assert 'value="May 20"' in page  # what was typed is still there
    visitor.do("sending", paper="order", was=was("order"), deliver_to="The side door", excluded="no")
    assert job(visitor)["order"] == {"deliver_to": "The side door"}
    assert visitor.do("sending", paper="rooms", was="", name="x").json()["refused"]
    visitor.do("undo")
    assert "order" not in job(visitor)


def test_what_is_not_ours_stands_under_the_exclusions_with_its_reason_and_is_taken_back(visitor: Visitor) -> None:
    order = visitor.get("/paper/order").text
    clause = {"words": "B. Ceilings: flat to cover.", "at": "finishes.txt 5", "lines": "Used for: primer"}
    assert visitor.do("not-ours", **clause, why=" ").json()["refused"]
    said = visitor.do("not-ours", **clause, why="the [owner] paints them.").json()
    assert "The order stays as it was: Used for: primer." in said["told"]
    line = f"“B. Ceilings: flat to cover.”: not ours, because the [owner] paints them [finishes.txt 5, {today()}]"
    assert job(visitor)["scope"] == {"excluded": [line]}
    assert line in visitor.get("/paper/scope").text.replace("\n  ", " ")
    assert visitor.get("/paper/order").text == order
    assert visitor.do("ours-again", number="1", line=line).json()["refused"]
    visitor.do("ours-again", number="0", line=line)
    assert "excluded" not in job(visitor)["scope"]  # type: ignore[operator]


def test_points_are_marked_asked_and_stay_in_the_file_and_the_letter_is_made_from_them(visitor: Visitor) -> None:
    def now() -> Estimate:
        made = visitor.bench.look().estimate
        assert made is not None
        return made

    every = [point.text for point in points(now())]
    assert len(every) > 2
    assert [point.text for point in asked(now())] == every
    chosen = every[1]
    assert "asks it" in visitor.do("ask", point=chosen).json()["told"]
    visitor.do("ask", point=chosen)
    assert job(visitor)["letter"] == {"ask": [chosen]}
    assert [point.text for point in asked(now())] == [chosen]
    assert [point.text for point in points(now())] == [
        chosen,
        every[0],
        *every[2:],
    ]  # the scope note counts as the letter
    letter = visitor.get("/paper/letter").text
    assert chosen.split()[0] in letter
    assert not any(text in " ".join(letter.split()) for text in every if text != chosen)
    shown = visitor.get("/asks", headers={"x-panes": "1"}).text
    assert "to be asked" in shown
    assert visitor.do("leave", point="Why?").json()["refused"]
    assert "kept as asked today" in visitor.do("sent").json()["told"]
    assert job(visitor)["letter"] == {"asked": [f"{chosen} [{today()}]"]}
    assert [point.text for point in asked(now())] == [chosen]  # the letter can be printed again
    assert f"asked {today()}" in visitor.get("/asks").text
    assert visitor.do("sent").json()["refused"]
    visitor.do("undo")
    visitor.do("leave", point=chosen)
    assert "letter" not in job(visitor) or "ask" not in job(visitor)["letter"]  # type: ignore[operator]


def test_a_point_that_was_asked_and_is_answered_is_told_as_no_longer_open(visitor: Visitor) -> None:
    visitor.do("ask", point="How many coats of tar on the keel?")
    assert "marked; no longer open in these words" in visitor.get("/asks").text
    assert visitor.get("/paper/letter").text.count("?") > 2  # what is not open keeps nothing else from being asked
    visitor.do("sent")
    assert "no longer open" in visitor.get("/asks").text


def test_an_answer_to_what_was_asked_is_kept_with_it(visitor: Visitor) -> None:
    made = visitor.bench.look().estimate
    assert made is not None
    point = next(one.text for one in points(made) if "finish paint" in one.text)
    visitor.do("ask", point=point)
    visitor.do("sent")
    told = visitor.do("line", line="Primer: 300 sq ft per gal.", source="architect, June 9", point="another").json()[
        "told"
    ]
    assert "answered" not in told
    told = visitor.do(
        "line", line="Finish paint on ceilings: two coats.", source="architect, June 9", point=point
    ).json()["told"]
    assert "The point is kept as answered." in told
    (kept,) = job(visitor)["letter"]["asked"]
    assert kept.startswith(f"{point} [")
    assert kept.endswith(f"] [answered {today()}: Finish paint on ceilings: two coats.]")
    assert dated(kept)[0] == point
    assert job(visitor)["rules"][-1] == "Finish paint on ceilings: two coats. [architect, June 9]"
    assert "tag done" in visitor.get("/asks", headers={"x-panes": "1"}).text


FREE = "Who washes the frames?"


def test_a_question_of_her_own_about_a_clause_goes_into_the_letter_and_can_be_taken_back(visitor: Visitor) -> None:
    before = visitor.bench.folder.text("job.toml")
    found = visitor.get("/clause?document=finishes.txt&mark=line-5").json()
    assert found["there"] == "Ceilings: one coat primer, flat to cover"
    assert found["at"] == "finishes.txt, line 5"
    said = visitor.do("question", ask=f" {FREE} ", at=found["at"], words=found["there"]).json()
    assert "the letter asks it" in said["told"]
    line = f"{FREE} [finishes.txt, line 5: “{found['there']}”]"
    assert job(visitor)["letter"] == {"questions": [line]}
    assert FREE in said["panes"]["points"]
    letter = " ".join(visitor.get("/paper/letter").text.split())
    assert f"{FREE} Clause: B (finishes.txt, line 5): “Ceilings: one coat primer, flat to cover”" in letter
    assert visitor.do("question", ask=FREE).json()["refused"]  # the same again
    assert visitor.do("question-remove", number="0", line="another").json()["refused"]
    assert not visitor.do("question-remove", number="0", line=line).json()["refused"]
    assert visitor.bench.folder.text("job.toml").replace("\n[letter]\n", "") == before
    assert FREE not in visitor.get("/paper/letter").text
    visitor.do("undo")
    assert job(visitor)["letter"] == {"questions": [line]}


def test_a_question_of_her_own_goes_with_what_is_marked_and_is_asked_and_answered_like_it(visitor: Visitor) -> None:
    made = visitor.bench.look().estimate
    assert made is not None
    point = points(made)[0].text
    visitor.do("question", ask=FREE)
    assert visitor.do("sent").json()["refused"]  # nothing is marked: the letter asks everything
    visitor.do("ask", point=point)
    shown = visitor.get("/asks", headers={"x-panes": "1"}).text
    assert "The letter asks the 2 that are marked." in shown
    assert "2 points are" in visitor.do("sent").json()["told"]
    assert job(visitor)["letter"] == {"questions": [FREE], "asked": [f"{point} [{today()}]", f"{FREE} [{today()}]"]}
    told = visitor.do("line", line="Walls: three coats eggshell.", source="architect", point=FREE).json()
    assert "kept as answered" in told["told"]
    assert "answered" in told["panes"]["points"].partition("h-yours")[2]
    assert FREE not in visitor.get("/paper/letter").text


def test_a_question_of_her_own_that_is_answered_before_it_was_asked_is_asked_no_more(visitor: Visitor) -> None:
    visitor.do("question", ask=FREE)
    visitor.do("line", line="Walls: three coats eggshell.", source="architect", point=FREE)
    assert job(visitor)["letter"]["asked"] == [f"{FREE} [answered {today()}: Walls: three coats eggshell.]"]  # type: ignore[index]
    assert FREE not in visitor.get("/paper/letter").text


@pytest.mark.parametrize(
    ("ask", "words", "why"),
    [("  ", "", "what is to be asked"), (FREE, "Frames: white.", "no document"), ("x" * 500, "", "at most")],
)
def test_a_question_that_cannot_be_asked_is_refused(visitor: Visitor, ask: str, words: str, why: str) -> None:
    before = visitor.bench.folder.text("job.toml")
    assert why in visitor.do("question", ask=ask, words=words).json()["told"]
    assert visitor.bench.folder.text("job.toml") == before


def test_a_question_of_her_own_by_hand_whose_clause_is_gone_is_told_at_the_desk(visitor: Visitor) -> None:
    text = visitor.bench.folder.text("job.toml")
    (visitor.bench.folder.root / "job.toml").write_text(
        f'{text}\n[letter]\nquestions = ["{HOSTILE.replace(chr(34), "")} [“Frames: white”]"]\n', encoding="utf-8"
    )
    page = visitor.get("/").text
    assert "stands in no document in these words now" in page
    assert "<script>alert" not in page
    assert visitor.get("/clause?document=finishes.txt&mark=line-99").status_code == 404
