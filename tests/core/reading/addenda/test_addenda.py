"""Addenda delete what they name, change the number they name, and ask about what they do not find."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import reads
from darby.reading.addenda.addenda import addenda_numbers, amend, own_number
from darby.reading.read import Language, Reading, read
from darby.rules.cascade import RuleBook
from darby.rules.rule import SPECIFICATION, Rule, addendum
from darby.rules.systems import join_systems
from darby.text.diagnostics import Diagnostic, Severity
from darby.text.spans import Source

BOARD = """\
SECTION 09 29 00
GYPSUM BOARD

PART 2 - PRODUCTS
2.01 BOARD
    A. Gypsum board on walls: 1/2 inch thick, 4 feet wide by 12 feet long.

PART 3 - EXECUTION
3.01 PREPARATION
    A. Sweep the floor.
3.02 FASTENING
    A. Screws on ceilings: 12 inches on center.
    B. Screws on walls: 16 inches on center.
    C. Nails:
        1. Nails on ceilings: 7 inches on center.
        2. Nails on walls: 8 inches on center.
3.03 FINISHING
    A. Finish level of gypsum board: Level 4.
"""
PAINT = """\
SECTION 09 91 23
PAINTING

PART 2 - PRODUCTS
2.01 RATES
    A. Primer: 300 sq ft per gallon.
    B. Finish paint: 350 to 400 sq ft per gallon.

PART 3 - EXECUTION
3.02 APPLICATION
    A. Walls and ceilings: two coats finish paint.
    B. Doors: one coat primer, one coat finish paint.
    C. Trim: first coat primer, second coat finish paint.
