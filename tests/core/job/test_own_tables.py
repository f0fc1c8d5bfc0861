"""Tables of the job that trades bring: rows as entries, each mistake at its line, and nothing of them in what all trades are shown."""

from __future__ import annotations

from fractions import Fraction

import pytest

from darby.job.loader import load
from darby.job.marks import Marks
from darby.job.model import Job
from darby.job.own_tables import said
from darby.job.rows.declared import JobTable, Key
from darby.text.spans import Source

DECKS = JobTable(
    "decks", "deck", "flat", of_rooms=True,
    keys=(Key("laid", "word", words=("straight", "diagonal")), Key("side", "length", least="6 in", most="4 ft"), Key("heated", "flag")),
)  # fmt: skip
RAILS = JobTable("rails", "rail", keys=(Key("posts", "count", least="2", most="40", needed=True), Key("maker")))
MARKS = Marks({"color": ("wall",), "finish": ("deck",), "laid": ()}, {}, {"decks": DECKS, "rails": RAILS})
HEAD = 'name = "j"\nunits = "us"\n'
OFFICE = '[[rooms]]\nname = "Office"\nnumber = "12"\nlength = "10 ft"\nwidth = "8 ft"\nheight = "9 ft"\n'
HALL = '[[decks]]\nname = "Hall deck"\nlength = "20 ft"\nwidth = "6 ft"\n'


def job(text: str, marks: Marks = MARKS) -> Job:
    made, found = load(Source("job.toml", HEAD + text), marks)
    assert made is not None, [d.message for d in found]
    return made


def test_a_row_is_an_entry_with_a_surface_and_its_values_which_no_other_trade_is_shown() -> None:
    made = job(OFFICE + HALL + 'laid = "Diagonal"\nside = "18 in"\nheated = true\nroom = "Hall"\n')
    entry, office = made.entries("decks")[::-1]
    assert (entry.name, entry.room, entry.text("laid"), entry.flag("heated")) == ("Hall deck", "Hall", "diagonal", True)
    side = entry.amount("side")
    assert side is not None
    assert side.exact() == "18 in"
    assert entry.value_places["side"].text == "18 in"
    assert entry.surface is not None
    assert (entry.surface.kind, entry.surface.area.exact(), entry.surface.marks) == (
        "deck",
        "120 sq ft",
        {"laid": "diagonal"},
    )
    assert office.name == "Office deck"
    assert {s.kind for s in made.surfaces} == {"wall", "ceiling"}
    assert {s.kind for s in made.measured} == {"wall", "ceiling", "deck"}
    assert [place.name for place in made.places] == ["Office", "Hall"]


def test_without_a_key_there_is_nothing_under_it() -> None:
    (entry,) = job(HALL).entries("decks")
    assert (entry.text("laid"), entry.amount("side"), entry.flag("heated"), entry.flag("heated", default=True)) == (
        "",
        None,
        False,
        True,
    )


def test_each_measured_room_has_one_and_each_of_rooms_that_are_alike() -> None:
    round_room = (
        '[[rooms]]\nname = "Bay"\nperimeter = "30 ft"\narea = "50 sq ft"\nheight = "9 ft"\nceiling = false\ncount = 2\n'
    )
    named = '[[rooms]]\nname = "Court"\nnumber = "9"\n[[walls]]\nname = "w"\nlength = "9 ft"\nheight = "9 ft"\nroom = "Court"\n'
    found = job(OFFICE + round_room + named).entries("decks")
    assert [(e.name, e.room, e.surface.area.value if e.surface else 0) for e in found] == [
        ("Office deck", "Office", Fraction(80)), ("Bay deck", "Bay", Fraction(50)), ("Bay deck (2 of 2)", "Bay", Fraction(50)),
    ]  # fmt: skip


def test_a_row_that_names_a_room_is_all_of_that_room() -> None:
    found = job(OFFICE + HALL.replace("Hall deck", "Office, east half") + 'room = "12"\n').entries("decks")
    assert [(e.name, e.room) for e in found] == [("Office, east half", "Office")]


def test_a_key_of_a_room_reaches_it_where_it_names_its_kind() -> None:
    (deck,) = job(OFFICE + 'finish = "oiled"\ncolor = "red"\n').entries("decks")
    assert deck.surface is not None
    assert deck.surface.marks == {"finish": "oiled"}
    assert deck.surface.mark_places["finish"].text == "oiled"


