"""What is said of our goods, or gives a place something, and made no rule, is on the list of statements; nothing else is."""

from __future__ import annotations

import json

import pytest
from jsonschema import Draft202012Validator

from checkout import ROOT
from darby.documents.exact_json.reading import reading_json
from reads import read_text

SCHEMA = json.loads((ROOT / "core/darby/schemas/reading.schema.json").read_text(encoding="utf-8"))


def said(text: str) -> list[tuple[str, str, bool]]:
    return [(s.span.text, s.why, s.gives) for s in read_text(text).statements]


def test_a_mark_that_nothing_defines_is_listed_where_it_is_given_to_a_place() -> None:
    text = "A. Corridor walls to receive PT-3.\n"
    assert said(text) == [("Corridor walls to receive PT-3", "no rule was made of PT-3 for corridor and wall", True)]


def test_goods_given_to_a_place_without_a_number_are_listed() -> None:
    text = "Boiler house walls get paint that stands up to steam.\n"
    ((words, why, gives),) = said(text)
    assert words == "Boiler house walls get paint that stands up to steam"
    assert why.startswith("no rule was made of finish paint at ")
    assert gives


def test_a_color_by_no_name_is_listed_where_it_is_given_to_a_place() -> None:
    assert said("The colour of the Lobby is to be chosen by the architect.\n") == [
        ("The colour of the Lobby is to be chosen by the architect", "no rule was made of a color for lobby", True)
    ]


def test_a_clause_that_only_names_goods_is_told_apart() -> None:
    assert said("Keep joint compound from freezing.\n") == [
        ("Keep joint compound from freezing", "names joint compound, and no rule was made of it", False)
    ]


@pytest.mark.parametrize(
    "text",
    [
        "Walls: two coats of finish paint.",  # a rule
        "Primer: 250 sq ft per gallon.",
        "Ceilings to be flat white.",  # a choice is a rule too
        "Walls: two or three coats of finish paint.",  # a question
        "Provide 840 finish paint to the walls.",  # a number shown as not read
    ],
)
def test_a_sentence_that_was_heard_is_not_listed(text: str) -> None:
    assert said(text + "\n") == []


@pytest.mark.parametrize(
    "text",
    [
        "2.02 FINISH PAINT",
        "Gypsum board",
        "A. Submit two copies of the schedule to the architect before work starts.",
        "Protect floors and windows, and leave the rooms broom clean.",
        "Keep screws 3/8 in. from cut ends.",  # its number is set aside with a reason
    ],
)
def test_headings_names_alone_and_clauses_without_goods_are_not_listed(text: str) -> None:
    assert said(text + "\n") == []


def test_each_sentence_of_a_clause_is_looked_at_by_itself() -> None:
    text = "A. Walls: two coats of finish paint. Kitchen walls get a paint that can be scrubbed.\n"
    assert [words for words, _, _ in said(text)] == ["Kitchen walls get a paint that can be scrubbed"]


def test_a_sheen_that_describes_the_coats_of_its_row_is_heard() -> None:
    table = "Room    | Surface | Coats | Sheen\nOffices | Walls   | two coats finish paint | eggshell\n"
    reading = read_text(table)
    assert any("eggshell" in (*rule.scope.values(), rule.choice) for rule in reading.rules)
    assert not [s for s in reading.statements if "eggshell" in s.why]


def test_sections_of_other_trades_list_nothing() -> None:
    foreign = (
        "SECTION 07 92 00\nJOINT SEALANTS\nPART 3 EXECUTION\nA. Keep wall paint from the joints of the lobby walls.\n"
    )
    ours = "SECTION 09 91 23\nINTERIOR PAINTING\nPART 3 EXECUTION\nA. Keep wall paint off the lobby ceiling at all times.\n"
    (statement,) = read_text(f"{foreign}END OF SECTION\n\n{ours}END OF SECTION\n").statements
    assert statement.span.text.startswith("Keep wall paint off the lobby ceiling")


def test_lines_that_must_be_understood_whole_have_no_statements() -> None:
    assert read_text("Boiler house walls get paint that stands up to steam.\n", strict=True).statements == ()


def test_the_json_has_each_statement_with_its_place_and_keeps_to_its_schema() -> None:
    data = reading_json([read_text("Primer: 250 sq ft per gallon.\n\nCorridor walls to receive PT-3.\n")])
    Draft202012Validator(SCHEMA).validate(data)
    assert data["statements"] == [
        {
            "text": "Corridor walls to receive PT-3", "file": "spec.txt", "line": 3, "column": 1,
            "why": "no rule was made of PT-3 for corridor and wall",
        }
    ]  # fmt: skip


def test_what_is_listed_grows_with_the_text_and_no_faster() -> None:
    """A thousand clauses list a thousand times what one lists: none is heard by another's rule."""
    clause = "A. Kitchen walls get a paint that can be scrubbed.\nB. Primer: 250 sq ft per gallon.\n"
    assert len(read_text(clause * 200).statements) == 200 * len(read_text(clause).statements) > 0


def test_no_more_than_three_names_are_told_in_one_place() -> None:
    goods = ["Primer", "finish paint", "joint compound", "joint tape"]
    for many, told in ((3, "primer, finish paint and joint compound"), (4, "primer, finish paint, joint compound ...")):
        text = f"{', '.join(goods[: many - 1])} and {goods[many - 1]} at walls of halls as the owner wishes it to be."
        (one,) = read_text(text).statements
        assert one.why == f"no rule was made of {told} at wall and hall"
