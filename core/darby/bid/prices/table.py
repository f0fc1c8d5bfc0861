"""A table that names goods, as a spreadsheet saves it: its rows by the heads of their columns, each with its place, and what is wrong."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Mapping, Sequence
from datetime import date

from darby.bid.prices.meaning import Goods, Meanings, Package
from darby.job.rows.sheet import shown
from darby.job.schedules.grid import Grid
from darby.text.diagnostics import Diagnostic, Label, Severity, problem
from darby.text.spans import Source, Span

Said = Mapping[str, str]
"""The filled cells of a row by the head of their column, in lower case and with _ between words."""

_MOST = 1_000_000
_TOLD = 40
"""Mistakes of one kind that a file is told of one by one; the rest is counted."""


class GoodsTable:
    """Reads one file. `found` has what is to be said of it; `code` is that of what is wrong with its form."""

    def __init__(self, source: Source, meanings: Meanings, code: str) -> None:
        self.source = source
        self.meanings = meanings
        self.code = code
        self.found: list[Diagnostic] = []
        self._counted: dict[str, int] = {}
        self.columns: dict[str, int] = {}
        line = next((text for text in source.text.splitlines() if text.strip(" ,;\t")), "")
        self._parting = max(",;\t", key=line.count)
        self.heads = [_key(cell) for cell in next(csv.reader([line], delimiter=self._parting), [])]

    def has(self, needed: Sequence[str]) -> bool:
        """Whether the first line names these columns; told where it does not."""
        missing = [name for name in needed if name not in self.heads]
        if missing:
            self.say(
                self.source.span(0, len(self.source.line_text(1))),
                f"{self.source.name} has no column {' and no column '.join(missing)}",
                f"The first line names the columns: {', '.join(needed)}, and of the others what there is.",
            )
        return not missing

    def rows_with(self, needed: Sequence[str]) -> Iterator[tuple[Said, Span]]:
        """The rows of a file whose first line names these columns; none where it does not, which is told."""
        if self.has(needed):
            yield from self.rows()

    def rows(self) -> Iterator[tuple[Said, Span]]:
        """The rows that are not empty, each with the place of its line."""
        text, starts = self.source.text, self.source.line_starts
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=self._parting)
        line = 0
        for number, cells in enumerate(reader):
            at, line = starts[min(line, len(starts) - 1)], reader.line_num
            if not self.columns:
                self.columns = {name: n for n, cell in enumerate(cells) if (name := _key(cell))}
                continue
            if number > _MOST or not any(map(str.strip, cells)):
                continue
            end = starts[line] if line < len(starts) else len(text)
            said = {name: cells[n].strip() for name, n in self.columns.items() if n < len(cells) and cells[n].strip()}
            yield said, Span(self.source, at, at + len(text[at:end].rstrip("\r\n")))

    def goods(self, said: Said, span: Span) -> Goods | None:
        """The goods that a row names; told where they cannot be told."""
        goods = self.meanings.goods(said.get("product", ""))
        if goods.product and not goods.strange:
            return goods
        why = (
            f"the words {', '.join(goods.strange)} are not known"
            if goods.strange and goods.product
            else "no goods of ours are named"
        )
        self.say(
            self.cell(span, "product") if self._counted.get("price-goods", 0) < _TOLD else span,
            f"what {shown(said.get('product', 'an empty cell'))} is cannot be told: {why}; the row is not used",
            "Name the goods as the order list does; what tells them apart may stand in columns of their own, as thickness or sheen.",
            code="price-goods", warn=True,
        )  # fmt: skip
        return None

    def package(self, said: Said, span: Span, of: str = "a price") -> Package | None:
        """The package that a row names; told where it cannot be read. `of` is what it is the package of."""
        package = self.meanings.package(said["package"]) if "package" in said else None
        if package is None:
            self.say(
                self.cell(span, "package"),
                f"the package {shown(said['package'])} cannot be read" if "package" in said else f"{of} is for no package",
                'Write what one package is, as "64 lb pail", "box of 1,000", "sheet", "pallet of 60 sheets", "each" or "per 1,000 sq ft".',
            )  # fmt: skip
        return package

    def count(self, said: Said, key: str, span: Span, least: int = 1) -> int | None:
        """A whole number of packages; None where there is none, or none that can be."""
        if key not in said:
            return None
        text = said[key].replace(",", "")
        if text.isascii() and text.isdigit() and 0 < len(text) < 9 and int(text) >= least:
            return int(text)
        self.say(
            self.cell(span, key), f"{key.replace('_', ' ')} is {shown(text)}; it is a whole number of packages",
            "Write 10, or leave the cell empty.",
        )  # fmt: skip
        return None

    def day(self, said: Said, key: str, span: Span) -> date | None:
        """A date; None where there is none, or none that can be read."""
        text = said.get(key)
        if text is None:
            return None
        try:
            return date.fromisoformat(text)
        except ValueError:
            self.say(
                self.cell(span, key), f"the date {shown(text)} cannot be read",
                "Write year, month and day: 2026-03-31. Other orders mean different days to different readers.",
            )  # fmt: skip
            return None

    def cell(self, span: Span, key: str) -> Span:
        """The place of a cell of a row; of the row where it has none."""
        if key not in self.columns:
            return span
        return Grid(self.source, self._parting, self.columns, [span.start]).at((0, key)).value

    def say(
        self, span: Span, message: str, help: str, more: Sequence[Label] = (), *, code: str = "", warn: bool = False
    ) -> None:
        """Tell what is wrong, unless very many have been told of the same."""
        code = code or self.code
        self._counted[code] = self._counted.get(code, 0) + 1
        if self._counted[code] <= _TOLD:
            severity = Severity.WARNING if warn else Severity.ERROR
            self.found.append(problem(code, message, span, severity=severity, help=help, more=more))

    def told(self) -> tuple[Diagnostic, ...]:
        """All that is to be said of the file, and how many more rows have the same mistakes."""
        more = (
            problem(
                code, f"{count - _TOLD} more rows of {self.source.name} have mistakes like these",
                file=self.source.name, severity=Severity.WARNING,
            )
            for code, count in self._counted.items() if count > _TOLD
        )  # fmt: skip
        return (*self.found, *more)


def _key(cell: str) -> str:
    return "_".join(cell.strip().casefold().split())
