"""What was read once serves again, and never for another language than the one that read it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from attrs import evolve

from darby.plugin_host.loader import load_plugins
from darby.reading import cache
from darby.reading.cache import Memory, for_text, mark_of, read_once
from darby.reading.parsing.vocabulary import Vocabulary
from darby.reading.read import Language, Reading, read
from darby.rules.rule import DEFAULT, HOUSE, SPECIFICATION
from darby.saved.replay.one import Office, Worked
from darby.text.spans import Source
from reads import language

JOB = 'name = "x"\nunits = "us"\n[[rooms]]\nname = "{}"\nlength = "14 ft"\nwidth = "11 ft"\nheight = "9 ft"\n'
LINES = "Joint compound: 13 lb per 100 sq ft.\n"
OF_A_ROOM = LINES + "Kelp hall walls: three coats finish paint.\n"


@pytest.fixture(scope="module")
def office() -> Office:
    return Office.of(load_plugins())


def worked(office: Office, room: str, house: str) -> Worked:
    return office.work(Source("job.toml", JOB.format(room)), [(Source("house.txt", house), HOUSE)])


def said(one: Worked) -> Any:
    rules = () if one.saved is None else one.saved.rules
    return [(r.kind.name, r.subject, dict(r.scope), r.says()) for r in rules], [d.message for d in one.problems]


@pytest.mark.parametrize("rooms", [("Kelp hall", "Net loft"), ("Net loft", "Kelp hall")], ids=" then ".join)
def test_house_lines_read_beside_one_jobs_rooms_are_read_anew_beside_anothers(rooms: tuple[str, str]) -> None:
    shared = Office.of(load_plugins())
    for room in rooms:
        assert said(worked(shared, room, OF_A_ROOM)) == said(worked(Office.of(load_plugins()), room, OF_A_ROOM))
    assert said(worked(shared, rooms[0], OF_A_ROOM)) != said(worked(shared, rooms[1], OF_A_ROOM))


def counted(office: Office) -> tuple[list[str], Any]:
    """The names of what is really read, and the reader that notes them."""
    names: list[str] = []

    def reader(source: Source, *rest: Any, **how: Any) -> Reading:
        names.append(source.name)
        return read(source, *rest, **how)

    return names, reader


def test_lines_that_speak_of_no_room_are_read_once_for_all_jobs(office: Office) -> None:
    names, reader = counted(office)
    shelf: dict[Any, Reading] = {}
    for room in ("Kelp hall", "Net loft", "Kelp hall"):
        memory = Memory(shelf=shelf, reader=reader)
        memory(Source("house.txt", LINES), HOUSE, office.language.naming([room]), strict=True)
    assert names == ["house.txt"]


def test_a_word_of_a_room_alone_makes_it_another_language(office: Office) -> None:
    """A room's words count as known ones: what is an error in one job is none in another."""
    names, reader = counted(office)
    shelf: dict[Any, Reading] = {}
    for room in ("Kelp hall", "Net loft"):
        memory = Memory(shelf=shelf, reader=reader)
        memory(Source("house.txt", LINES + "Primer by kelp\u00ad-masters: 250 sq ft per gal.\n"), HOUSE,
               office.language.naming([room]), strict=True)  # fmt: skip
    assert len(names) == 2


def test_a_reading_with_fewer_words_or_readers_never_serves_the_whole_language(office: Office) -> None:
    whole = office.language
    for less in (
        Language.of((), ()),
        Language.of((), whole.vocabularies),
        Language.of(whole.readers, whole.vocabularies[:1]),
        Language.of(whole.readers, (*whole.vocabularies, Vocabulary("more", Source("more.toml", '[word]\n"x" = ["kelp"]')))),
    ):  # fmt: skip
        for first, then in ((less, whole), (whole, less)):
            names, reader = counted(office)
            memory = Memory(reader=reader)
            source = Source("house.txt", LINES)
            memory(source, HOUSE, first, strict=True)
            memory(source, HOUSE, then, strict=True)
            memory(source, HOUSE, then, strict=True)
            assert names == ["house.txt"] * 2


def test_what_is_known_holds_for_its_own_language_only(office: Office) -> None:
    spec = Source("spec.txt", "Walls: two coats satin finish paint.\n")
    known = read(spec, SPECIFICATION, office.language)
    memory = Memory({id(spec): known}, language=office.language)
    assert memory(spec, SPECIFICATION, office.language) is known
    assert memory(spec, SPECIFICATION, office.language.naming(["Kelp hall"])) is known
    less = Language.of((), office.language.vocabularies)
    assert memory(spec, SPECIFICATION, less) is not known


