"""A list that names coat after coat counts one of each; a label alone, or one of several coats, counts nothing."""

from __future__ import annotations

import pytest

from reads import said

PRIMER, FINISH = "A. Primer coat: acrylic.", "B. Finish coat: acrylic, eggshell."


def test_each_coat_that_a_list_names_is_one() -> None:
    assert said(f"WALLS\n{PRIMER}\n{FINISH}") == [
        "coats of primer (surface wall): 1",
        "coats of finish paint (class acrylic, sheen eggshell, surface wall): 1",
    ]


@pytest.mark.parametrize(
    "text",
    [
        f"WALLS\n{PRIMER}",
        "WALLS\nA. Primer coats: acrylic.\nB. Finish coats: acrylic, eggshell.",
        "WALLS\nA. Primer: acrylic.\nB. Sealer: acrylic.",
    ],
    ids=["one alone", "any number", "no coats"],
)
def test_one_label_alone_and_labels_of_several_coats_count_nothing(text: str) -> None:
    assert not [rule for rule in said(text) if rule.startswith("coats")]


def test_members_of_two_lists_are_no_list() -> None:
    assert not [rule for rule in said(f"WALLS\n{PRIMER}\n\nCEILINGS\n{FINISH}") if rule.startswith("coats")]
