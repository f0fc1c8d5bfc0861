"""Which goods a document names as work though it gives no number for them; all trades' own words, and small texts."""

from __future__ import annotations

import pytest

from darby.plugin_host.loader import load_plugins
from darby.reading.read import Language, read
from darby.rules.rule import SPECIFICATION
from darby.text.spans import Source

PLUGINS = load_plugins()
LANGUAGE = Language.of(PLUGINS.readers, PLUGINS.vocabularies)
PAINT = {"primer", "finish paint"}


def named(text: str) -> set[str]:
    return set(read(Source("spec.txt", text), SPECIFICATION, LANGUAGE).named)


@pytest.mark.parametrize(
    ("text", "goods"),
    [
        ("SECTION 09 29 00\nGYPSUM BOARD\n\nPART 1 - GENERAL\n", {"gypsum board"}),
        ("2.02 GYPSUM WALLBOARD\nA. By an approved maker.\n", {"gypsum board"}),
        ("SECTION 09 91 23\nINTERIOR PAINTING\n\nPART 1 - GENERAL\n", PAINT),
        ("DECORATING\n\nBy an approved firm.\n", PAINT),
        ("Joint Tape: Paper, as the architect approves.", {"joint tape"}),
        ("Corner bead: galvanized steel.", {"corner bead"}),
        ("Provide drywall clips at inside corners.", {"drywall clip"}),
        ("Drywall clips at inside corners.", {"drywall clip"}),
        ("Install corner bead at outside corners.", {"corner bead"}),
    ],
)
def test_goods_that_are_named_as_work(text: str, goods: set[str]) -> None:
    assert named(text) >= goods
    assert len(named(text)) <= 4


@pytest.mark.parametrize(
    "text",
    [
        "3.01 PREPARATION\nA. Gypsum Board: Fill cracks and sand flush.\n",  # what is painted
        "INTERIOR PAINTING\n\nA. Gypsum Board Walls:\n1. As approved.\n",
        "INTERIOR PAINTING\n\nA. Screws: fill the heads and sand.\n",
        "1.02 PREPARATION FOR PAINTING\nA. Dust the walls.\n",
    ],
)
def test_what_other_work_goes_over_is_not_named(text: str) -> None:
    assert "gypsum board" not in named(text)
    assert "screw" not in named(text)


def test_a_heading_of_what_is_done_before_is_not_the_work() -> None:
    assert not named("1.02 PREPARATION FOR PAINTING\nA. Dust the walls.\n")


@pytest.mark.parametrize(
    "text",
    [
        "Drywall clips: by others.",
        "No corner bead is wanted.",
        "Finish: as the architect approves.",  # a word with other meanings
        "Fill nail holes flush.",
        "1.02 RELATED SECTIONS\nA. Section 09 91 23 - Painting.\n",
    ],
)
def test_what_is_not_named_as_work(text: str) -> None:
    assert not named(text)


def test_each_name_has_the_place_that_gives_it() -> None:
    reading = read(Source("spec.txt", "Joint Tape: Paper.\nJoint Tape: Mesh.\n"), SPECIFICATION, LANGUAGE)
    assert reading.named["joint tape"].line == 1