def test_the_shelf_keeps_no_more_than_it_can_hold(office: Office, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("darby.reading.cache._MOST_KEPT", 3)
    names, reader = counted(office)
    memory = Memory(reader=reader)
    for n in (*range(6), 5):
        memory(
            Source("house.txt", f"Joint compound: {10 + n} lb per 100 sq ft.\n"), HOUSE, office.language, strict=True
        )
    assert len(memory.shelf) == 3
    assert len(names) == 6  # the last is still there


def test_default_lines_are_those_of_todays_trade_and_no_copy(office: Office) -> None:
    one, copy = (Source("defaults", LINES) for _ in range(2))
    memory = Memory()
    assert memory(one, DEFAULT, office.language, strict=True).source is one
    assert memory(copy, DEFAULT, office.language, strict=True).source is copy


BROKEN = """\
from darby.plugin_host.hooks import hookimpl
from darby.reading.parsing.fact_parser import Reader

DARBY_API = 1


class Fails:
    def __getattr__(self, name):
        raise RuntimeError("worn out")


@hookimpl
def darby_readers():
    return [Reader("frayed", (), "start: number unit\\n%declare number unit\\n", Fails())]
"""


def test_a_reader_that_breaks_takes_no_house_line_along(tmp_path: Path, office: Office) -> None:
    (tmp_path / "frayed.py").write_text(BROKEN)
    broken = Office.of(load_plugins(files=[tmp_path / "frayed.py"]))
    one = worked(broken, "Net loft", LINES)
    assert one.saved is not None, one.problems
    assert one.saved.missing
    whole = worked(office, "Net loft", LINES)
    assert whole.saved is not None
    assert [line.need for line in one.saved.items] == [line.need for line in whole.saved.items]


def test_the_mark_of_a_language_moves_with_every_word_and_grammar_of_it() -> None:
    first = language()
    reader, words = first.readers[0], first.vocabularies[0]
    others = [
        Language.of([evolve(reader, name="another"), *first.readers[1:]], first.vocabularies),
        Language.of([evolve(reader, grammar=f"{reader.grammar}\n// another"), *first.readers[1:]], first.vocabularies),
        Language.of(first.readers, [evolve(words, name="another"), *first.vocabularies[1:]]),
        Language.of(
            first.readers,
            [evolve(words, source=Source("w.toml", f"{words.source.text}\n# another")), *first.vocabularies[1:]],
        ),
    ]
    marks = [mark_of(one) for one in (first, *others)]
    assert all(marks)
    assert len(set(marks)) == len(marks)
    assert mark_of(Language.of(first.readers, first.vocabularies)) == marks[0]


def test_default_lines_are_read_once_for_all_jobs_of_a_program_and_all_else_each_time(
    office: Office, monkeypatch: pytest.MonkeyPatch
) -> None:
    lines, language = Source("defaults", LINES), office.language
    monkeypatch.setattr(cache, "_DEFAULTS", {})
    first = read_once(lines, DEFAULT, language, strict=True)
    assert [r.says() for r in first.rules] == [r.says() for r in read(lines, DEFAULT, language, strict=True).rules]
    assert read_once(lines, DEFAULT, language.naming(["Kelp hall"]), strict=True) is first
    house = [read_once(Source("house.txt", LINES), HOUSE, language, strict=True) for _ in range(2)]
    assert house[0] is not house[1]
    fewer = Language.of(language.readers, language.vocabularies[:1])
    assert read_once(lines, DEFAULT, fewer, strict=True) is not first


def test_the_language_of_the_same_words_is_the_same_and_that_of_others_another(office: Office) -> None:
    readers, words = office.language.readers, office.language.vocabularies
    one = Language.of(readers, words)
    assert Language.of(readers, words) is one
    assert Language.of(readers, words[:2]) is not one
    assert office.language.naming(["Kelp hall"]) is office.language.naming(["Kelp hall"])
    assert office.language.naming(["Kelp hall"]) is not office.language.naming(["Net loft"])


def test_a_text_is_read_by_the_rooms_that_it_may_speak_of_as_by_all_of_them(office: Office) -> None:
    text = Source(
        "spec.txt", "Archives and wash rooms: two coats eggshell. Lobby walls: three coats.\nBay 12: one coat primer.\n"
    )
    rooms = ["Archive", "Wash room 101", "Lobby", "Bay 12", "Kiln", "Attic", "Slip hall"]
    whole = office.language.naming(rooms, ["W3"])
    some = for_text(text, whole)
    assert some is for_text(text, office.language.naming([*rooms, "Tarring yard"], ["W3"]))
    assert some is not for_text(text, office.language.naming([*rooms, "Lobby walls"], ["W3"]))
    assert [told_all(read(text, SPECIFICATION, one)) for one in (some,)] == [told_all(read(text, SPECIFICATION, whole))]
    assert for_text(text, office.language) is office.language


def told_all(made: Reading) -> object:
    rules = [
        (rule.kind.name, rule.subject, str(rule.amount), rule.scope, rule.span.start, rule.confirm)
        for rule in made.rules
    ]
    return rules, [(n.span.start, n.became, n.why) for n in made.numbers], [d.message for d in made.diagnostics]