def test_openings_lie_in_rows_and_in_what_rooms_have() -> None:
    hole = '[[openings]]\nname = "shaft"\nwall = "{}"\nwidth = "2 ft"\nheight = "3 ft"\n'
    made = job(OFFICE + HALL + hole.format("Hall deck") + hole.format("Office deck"))
    assert [[o.name for o in e.surface.openings] for e in made.entries("decks") if e.surface] == [["shaft"], ["shaft"]]


def test_without_a_shape_a_row_is_what_its_keys_say() -> None:
    (rail,) = job('[[rails]]\nname = "stair"\nroom = "Well"\nposts = 12\nmaker = "any"\n').entries("rails")
    posts = rail.amount("posts")
    assert posts is not None
    assert (posts.value, rail.surface, rail.room, rail.text("maker")) == (12, None, "Well", "any")


def test_a_schedule_has_such_rows_in_a_column_what() -> None:
    table = Source("rows.csv", "what,name,length,width,posts\ndeck,Roof deck,10 ft,9 ft,\nrail,ramp,,,4\n")
    made, found = load(Source("job.toml", HEAD + 'schedules = "rows.csv"\n'), MARKS, lambda _name, _at: (table, ()))
    assert made is not None, found
    assert [(e.table, e.name) for e in made.own] == [("decks", "Roof deck"), ("rails", "ramp")]
    assert str(made.own[0].span).startswith("rows.csv")


@pytest.mark.parametrize(
    ("text", "code", "message", "help"),
    [
        (HALL + 'laid = "diagonl"\n', "job-mark", 'laid of deck "Hall deck" is "diagonl"', "Did you mean diagonal? It is one of: straight, diagonal."),
        (HALL + 'side = "9 ft"\n', "job-out-of-range", 'side of deck "Hall deck" is 9 ft; it is 6 in to 4 ft', "Look for a wrong unit"),
        (HALL + 'side = "9"\n', "job-no-unit", 'side of deck "Hall deck" is 9 without a unit', 'Write side = "9 ft".'),
        (HALL + 'heated = "yes"\n', "job-wrong-type", "true or false is wanted", "heated = true"),
        (HALL + 'sied = "9 in"\n', "job-unknown-key", 'deck "Hall deck" has no key "sied"', "Did you mean side?"),
        (HALL + HALL, "job-duplicate-name", 'the name "Hall deck" is taken', ""),
        (HALL.replace("Hall deck", "Office deck") + OFFICE, "job-duplicate-name", 'the name "Office deck" is taken', ""),
        ('[[decks]]\nname = "d"\nlength = "4 ft"\n', "job-missing-key", 'deck "d" has no width', 'Write width = "..."'),
        ('[[rails]]\nname = "r"\n', "job-missing-key", 'rail "r" has no posts', "Write posts = 2."),
        ('[[rails]]\nname = "r"\nposts = 1\n', "job-out-of-range", "posts", "Look for"),
        ('[[deks]]\nname = "r"\n', "job-unknown-table", '"deks" has no place in the job file', "Did you mean decks?"),
        ('[[rails]]\nname = "r"\nposts = 4\nlength = "4 ft"\n', "job-unknown-key", 'rail "r" has no key "length"', "posts"),
    ],
)  # fmt: skip
def test_a_mistake_is_told_at_its_line_with_a_way_out(text: str, code: str, message: str, help: str) -> None:
    made, found = load(Source("job.toml", HEAD + text), MARKS)
    assert made is None
    told = [d for d in found if d.code == code and message in d.message and help in d.help]
    assert told, [(d.code, d.message, d.help) for d in found]
    assert told[0].span is not None
    assert told[0].span.line > 2


def test_without_the_trade_the_table_has_no_place() -> None:
    _, found = load(Source("job.toml", HEAD + HALL))
    assert [d.code for d in found] == ["job-unknown-table"]
    made, found = load(Source("job.toml", HEAD + OFFICE + HALL), Marks({}, aside=["decks"]))
    assert made is not None
    assert not made.own


def test_all_that_the_keys_of_a_row_say_is_told_with_its_place() -> None:
    (entry,) = job(HALL + 'laid = "diagonal"\nside = "18 in"\nheated = false\n').entries("decks")
    assert [(key, words, amount and amount.exact(), span.text) for key, words, amount, span in said(entry)] == [
        ("laid", "diagonal", None, "diagonal"), ("side", "", "18 in", "18 in"), ("heated", "no", None, "false"),
    ]  # fmt: skip