"""


@pytest.fixture(scope="module")
def language() -> Language:
    return reads.language()


class Job:
    """The two sections with some addenda carried out."""

    def __init__(self, language: Language, *addenda: str, specs: tuple[str, ...] = (BOARD, PAINT)) -> None:
        self.before: list[Reading] = [reads.paper(text, f"spec-{n}.txt") for n, text in enumerate(specs)]
        papers = ((Source(f"add-{n}.txt", text), addendum(n)) for n, text in enumerate(addenda, 1))
        self.before += [read(source, layer, language) for source, layer in papers]
        self.readings, self.told = amend(self.before, language)

    @property
    def rules(self) -> list[Rule]:
        return [rule for reading in self.readings for rule in reading.rules]

    def said(self, kind: str, subject: str, **scope: str) -> list[tuple[str, str]]:
        """What rules say of a thing, each with its layer, the last one first."""
        wanted = scope.items()
        found = [r for r in self.rules if (r.kind.name, r.subject) == (kind, subject) and wanted <= r.scope.items()]
        return [(r.says(), r.layer.name) for r in sorted(found, key=lambda r: r.layer, reverse=True)]

    @property
    def codes(self) -> list[str]:
        return [d.code for d in self.told]

    @property
    def asked(self) -> list[Diagnostic]:
        return [d for d in self.told if d.severity is Severity.QUESTION]


def test_the_sections_say_what_the_tests_take_them_to_say(language: Language) -> None:
    job = Job(language)
    assert len(job.rules) == 15
    assert job.said("spacing", "screw", surface="wall") == [("16 in", "specification")]


@pytest.mark.parametrize(
    "line",
    [
        "Section 09 29 00, delete paragraph 3.02.B.",
        "Section 09 29 00: Paragraph 3.2 B is deleted in its entirety.",
        "Section 09 29 00, Paragraph 3.02.B: Delete.",
        "In Section 092900, omit Para. 3.2.B entirely.",
        "SECTION 09 29 00\n1. Paragraph 3.02(B): delete this paragraph.",
        "SECTION 09 29 00 - GYPSUM BOARD\n  A. Delete paragraph 3.02 B.",
        "Section 09 29 00:\n  1. Delete 3.02.B.",
        "Section 09 29 00, Paragraph 3.02.B: Not used.",
        "Section 09 29 00, strike out paragraph\n3.02.B.",
        "Section 09 29 00, Paragraph 3.02.B is withdrawn.",
        "Section 09 29 00, 3.02.B - WITHDRAWN.",
        "Section 09 29 00, Paragraph 3.02.B no longer applies.",
        "Section 09 29 00, disregard paragraph 3.02.B.",
        "Section 09 29 00, 3.02.B, SCREWS ON WALLS: delete in its entirety.",
        "Section 09 29 00, paragraph 3.02.B has been cancelled.",
    ],
)
def test_a_deleted_paragraph_leaves_the_specification(language: Language, line: str) -> None:
    job = Job(language, f"ADDENDUM 1\n\n{line}\n")
    assert job.codes == ["amended"]
    assert not job.said("spacing", "screw", surface="wall")
    assert len(job.rules) == 14
    gone = job.told[0].labels[1].span
    assert (gone.source.name, gone.text) == ("spec-0.txt", "16 inches on center")
    assert "spacing of screw (wall) 16 in" in job.told[0].message
    assert not job.readings[-1].diagnostics


def test_a_deleted_article_takes_all_below_it_along(language: Language) -> None:
    job = Job(language, "Section 09 29 00: Delete Article 3.02.")
    assert not job.said("spacing", "screw")
    assert not job.said("spacing", "nail")


def test_several_paragraphs_are_deleted_in_one_breath(language: Language) -> None:
    job = Job(language, "Section 09 29 00: Delete paragraphs 3.02.A, 3.02.B and 3.02.C.2.")
    assert job.codes == ["amended"] * 3
    assert [r.span.text for r in job.rules if r.kind.name == "spacing"] == ["7 inches on center"]


def test_a_deleted_section_is_gone_altogether(language: Language) -> None:
    job = Job(language, "Delete Section 09 91 23 in its entirety.")
    assert {r.span.source.name for r in job.rules} == {"spec-0.txt"}


def test_an_item_below_a_paragraph_is_found_by_its_number(language: Language) -> None:
    job = Job(language, "Section 09 29 00, delete paragraph 3.02.C.1.")
    assert job.said("spacing", "nail") == [("8 in", "specification")]


@pytest.mark.parametrize(
    "line",
    [
        "change 12 to 8",
        'change "12" to "8"',
        "change 12 inches to 8 inches",
        "change “12 inches on center” to “8 inches on center”",
        "revise 12 inches on center to read 8 inches on center",
        "replace 12 inches with 8 inches",
        "substitute 8 inches for 12 inches",
        "in lieu of 12 inches provide 8 inches",
        "for 12 read 8",
        "delete 12 and insert 8",
        "12 inches is changed to 8 inches",
        "change the spacing from 12 inches to 8 inches",
        "change 12 inches (300 mm) to 8 inches (200 mm)",
    ],
)
def test_a_changed_number_takes_the_place_of_the_old_one(language: Language, line: str) -> None:
    job = Job(language, f"Section 09 29 00\n\nIn paragraph 3.2 A {line}.\n")
    assert job.said("spacing", "screw", surface="ceiling") == [("8 in", "addendum 1"), ("12 in", "specification")]
    assert job.codes == ["amended"]
    assert not [n for n in job.readings[-1].numbers if n.became == "unread"]
    rule = next(r for r in job.rules if r.layer == addendum(1))
    assert rule.span.text == "8"
    assert rule.span.source.name == "add-1.txt"
    assert rule.amount.step.origin.place == rule.span
    assert rule.bound_by[0][0] == "change"


def test_a_number_said_of_two_surfaces_changes_on_both(language: Language) -> None:
    job = Job(language, "Section 09 91 23, paragraph 3.02.A: change two coats to three coats.")
    assert [job.said("coats", "finish paint", surface=s)[0] for s in ("wall", "ceiling")] == [("3", "addendum 1")] * 2


def test_a_rate_keeps_its_per_and_a_range_its_other_end(language: Language) -> None:
    job = Job(language, "Section 09 91 23, paragraph 2.01: change 300 to 275; in paragraph 2.01 B change 350 to 325.")
    assert job.said("coverage", "primer")[0] == ("275 sq ft per 1 gal", "addendum 1")
    assert job.said("coverage", "finish paint")[0] == ("325 sq ft to 400 sq ft per 1 gal", "addendum 1")


def test_both_numbers_of_a_size_are_told_apart(language: Language) -> None:
    job = Job(language, 'Section 09 29 00, 2.01.A: change "4 feet wide by 12 feet" to "4 feet wide by 14 feet".')
    assert job.said("sheet", "gypsum board")[0] == ("4 ft by 14 ft", "addendum 1")


def test_a_change_may_be_in_other_units(language: Language) -> None:
    job = Job(language, "Section 09 29 00, paragraph 3.02.A: change 12 inches to 200 mm.")
    assert job.said("spacing", "screw", surface="ceiling")[0] == ("200 mm", "addendum 1")


def test_a_better_bound_change_replaces_what_the_reader_made_of_it(language: Language) -> None:
    job = Job(language, "Section 09 29 00, paragraph 3.03.A: In lieu of Level 4 provide Level 5.")
    (rule,) = job.readings[-1].rules
    assert (rule.says(), rule.scope) == ("5", job.before[0].rules[-1].scope)


def test_a_number_that_is_not_there_is_asked_about_by_name(language: Language) -> None:
    job = Job(language, "Section 09 29 00, paragraph 3.02.A: change 10 inches to 8 inches.")
    (asked,) = job.asked
    assert asked.code == "amend-nothing"
    assert "changes 10 to 8 in paragraph 3.02.A of section 09 29 00" in asked.message
    assert "spacing of screw (ceiling) 12 in" in asked.help
    assert job.said("spacing", "screw", surface="ceiling") == [("12 in", "specification")]


def test_a_number_that_is_there_twice_is_asked_about_with_both_places(language: Language) -> None:
    job = Job(language, "Section 09 91 23, paragraph 3.02.B: change one coat to two coats.")
    (asked,) = job.asked
    assert asked.code == "amend-several"
    assert [label.span.text for label in asked.labels[1:]] == ["one coat", "one coat"]
    assert len(job.readings[-1].rules) == len(job.before[-1].rules)


def test_the_words_of_a_change_tell_which_of_two_is_meant(language: Language) -> None:
    job = Job(language, "Section 09 91 23, paragraph 3.02.B: change one coat of primer to two coats of primer.")
    assert job.said("coats", "primer", surface="door")[0] == ("2", "addendum 1")
    assert job.said("coats", "finish paint", surface="door") == [("1", "specification")]


@pytest.mark.parametrize("line", ["delete paragraph 3.09.B", "change 12 to 8 in paragraph 7.1.C", "delete article 4.4"])
def test_a_paragraph_that_is_not_there_is_asked_about(language: Language, line: str) -> None:
    job = Job(language, f"Section 09 29 00: {line}.")
    assert [a.code for a in job.asked] == ["amend-nothing"]
    assert "and there is none" in job.asked[0].message
    assert len(job.rules) == 15


def test_a_paragraph_of_two_sections_is_asked_about_where_none_is_named(language: Language) -> None:
    job = Job(language, "Delete paragraph 3.02.B.")
    assert [a.code for a in job.asked] == ["amend-several"]
    assert "09 29 00 and 09 91 23" in job.asked[0].message
    assert len(job.rules) == 15


def test_a_paragraph_that_only_one_section_has_needs_no_section(language: Language) -> None:
    assert Job(language, "Delete paragraph 3.03.A.").codes == ["amended"]


def test_a_run_of_paragraphs_is_asked_about(language: Language) -> None:
    job = Job(language, "Section 09 29 00: Delete paragraphs 3.02.A through C.")
    assert [a.code for a in job.asked] == ["amend-several"]
    assert len(job.rules) == 15


def test_sections_of_other_trades_are_noted_once(language: Language) -> None:
    job = Job(language, "SECTION 03 30 00\n1. Delete paragraph 3.02.B.\nSECTION 07 92 00\n1. Delete paragraph 2.1.A.\n")
    (note,) = job.told
    assert note.severity is Severity.NOTE
    assert "03 30 00, 07 92 00" in note.message
    assert len(job.rules) == 15


def test_section_headings_that_look_like_page_headers_still_count(language: Language) -> None:
    job = Job(
        language, "SECTION 09 29 00\n1. Delete paragraph 3.02.A.\nSECTION 09 91 23\n1. Delete paragraph 3.02.A.\n"
    )
    assert job.codes == ["amended", "amended"]
    assert not job.said("spacing", "screw", surface="ceiling")
    assert not job.said("coats", "finish paint", surface="ceiling")


def test_a_deleted_coat_goes_where_the_specification_has_it(language: Language) -> None:
    job = Job(language, "Section 09 91 23, paragraph 3.02.C: delete the second coat.")
    assert job.codes == ["amended"]
    assert not job.said("coats", "finish paint", surface="trim")
    assert job.said("coats", "primer", surface="trim")


def test_a_deleted_coat_that_is_not_said_apart_is_asked_about_once(language: Language) -> None:
    job = Job(language, "Section 09 91 23, paragraph 3.02.A: delete the second coat.")
    (asked,) = job.asked
    assert "second coat" in asked.message
    assert "coats of finish paint" in asked.message
    assert not job.readings[-1].diagnostics


def test_a_new_text_takes_away_what_it_does_not_say_again(language: Language) -> None:
    job = Job(
        language, 'Section 09 29 00\n\n1. Paragraph 2.01.A now reads:\n   "Gypsum board on walls: 5/8 inch thick."\n'
    )
    assert job.said("thickness", "gypsum board") == [("5/8 in", "addendum 1"), ("1/2 in", "specification")]
    assert not job.said("sheet", "gypsum board")
    assert "4 ft by 12 ft" in job.told[0].message


def test_a_new_text_that_cannot_be_read_leaves_the_old_one_and_asks(language: Language) -> None:
    job = Job(language, "Section 09 29 00, replace paragraph 3.02.A with the following: Space them at 9.")
    assert [a.code for a in job.asked] == ["amend-nothing"]
    assert job.said("spacing", "screw", surface="ceiling") == [("12 in", "specification")]


def test_what_is_deleted_and_replaced_is_both(language: Language) -> None:
    job = Job(
        language,
        "Section 09 91 23: Delete paragraph 2.01.A and substitute the following: Primer: 250 sq ft per gallon.",
    )
    assert job.said("coverage", "primer")[0] == ("250 sq ft per 1 gal", "addendum 1")
    assert not job.asked


def test_words_of_a_new_text_are_no_instructions(language: Language) -> None:
    job = Job(language, "Section 09 29 00: Add paragraph 3.01.B: Delete loose dust. Remove 2 screws in 3.\n")
    assert not job.told


def test_a_later_addendum_changes_what_an_earlier_one_made(language: Language) -> None:
    first = "Section 09 29 00, paragraph 3.02.A: change 12 to 8."
    job = Job(language, first, "Section 09 29 00, paragraph 3.02.A: change 8 to 6.")
    assert job.codes == ["amended", "amended"]
    assert [v for v, _ in job.said("spacing", "screw", surface="ceiling")] == ["6 in", "8 in", "12 in"]
    again = Job(language, first, "Section 09 29 00, paragraph 3.02.A: change 12 to 6.")
    assert [a.code for a in again.asked] == ["amend-nothing"]


def test_deleting_what_was_changed_does_not_bring_the_old_one_back(language: Language) -> None:
    change = "Section 09 29 00, paragraph 3.02.A: change 12 to 8."
    job = Job(language, change, "Section 09 29 00, delete paragraph 3.02.A.")
    assert not job.said("spacing", "screw", surface="ceiling")


def test_a_number_that_cannot_be_is_not_put_in(language: Language) -> None:
    job = Job(language, "Section 09 29 00, paragraph 3.02.A: change 12 inches to 8 feet.")
    assert [a.code for a in job.asked] == ["amend-nothing"]
    assert job.said("spacing", "screw", surface="ceiling") == [("12 in", "specification")]


def test_a_section_may_be_known_by_the_name_of_its_file(language: Language) -> None:
    spec = Source("09-29-00-board.txt", BOARD.partition("\n")[2])
    papers = [(spec, SPECIFICATION), (Source("a.txt", "Section 09 29 00: delete paragraph 3.02.B."), addendum(1))]
    readings, told = amend([read(source, layer, language) for source, layer in papers], language)
    assert [d.code for d in told] == ["amended"]
    assert len(readings[0].rules) == 6


def test_an_addendum_that_only_adds_changes_nothing_else(language: Language) -> None:
    job = Job(language, "Section 09 29 00: Screws on walls: 10 inches on center.")
    assert job.readings == job.before
    assert not job.told


WIDE_AND_NARROW = """\
SECTION 09 29 00
GYPSUM BOARD

