"""Rows in columns: few or very many, they read the same."""

from __future__ import annotations

import io

import pytest
from rich.console import Console

from darby.documents.terminal import rows

LONG = "8 ft × 10 ft × 1 face " * 6


def shown(many: int, wide: int, *last: rows.Row) -> list[str]:
    out = io.StringIO()
    one = [((f"wall {n}", ""),) for n in range(many)]
    made = [((f"{n} ft × 8 ft = {n * 8:,} sq ft", ""), ("job.toml:7", "dim")) for n in range(many)]
    rows.show([*zip(one, made, [(("job.toml:7", "dim"),)] * many, strict=True), *last], Console(file=out, width=wide))
    return out.getvalue().splitlines()


def test_a_row_is_its_lines_side_by_side() -> None:
    assert shown(300, 60)[-2:] == ["wall 299  299 ft × 8 ft = 2,392 sq ft  job.toml:7", "          job.toml:7"]


@pytest.mark.parametrize("wide", [40, 60, 100])
def test_very_many_rows_are_laid_out_as_few_are(wide: int) -> None:
    few, many = shown(150, wide), shown(300, wide)
    words = [" ".join(line.split()) for line in few]
    assert [" ".join(line.split()) for line in many][: len(words)] == words


def test_what_does_not_fit_its_column_is_wrapped_and_nothing_sticks_out() -> None:
    lines = shown(300, 50, ((("a wall with a very long name", ""),), ((LONG, "bold"),), (("job.toml:9", "dim"),)))
    assert max(len(line.rstrip()) for line in lines) <= 50
    assert " ".join(lines).count("face") == 6


def test_no_rows_are_nothing() -> None:
    assert "".join(shown(0, 80)) == ""
