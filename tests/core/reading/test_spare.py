"""What is left with the owner beside the work, read from small texts with all trades' own words."""

from __future__ import annotations

import pytest

from darby.plugin_host.loader import load_plugins
from darby.reading.read import Language, Reading, read
from darby.rules.rule import SPECIFICATION
from darby.testing.cases import rule_said
from darby.text.spans import Source

PLUGINS = load_plugins()
LANGUAGE = Language.of(PLUGINS.readers, PLUGINS.vocabularies)


def reading(text: str) -> Reading:
    return read(Source("spec.txt", text), SPECIFICATION, LANGUAGE)


@pytest.mark.parametrize(
    ("text", "rules"),
    [
        ("Furnish 10 extra sheets of each type.", ["spare of gypsum board: 10 sheets"]),
        ("Leave 1 gallon of each color.", ["spare of finish paint: 1 gal"]),
        ("Extra stock: 4 L of each colour and sheen.", ["spare of finish paint: 4 L"]),
        ("Attic stock: two 5-gal pails of each paint color.", ["spare of finish paint: 10 gal"]),
        ("Provide 2 additional pails of joint compound.", ["spare of joint compound: 2 pails"]),
        ("Deliver 5 percent extra board of each type.", ["spare of gypsum board: 5 %"]),
        ("Extra stock: 1 box of screws.", ["spare of screw: 1 box"]),
        (
            "GYPSUM BOARD\n\nA. Mock-up: Build one mock-up of at least 100 sq. ft.\n",
            ["spare of gypsum board (note mock-up): 100 sq ft"],
        ),
        (
            "SECTION 09 29 00\nGYPSUM BOARD\n1.03 QUALITY ASSURANCE\nA. Mock-up: Build one mock-up of 80 sq. ft.\n",
            ["spare of gypsum board (note mock-up): 80 sq ft"],
        ),
        (
            "GYPSUM BOARD\n\nA. Mock-up: Build one mock-up of 100 sq. ft. of Level 5 finish, primed.\n",
            [
                "spare of gypsum board (note mock-up): 100 sq ft",
                "spare of joint compound (note mock-up): 100 sq ft",
                "spare of primer (note mock-up): 100 sq ft",
            ],
        ),
        (
            "Leave 6 sheets of wet area board with the engineer.",
            ["spare of gypsum board (type moisture resistant): 6 sheets"],
        ),
        ("Turn over to the Owner 4 full sheets of each board type.", ["spare of gypsum board: 4 sheets"]),
        (
            "Hand over 5 sheets of moisture resistant board and 2.5 litres of each paint.",
            ["spare of gypsum board (type moisture resistant): 5 sheets", "spare of finish paint: 2.5 L"],
        ),
        (
            "Turn over 3 sheets of 5/8 in. Type X board.",
            ["spare of gypsum board (thickness 5/8 in, type type X): 3 sheets"],
        ),
        ("Furnish 6 extra sheets of 1/2 in. board.", ["spare of gypsum board (thickness 1/2 in): 6 sheets"]),
        ("Hand over one full tin of each colour and finish.", ["spare of finish paint: 1 can"]),
        (
            "Type A: 12.5 mm board.\nType B: 15 mm board.\nLeave 4 full sheets of Type B board.",
            [
                "thickness of gypsum board (mark A): 12.5 mm",
                "thickness of gypsum board (mark B): 15 mm",
                "spare of gypsum board (system B): 4 sheets",
            ],
        ),
        ("Give the owner one gallon of each wall paint.", ["spare of finish paint (surface wall): 1 gal"]),
        (
            "Leave 1 litre of each colour of emulsion and eggshell.",
            ["spare of finish paint (class emulsion): 1 L", "spare of finish paint (sheen eggshell): 1 L"],
        ),
        (
            "Leave one can of each wall paint and of each primer.",
            ["spare of finish paint (surface wall): 1 can", "spare of primer: 1 can"],
        ),
        (
            "1.03 EXTRA MATERIAL\nA. Deliver 3 sheets of type X board to the Owner.\n",
            ["spare of gypsum board (type type X): 3 sheets"],
        ),
        ("1.03 SPARE MATERIALS\nA. 2 pails of joint compound.\n", ["spare of joint compound: 2 pails"]),
        ("Furnish 1 gallon of each color and gloss, labeled, to Owner.", ["spare of finish paint: 1 gal"]),
        (
            "Leave 1 gallon of each color of flat and gloss.",
            ["spare of finish paint (sheen flat): 1 gal", "spare of finish paint (sheen gloss): 1 gal"],
        ),
        ("The contractor shall hand over 2 boards of each type.", ["spare of gypsum board: 2 sheets"]),
        ("1.03 MAINTENANCE MATERIAL\nA. Furnish 2 gallons of each color.\n", ["spare of finish paint: 2 gal"]),
    ],
)
def test_what_is_left_is_a_rule_of_its_goods(text: str, rules: list[str]) -> None:
    found = reading(text)
    assert [rule_said(rule) for rule in found.rules] == rules
    assert {n.became for n in found.numbers} <= {"read", "set aside"}