2.01 BOARD
    A. Gypsum board: 1/2 inch thick.
    B. Gypsum board on ceilings: 1/4 inch thick.
"""


@pytest.mark.parametrize(
    "line",
    [
        "Section 09 29 00, Paragraph 2.01.A: change 1/2 inch to 5/8 inch.",
        'Section 09 29 00, Paragraph 2.01.A now reads:\n    "Gypsum board: 5/8 inch thick."',
    ],
)
def test_a_changed_paragraph_still_gives_way_to_the_narrower_one_beside_it(language: Language, line: str) -> None:
    job = Job(language, line, specs=(WIDE_AND_NARROW,))
    assert not job.asked
    assert sorted(says for says, _ in job.said("thickness", "gypsum board")) == ["1/4 in", "5/8 in"]
    for surface, says in (("wall", "5/8 in"), ("ceiling", "1/4 in")):
        answer = RuleBook(job.rules).ask("thickness", "gypsum board", {"surface": surface})
        assert answer is not None
        assert answer.rule.says() == says
        assert answer.conflict is None


def test_a_paragraph_changed_twice_still_gives_way_to_the_narrower_one(language: Language) -> None:
    change = "Section 09 29 00, Paragraph 2.01.A: change {} inch to {} inch."
    job = Job(language, change.format("1/2", "3/8"), change.format("3/8", "5/8"), specs=(WIDE_AND_NARROW,))
    assert sorted(says for says, _ in job.said("thickness", "gypsum board")) == ["1/4 in", "5/8 in"]
    answer = RuleBook(job.rules).ask("thickness", "gypsum board", {"surface": "ceiling"})
    assert answer is not None
    assert answer.rule.says() == "1/4 in"


PIECES = st.sampled_from(
    [*"SECTION 09 29 00|Section 09 91 23, |paragraph 3.02.A|3.2(B)|article 3.02 |: |. |; |\n|\n\n|1. |change |delete |12|8 inches|"
     '"two coats"| to | to read |now reads: |replace |with |in lieu of |is deleted|and |add |the following: |“|”|through C|'
     "second coat|300 sq ft per gallon|½|(300 mm)".split("|")]
)  # fmt: skip


@settings(max_examples=120)
@given(st.lists(PIECES, max_size=25).map("".join))
def test_no_addendum_makes_it_raise_and_every_number_stays_accounted_for(text: str) -> None:
    job = Job(reads.language(), text)
    for before, after in zip(job.before, job.readings, strict=True):
        assert [n.span for n in before.numbers] == [n.span for n in after.numbers]
    assert all(d.span is not None and d.code in ("amended", "amend-nothing", "amend-several") for d in job.told)


@pytest.mark.parametrize(
    "line",
    [
        'Paragraph 3.02.A: change "12" to "8" and delete paragraph 3.02.B.',
        'Delete paragraph 3.02.B and in 3.02.A change "12" to "8".',
        "In 3.02.A change 12 inches to 8 inches, and delete 3.02.B.",
    ],
)
def test_a_change_does_not_hide_that_another_paragraph_is_deleted(language: Language, line: str) -> None:
    job = Job(language, f"ADDENDUM 1\n\nSECTION 09 29 00\n\n{line}\n")
    assert job.said("spacing", "screw", surface="wall") == []
    assert job.said("spacing", "screw", surface="ceiling")[0] == ("8 in", "addendum 1")


def test_words_that_a_change_and_a_deletion_stand_beside_are_deleted(language: Language) -> None:
    line = (
        'Section 09 91 23, paragraph 3.02.B: change "one coat primer" to "two coats primer" and delete "finish paint".'
    )
    job = Job(language, f"ADDENDUM 1\n\n{line}\n")
    assert job.said("coats", "primer", surface="door")[0] == ("2", "addendum 1")
    assert any("finish paint" in d.message for d in job.told)


@pytest.mark.parametrize(
    "line",
    [
        'Change "12" to "8" in paragraph 3.02.A and "16" to "12" in paragraph 3.02.B.',
        'In paragraph 3.02.A change "12" to "8" and in the paragraph below change "16" to "12".',
    ],
)
def test_a_second_change_is_of_no_paragraph_that_it_may_not_be_of(language: Language, line: str) -> None:
    job = Job(language, f"ADDENDUM 1\n\nSECTION 09 29 00\n\n{line}\n")
    assert job.said("spacing", "screw", surface="ceiling")[0] == ("8 in", "addendum 1")
    assert job.said("spacing", "screw", surface="wall") == [("16 in", "specification")]
    assert [d.code for d in job.asked] == ["amend-several"]


def test_what_is_told_of_two_paragraphs_in_two_breaths_is_asked_about(language: Language) -> None:
    job = Job(language, 'ADDENDUM 1\n\nSECTION 09 29 00\n\nIn 3.02.A and in 3.02.B, change "12" to "8".\n')
    assert job.said("spacing", "screw", surface="ceiling") == [("12 in", "specification")]
    assert job.asked


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("ADDENDUM NO. 3        Harbor Street Hub\n", 3),
        ("Harbor Street Hub - Addendum 2\n", 2),
        ("\nWARD 3 FIT-OUT\nAddendum No. IV\n", 4),
        ("Addendum Two to the Project Manual\n", 2),
        ("CHANGES\nThis addendum supersedes Addendum 1.\n", None),
        ("Change 12 to 8.\n", None),
    ],
)
def test_an_addendum_tells_its_number_in_its_title(text: str, number: int | None) -> None:
    assert own_number(text) == number


def test_addenda_have_their_own_numbers_or_go_on_in_the_order_of_the_job() -> None:
    assert addenda_numbers(["Addendum No. 2\n"]) == [2]
    assert addenda_numbers(["Addendum 3\n", "Addendum 1\n"]) == [3, 1]
    assert addenda_numbers(["no title\n", "Addendum 1\n", "Addendum 4\n"]) == [1, 2, 4]
    assert addenda_numbers(["Addendum 1\n", "Addendum 1\n"]) == [1, 2]


LEGEND = """\
PART 2 - PRODUCTS
2.1 LEGEND
PT-1: two coats latex eggshell, color Linen.
PT-2: two coats latex semi-gloss, color Sage.
PT-3: Doors: two coats alkyd gloss, color Slate.
2.2 FINISHING
A. Finish all gypsum board to Level 4.
B. Lobby walls: Level 5.
2.3 SCHEDULE
ROOM       WALLS
Lobby      PT-1
Office     PT-2
"""


@pytest.mark.parametrize(
    ("line", "coats"),
    [
        ("PT-1: three coats latex eggshell.", {"3 linen eggshell latex", "2 sage semi-gloss latex"}),
        ("PT-1: three coats.", {"3 linen eggshell latex", "2 sage semi-gloss latex"}),
        ("PT-1: two coats latex eggshell, color Oat.", {"2 oat eggshell latex", "2 sage semi-gloss latex"}),
        ("Change the color of PT-2 to Fern.", {"2 linen eggshell latex", "2 fern semi-gloss latex"}),
        ("Walls with PT-2 get three coats instead of two.", {"2 linen eggshell latex", "3 sage semi-gloss latex"}),
        ('Delete "semi-gloss" from PT-2 and substitute "satin".', {"2 linen eggshell latex", "2 sage satin latex"}),
        ('Wherever "Sage" appears, substitute "Fern".', {"2 linen eggshell latex", "2 fern semi-gloss latex"}),
    ],
)
def test_what_an_addendum_does_not_say_of_a_mark_stays_as_it_was(
    language: Language, line: str, coats: set[str]
) -> None:
    before = reads.paper(LEGEND)
    found, _ = amend([before, _addendum(line, language, before)], language)
    rules = [rule for reading in found for rule in reading.rules]
    book = RuleBook(join_systems(rules).rules, rooms=("Lobby", "Office"))
    looks = ("color", "sheen", "class")
    asked = (
        book.ask("coats", "finish paint", {"room": room, "surface": "wall"}, take=(*looks, "coat"))
        for room in ("Lobby", "Office")
    )
    assert {f"{a.rule.says()} {' '.join(a[key] for key in looks)}" for a in asked if a is not None} == coats


def test_a_new_text_of_a_whole_paragraph_says_all_that_holds(language: Language) -> None:
    job = Job(language, "Paragraph 2.1.A is superseded by: A. Doors: two coats satin.", specs=(DOORS,))
    assert [r.scope.get("color") for r in job.rules if r.kind.name == "coats"] == [None]


DOORS = "2.1 DOORS\n A. Doors: two coats gloss, color Slate.\n"


@pytest.mark.parametrize(
    ("line", "levels"), [("Level 3 except as noted in 2.2.B", {"3", "5"}), ("Level 3, including the lobby", {"3"})]
)
def test_what_is_said_of_all_but_as_noted_gives_way_as_the_old_text_did(
    language: Language, line: str, levels: set[str]
) -> None:
    before = reads.paper(LEGEND)
    found, _ = amend([before, _addendum(f"Finish all gypsum board to {line}.", language, before)], language)
    book = RuleBook([rule for reading in found for rule in reading.rules], rooms=("Lobby", "Office"))
    asked = (book.ask("finish level", "gypsum board", {"room": r, "surface": "wall"}) for r in ("Lobby", "Office"))
    assert {a.rule.says() for a in asked if a is not None} == levels


@pytest.mark.parametrize(
    "line",
    [
        "Level 5 is no longer required on the lobby walls.",
        "PT-1, number of coats: three.",
        "PT-2 color is revised to Fern.",
        "2.2.B: also applies to the office.",
        "Increase the number of coats of PT-1 to three.",
        "Disregard what the legend says of gypsum board.",
    ],
)
def test_no_sentence_that_tells_a_change_is_passed_over(language: Language, line: str) -> None:
    before = reads.paper(LEGEND)
    _, told = amend([before, _addendum(line, language, before)], language)
    assert [d.severity for d in told] == [Severity.QUESTION]


def _addendum(line: str, language: Language, before: Reading) -> Reading:
    source = Source("add.txt", f"ADDENDUM 1\n\n1. {line}\n")
    return read(source, addendum(1), language, elsewhere=before.marks)


def test_a_change_for_a_room_that_its_paragraph_does_not_name_is_the_rule_of_that_room(language: Language) -> None:
    spec = "3.4 Ceilings: two coats flat, color White.\n3.5 Walls: two coats satin.\n"
    job = Job(language, "Clause 3.4: Toilet ceilings: two coats semi-gloss in place of flat.", specs=(spec,))
    assert not job.asked
    assert job.said("coats", "finish paint", room="toilet", sheen="semi-gloss", color="white")
    assert job.said("coats", "finish paint", sheen="flat") == [("2", "specification")]


SHEETS = (
    "SHEET 01\nRoom: Waiting\nCeiling finish: Two coats flat, White\n\nSHEET 02\nRoom: Store\nCeiling finish: Two coats flat, White\n\n"
    "SHEET 03\nDoors: two coats gloss\n"
)


@pytest.mark.parametrize(
    ("line", "room"),
    [
        ("Sheet 02, ceiling finish: one coat flat, White, in lieu of two coats.", "store"),
        ("Sheet 01: ceiling finish: one coat flat, White.", "waiting"),
        ("Sheet 03: ceilings: one coat flat, White.", ""),
        ("Sheet A6.1: ceilings: one coat flat, White.", ""),
    ],
)
def test_what_is_said_of_the_sheet_of_a_room_is_of_that_room(language: Language, line: str, room: str) -> None:
    job = Job(language, line, specs=(SHEETS,))
    found = [r for r in job.rules if r.layer != SPECIFICATION and r.kind.name == "coats"]
    assert [(r.scope.get("room", ""), r.says()) for r in found] == [(room, "1")]
    assert found[0].confirm or "03" not in line
