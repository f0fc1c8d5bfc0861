"""Dates and revisions as documents say them."""

from __future__ import annotations

import pytest

from darby.documents.page.dates import dated
from darby.text.spans import Source


@pytest.mark.parametrize(
    ("text", "date", "revision"),
    [
        ("SPEC  12 MARCH 2026", "12 MARCH 2026", ""),
        ("Issued for bid, April 2, 2026", "April 2, 2026", "Issued for bid"),
        ("Rev. C\n2026-04-02", "2026-04-02", "Rev. C"),
        ("Revision No. 3 of 04/02/2026", "04/02/2026", "Revision No. 3"),
        ("Redecoration of the hall          Tender issue, March 2026", "March 2026", ""),
        ("A sample was approved in March 2026.", "", ""),
        ("Two coats in March. Review in 2026.", "", ""),
    ],
)
def test_a_date_and_a_revision_are_found(text: str, date: str, revision: str) -> None:
    assert dated(Source("s.txt", text)) == (date, revision)


def test_only_the_top_of_a_document_speaks_of_itself() -> None:
    assert dated(Source("s.txt", "\n" * 80 + "12 March 2026")) == ("", "")
