"""A sheet of the workbook as it is written: texts that stay texts, numbers, formulas with the value we know, widths that fit."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Context, Decimal
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from attrs import define, field

from darby.documents.words import harmless

if TYPE_CHECKING:
    from xlsxwriter import Workbook
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

_MOST = 32_000
_WIDEST = 44
_MARGIN = 3
"""What a column is wider than the longest text in it."""
_LINE = 15
"""Points of height a line of text takes; a spreadsheet does not always find the height of wrapped text by itself."""
_TALLEST = 400
_HEAD = 3
"""The row of the heads."""
_EXACT = Context(prec=17)

Fonts = dict[str, "Format"]


def styles(book: Workbook) -> Fonts:
    """How cells look, by name."""
    base = {"font_name": "Calibri", "font_size": 11, "valign": "top"}
    line = {"bottom": 4, "bottom_color": "#B9A98A"}
    looks: dict[str, dict[str, object]] = {
        "title": {"bold": True, "font_size": 16},
        "say": {"font_color": "#625D53", "italic": True, "text_wrap": True},
        "note": {"font_color": "#625D53", "italic": True},
        "head": {
            "bold": True,
            "indent": 1,
            "bottom": 2,
            "bottom_color": "#B9A98A",
            "text_wrap": True,
            "valign": "bottom",
        },
        "head right": {
            "bold": True,
            "bottom": 2,
            "bottom_color": "#B9A98A",
            "text_wrap": True,
            "valign": "bottom",
            "align": "right",
        },
        "text": {"text_wrap": True, "indent": 1, **line},
        "soft": {"text_wrap": True, "indent": 1, "font_color": "#625D53", **line},
        "number": {"num_format": "#,##0.00", **line},
        "pieces": {"num_format": "#,##0", **line},
        "plain": {"num_format": "General", **line},
        "input": {"num_format": "General", "bg_color": "#FBF3DC", "border": 1, "border_color": "#B9A98A"},
        "linked": {"num_format": "#,##0.00##", "font_color": "#625D53", **line},
        "input length": {"num_format": "#,##0.00##", "bg_color": "#FBF3DC", "border": 1, "border_color": "#B9A98A"},
        "count": {"num_format": "#,##0", "bold": True, **line},
        "was": {"num_format": "#,##0", "font_color": "#625D53", **line},
        "part": {"bold": True, "font_size": 12, "top": 1, "top_color": "#B9A98A"},
        "again": {"bg_color": "#F6C7BD", "font_color": "#7A1B0C", "bold": True},
        "alert": {"font_color": "#7A1B0C", "bold": True},
        "moved": {"bg_color": "#FFD75E", "bold": True},
    }
    return {name: book.add_format(base | look) for name, look in looks.items()}


def clean(text: str) -> str:
    """Text for a cell: harmless, its line ends kept, no longer than a cell holds."""
    if text.isprintable() and len(text) <= _MOST:
        return text
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    made = "\n".join(map(harmless, lines))
    return made if len(made) <= _MOST else made[: _MOST - 1] + "…"


def near(value: Fraction | int) -> Decimal:
    """The value as a spreadsheet takes it, to seventeen digits."""
    return _EXACT.divide(Decimal(value.numerator), Decimal(value.denominator)) if value else Decimal(0)


@cache
def _plain_sheet() -> type[Worksheet]:
    """A sheet that takes formulas as they are: ours have no function newer than the format, of which it would look for thirty."""
    from xlsxwriter.worksheet import Worksheet as Sheet  # noqa: PLC0415 - dear, and wanted where a workbook is

    class Plain(Sheet):  # type: ignore[misc]
        # cells are told by numbers alone, so that no name of a cell need be looked for in each
        write_string = Sheet.write_string.__wrapped__
        write_number = Sheet.write_number.__wrapped__
        write_blank = Sheet.write_blank.__wrapped__
        write_formula = Sheet.write_formula.__wrapped__

        def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:  # noqa: ARG002
            return formula.removeprefix("=")

    return Plain


@define(eq=False)
class Page:
    """One sheet, written from the top."""

    book: Workbook
    name: str
    looks: Fonts
    sheet: Worksheet = field(init=False)
    row: int = 0
    widths: dict[int, int] = field(factory=dict)
    lines: list[tuple[int, int, tuple[int, ...]]] = field(factory=list)
    """Row, column and lengths of the lines of every text that may wrap."""
    says: str = ""
    widest: int = _WIDEST
    inner: list[int] = field(factory=list)
    """Rows that fold away under the one above them."""

    def __attrs_post_init__(self) -> None:
        self.sheet = self.book.add_worksheet(self.name, worksheet_class=_plain_sheet())

    def start(
        self, title: str, says: str, heads: Sequence[str], *, us: bool, right: Sequence[int] = (), names: int = 1
    ) -> None:
        """Title, a sentence, the heads; frozen with the first columns, which have the names, and repeated on every sheet of paper. Heads
        of numbers stand `right`.
        """
        self.sheet.write_string(0, 0, clean(title), self.looks["title"])
        self.says = clean(says)
        if len(heads) > 1:
            self.sheet.merge_range(1, 0, 1, len(heads) - 1, "", self.looks["say"])
        self.sheet.write_string(1, 0, self.says, self.looks["say"])
        self.row = _HEAD
        for column, head in enumerate(heads):
            self.sheet.write_string(self.row, column, head, self.looks["head right" if column in right else "head"])
        self.row += 1
        self.sheet.freeze_panes(self.row, names)
        self.sheet.outline_settings(symbols_below=False)
        self.sheet.repeat_rows(self.row - 1)
        self.sheet.set_landscape()
        self.sheet.set_paper(1 if us else 9)
        self.sheet.fit_to_pages(1, 0)
        self.sheet.set_margins(left=0.5, right=0.5, top=0.6, bottom=0.7)
        self.sheet.set_footer(f"&L{self.name}&RPage &P of &N")
        self.sheet.hide_gridlines(2)

    def filter(self, columns: int) -> None:
        """Let the rows since the heads be filtered by what stands in each of the columns."""
        if self.row > _HEAD + 1:
            self.sheet.autofilter(_HEAD, 0, self.row - 1, columns - 1)

    def texts(self, cells: Sequence[str], look: str = "text") -> None:
        """A row of texts."""
        for column, text in enumerate(cells):
            self.text(column, text, look)
        self.row += 1

    def text(self, column: int, text: str, look: str = "text") -> None:
        """A text in the present row, never taken for a formula or a link."""
        shown = clean(text)
        if shown:
            self.sheet.write_string(self.row, column, shown, self.looks[look])
        else:
            self.sheet.write_blank(self.row, column, None, self.looks[look])
        if "\n" not in shown:
            self._widen(column, len(shown))
            if len(shown) + _MARGIN > self.widest:  # a column is as wide as any shorter one
                self.lines.append((self.row, column, (len(shown),)))
            return
        lengths = tuple(map(len, shown.split("\n")))
        self._widen(column, max(lengths))
        self.lines.append((self.row, column, lengths))

    def number(self, column: int, value: Fraction | int | None, look: str = "plain") -> str:
        """A number in the present row; gives the cell as this sheet names it. None leaves it empty."""
        if value is None:
            self.sheet.write_blank(self.row, column, None, self.looks[look])
        else:
            self.sheet.write_number(self.row, column, near(value), self.looks[look])
            self._widen(column, 9)
        return self.here(column)

    def formula(self, column: int, formula: str, value: Fraction | int | str, look: str = "number") -> str:
        """A formula of ours with the value it has now; gives the cell as this sheet names it."""
        known = value if isinstance(value, str) else near(value)
        self.sheet.write_formula(self.row, column, formula, self.looks[look], known)
        self._widen(column, 11)
        return self.here(column)

    def address(self, column: int) -> str:
        """The present row's cell of a column, as formulas of any sheet name it."""
        return f"{self.name}!{self.here(column)}"

    def named(self, column: int, name: str) -> None:
        """Give the present row's cell of a column a name, by which formulas of any sheet call it."""
        self.book.define_name(name, f"={self.address(column)}")

    def here(self, column: int) -> str:
        """The same cell as formulas of this sheet name it."""
        return f"${chr(ord('A') + column)}${self.row + 1}"

    def _widen(self, column: int, length: int) -> None:
        width = min(length + _MARGIN, self.widest)
        if width > self.widths.get(column, 6):
            self.widths[column] = width
        else:
            self.widths.setdefault(column, 6)

    def finish(self, heads: Sequence[str]) -> None:
        """Set widths and heights, once all is written; a head may wrap, but not within a word."""
        for column, head in enumerate(heads):
            least = max(map(len, head.split())) + 2
            self.widths[column] = max(self.widths.get(column, 6), least)
            self.sheet.set_column(column, column, self.widths[column])
        heights: dict[int, int] = {1: _wrapped((len(self.says),), sum(self.widths[c] for c in range(len(heads))))}
        heights[_HEAD] = max(_wrapped((len(head),), self.widths[c]) for c, head in enumerate(heads))
        for row, column, lengths in self.lines:
            heights[row] = max(heights.get(row, 1), _wrapped(lengths, self.widths[column]))
        inner = {"level": 1}
        for row in self.inner:
            self.sheet.set_row(row, _height(heights.pop(row, 1)), None, inner)
        for row, lines in heights.items():
            if lines > 1:
                self.sheet.set_row(row, _height(lines))
        self.sheet.print_area(0, 0, self.row, len(heads) - 1)


def _height(lines: int) -> int | None:
    """Points of a row with so many lines; of one line what a spreadsheet gives it by itself."""
    return min(lines * _LINE, _TALLEST) if lines > 1 else None


def _wrapped(lengths: Sequence[int], width: int) -> int:
    """Lines that some lines of text take in a column, a little generous, since words break where they must."""
    return sum(max(1, -(-length // max(1, width - 1))) for length in lengths)
