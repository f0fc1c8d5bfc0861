"""What the job says at the head of a paper, and blanks where nobody has said anything."""

from __future__ import annotations

from darby.documents.letters.heads import BLANK, head


def test_what_is_not_given_is_left_to_fill() -> None:
    assert head({"to": "Us"}, ("date", "to")).rows == (("Date", BLANK), ("To", "Us"))
