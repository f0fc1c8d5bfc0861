"""Kinds that a word in them names and does not settle: spacings, films, lengths, contents, widths."""

from __future__ import annotations

import pytest

from reads import left, read_text, said

READ = {
    "Studs 16 in. o.c. on walls.": ["framing of gypsum board (surface wall): 16 in"],
    "Screws 16 in. o.c. along joists.": ["spacing of screw: 16 in"],
    "Screws: 1 1/4 in. long.": ["fastener length of screw: 1 1/4 in"],
    "Rolls of tape: 250 ft.": ["package of joint tape: 250 ft per 1 roll"],
    "Cans: primer 10 L, finish paint 5 L.": ["package of primer: 10 L per 1 can", "package of finish paint: 5 L per 1 can"],
    "Boards 54 in. wide on walls.": ["sheet of gypsum board (surface wall): 54 in"],
    "Film: 4 mils wet for primer.": ["film of primer (film wet): 4 mil"],
}  # fmt: skip


@pytest.mark.parametrize("text", READ)
def test_the_words_around_a_measure_settle_its_kind(text: str) -> None:
    assert said(text) == READ[text]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("Primer: 4 mils.", "a film, and nobody says whether wet or dry"),
        ("Doors 7 ft long.", "a length that orders nothing by itself"),
        ("Doors 36 in. wide.", "a width"),
    ],
)
def test_what_they_do_not_settle_is_no_fact(text: str, why: str) -> None:
    assert said(text) == []
    assert list(left(text).values()) == [why]


@pytest.mark.parametrize(
    ("mils", "state"),
    # a gallon at 400 sq ft is 1604 / 400 = 4 mils wet; what stays of it is 15 to 90 in the hundred
    [("4", "wet"), ("2", "dry"), ("1", "dry")],
)
def test_a_film_beside_its_rate_is_wet_where_it_is_all_of_the_volume(mils: str, state: str) -> None:
    assert f"film of primer (film {state}): {mils} mil" in said(f"Primer: 400 sq ft per gallon. {mils} mils.")


def test_what_is_driven_into_supports_is_spaced_and_not_these() -> None:
    rules = read_text("Screws to metal furring at 200 mm centres on ceilings and 300 mm centres on walls.").rules
    assert [(r.kind.name, r.subject, r.scope["surface"]) for r in rules] == [
        ("spacing", "screw", "ceiling"),
        ("spacing", "screw", "wall"),
    ]
    assert rules[0].confirm
    assert [r.kind.name for r in read_text("Steel studs at 16 in. o.c.").rules] == ["framing"]