@pytest.mark.parametrize(
    "text",
    [
        "Do not leave extra materials: 2 gallons of each color.",
        "Maintenance stock by owner: 10 sheets of each type.",
        "Samples: Submit two samples, 12 inches x 12 inches, of each texture.",
        "Two additional coats on walls.",
        "INTERIOR PAINTING\n\nA. Paint a mock-up of 100 sq ft in the hall.\n",  # on a wall of the work
        "Hand over 2 sheets of type X and moisture resistant board.",  # of which sort how many is not said
        "Hand over 3 sheets of 1/2 in. and 5/8 in. board.",
        "Hand over 3 sheets of 4 ft x 8 ft board.",  # nor is a size a sort that a rule can limit
        "Boxes of 5 sheets of board.",
        "Extra stock: 5000 boxes of screws.",
        "Extra stock: 150 percent of each color.",
    ],
)
def test_what_leaves_nothing(text: str) -> None:
    assert "spare" not in {rule.kind.name for rule in reading(text).rules}


def test_a_rate_is_no_spare_stock() -> None:
    assert [rule_said(r) for r in reading("Primer: 1 gallon of primer per 300 sq ft.").rules] == [
        "consumption of primer: 1 gal per 300 sq ft"
    ]


def test_every_number_is_accounted_for_once() -> None:
    found = reading("Furnish 10 extra sheets of each type.")
    assert [(n.span.text, n.became) for n in found.numbers] == [("10", "read")]


@pytest.mark.parametrize(
    ("said", "area"),
    [
        ("8 ft by 10 ft", "80 sq ft"),
        ("8 x 10 ft", "80 sq ft"),
        ("8'-0\" x 10'-6\"", "84 sq ft"),
        ("2.4 m x 3 m", "36/5 m2"),
        ("96 in. by 10 ft", "80 sq ft"),
    ],
)
def test_a_mock_up_told_by_its_sides_waits_to_be_confirmed(said: str, area: str) -> None:
    found = reading(f"Mock-up: Build a gypsum board mock-up of {said}, taped.")
    told = [(r.subject, f"{r.amount.value} {r.amount.unit}", r.scope.get("note")) for r in found.rules]
    assert told == [("gypsum board", area, "mock-up"), ("joint compound", area, "mock-up")]
    assert {r.confirm for r in found.rules} == {"It is told by its sides: one face of that size is counted."}


@pytest.mark.parametrize(
    "text",
    [
        "Mock-up: Build a gypsum board mock-up of 4 ft x 8 ft sheets.",
        "Mock-up: Build a gypsum board mock-up 10 ft long.",
        "Mock-up: Build a gypsum board mock-up, studs 3-5/8 in. x 10 ft.",
        "Samples of gypsum board, 12 in. by 12 in.",
    ],
)
def test_sides_of_a_sheet_or_a_sample_are_of_no_mock_up(text: str) -> None:
    assert "spare" not in {rule.kind.name for rule in reading(text).rules}
