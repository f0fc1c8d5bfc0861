"""Codes of what a rule was found by, alone or with the text that it stood in."""

from __future__ import annotations

import pytest

from darby.rules.found_by import FoundBy, at, code_of


@pytest.mark.parametrize("code", FoundBy)
def test_the_code_is_found_again_whatever_text_stands_behind_it(code: FoundBy) -> None:
    assert code_of(at(code, "PRIMER: walls")) == code_of(code) == code.value
    assert at(code, "PRIMER") == f"{code.value}: PRIMER"


def test_no_code_is_part_of_the_way_another_is_written() -> None:
    assert len({code.value for code in FoundBy}) == len(FoundBy)
    assert not [code for code in FoundBy if ":" in code or code != code.lower()]
