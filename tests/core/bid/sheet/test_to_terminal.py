"""The bid sheet on a terminal of any width."""

from __future__ import annotations

import pytest

from darby.bid.sheet.to_terminal import show
from darby.documents.letters.prose import Heading, Paragraph, Prose, Table, entries
from darby.documents.terminal.parts import plain, written

PROSE = Prose(
    "Bid: test",
    [
        Heading("Material"), Table(("Goods", "Sum"), (("primer", "63.00"), ("a very long name of goods " * 6, "1,275.00")), frozenset({1})),
        Paragraph("said", "Label"), entries(["one", (Paragraph("two"), Paragraph("below"))], numbered=True),
        Paragraph("\x1b[31mred\x1b[0m and \u202eback"),
    ],
)  # fmt: skip


@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_no_line_is_wider_than_the_terminal_and_no_sum_is_cut(width: int) -> None:
    console, stream = plain(width)
    show(PROSE, console)
    lines = written(stream).splitlines()
    assert max(map(len, lines)) <= width
    assert any(line.endswith("1,275.00") for line in lines)


def test_what_is_unsafe_is_made_harmless() -> None:
    console, stream = plain(80)
    show(PROSE, console)
    assert "\x1b" not in stream.getvalue()
    assert "\u202e" not in stream.getvalue()
    assert "1. one" in stream.getvalue()
    assert "Label: said" in stream.getvalue()
