"""A word processor file (.docx) to text as its reader sees it: paragraphs with their list numbers, tables as pipe rows.

Each paragraph and each table row is one line, with an empty line between paragraphs, so that no reader takes two
paragraphs for one that was wrapped. Changes that were tracked are read as accepted; struck-out text keeps its mark.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterator
from typing import Any

from attrs import define, field

_W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
_FALLBACK = "{http://schemas.openxmlformats.org/markup-compatibility/2006}Fallback"
"""Names of elements are those of ECMA-376, part 1, chapter 17."""

_LARGEST = 200_000_000
"""Bytes that a file may unpack to, pictures and all."""
_LARGEST_TEXT = 60_000_000
"""Bytes of its text with all its tags; a whole project manual has a tenth."""
_SIGNS = {"tab": "\t", "br": "\n", "cr": "\n", "noBreakHyphen": "-"}
_STRUCK = re.compile(r"~~(\s*)~~|~~~~")
_OWN_LABEL = re.compile(
    r"(?:PART|SECTION|[0-9]{1,3}[.) ]|[0-9]{1,3}\.[0-9]|[A-Za-z][.)]\s|\([a-z0-9]{1,2}\)\s|[-•–]\s)"
)
_ROMAN = ((10, "x"), (9, "ix"), (5, "v"), (4, "iv"), (1, "i"))


def text_of(data: bytes) -> tuple[str, tuple[str, ...]]:
    """The text in the bytes of a file, and what its reader should know of how it was taken.

    Raises ImportError without python-docx, ValueError for what is no such file or too large.
    """
    import docx  # noqa: PLC0415 - an extra, loaded when such a file is met

    try:
        with zipfile.ZipFile(io.BytesIO(data)) as parts:
            if sum(part.file_size for part in parts.infolist()) > _LARGEST:
                raise ValueError("it unpacks to more than 200 MB")
            if (
                sum(part.file_size for part in parts.infolist() if part.filename.endswith((".xml", ".rels")))
                > _LARGEST_TEXT
            ):
                raise ValueError("its text unpacks to more than 60 MB")
        document = docx.Document(io.BytesIO(data))
        writer = _Writer(_Numbering.of(document))
        writer.blocks(document.element.body)
    except (ValueError, RecursionError):
        raise
    except Exception as error:  # whatever a damaged file makes the library raise
        raise ValueError("it is damaged, or no such file") from error
    return "\n".join(writer.lines).strip("\n") + "\n", tuple(writer.notes)


def _all(element: Any, name: str) -> Any:
    return element.iterfind(f"{_W}{name}")


def _boxes(paragraph: Any) -> Iterator[Any]:
    """The text boxes of a paragraph, in order; those within them are found when they are read."""
    stack = list(reversed(paragraph))
    while stack:
        element = stack.pop()
        if element.tag == _W + "txbxContent":
            yield element
        elif element.tag != _FALLBACK:
            stack.extend(reversed(element))


def _value(element: Any, path: str, default: str = "") -> str:
    """The `val` of an element below another, or the default."""
    found = element.find("/".join(_W + step for step in path.split("/"))) if element is not None else None
    return default if found is None else found.get(_W + "val", default)


def _is_on(properties: Any, name: str) -> bool:
    found = properties.find(_W + name) if properties is not None else None
    return found is not None and found.get(_W + "val", "true") not in ("0", "false", "off")


@define(eq=False)
class _Numbering:
    """Automatic list numbers: what each list's levels look like and how far each has been counted."""

    levels: dict[str, dict[int, Any]]
    starts: dict[tuple[str, int], int]
    lists: dict[str, str]
    styles: dict[str, Any]
    counts: dict[str, dict[int, int]] = field(factory=dict)

    @classmethod
    def of(cls, document: Any) -> _Numbering:
        styles = {s.get(_W + "styleId", ""): s for s in _all(document.styles.element, "style")}
        parts = (r.target_part for r in document.part.rels.values() if r.reltype.endswith("/numbering"))
        root = next((part.element for part in parts), None)
        levels: dict[str, dict[int, Any]] = {}
        starts: dict[tuple[str, int], int] = {}
        lists: dict[str, str] = {}
        for abstract in _all(root, "abstractNum") if root is not None else ():
            key = abstract.get(_W + "abstractNumId", "")
            levels[key] = {int(level.get(_W + "ilvl", "0")): level for level in _all(abstract, "lvl")}
        for number in _all(root, "num") if root is not None else ():
            key = number.get(_W + "numId", "")
            lists[key] = _value(number, "abstractNumId")
            for change in _all(number, "lvlOverride"):
                start = _value(change, "startOverride")
                if start.isdigit():
                    starts[key, int(change.get(_W + "ilvl", "0"))] = int(start)
        return cls(levels, starts, lists, styles)

    def style_chain(self, style: str) -> Iterator[Any]:
        """A style and those it is based on."""
        for _ in range(12):
            found = self.styles.get(style)
            if found is None:
                return
            yield found
            style = _value(found, "basedOn")

    def label(self, properties: Any) -> tuple[str, int]:
        """The list number that a paragraph shows, and how deep in its list it stands; nothing where it has none."""
        style = _value(properties, "pStyle")
        key, depth = _value(properties, "numPr/numId"), _value(properties, "numPr/ilvl")
        for found in self.style_chain(style):
            key = key or _value(found, "pPr/numPr/numId")
            depth = depth or _value(found, "pPr/numPr/ilvl")
        abstract = self.lists.get(key, "")
        levels = self.levels.get(abstract)
        if key == "0" or levels is None:
            return "", 0
        at = int(depth) if depth.isdigit() else next((n for n, v in levels.items() if _value(v, "pStyle") == style), 0)
        if at not in levels:
            return "", at
        counts = self.counts.setdefault(abstract, {})
        if (key, at) in self.starts:  # a list that begins anew, once
            counts[at] = self.starts.pop((key, at))
        else:
            counts[at] = counts[at] + 1 if at in counts else self._start(levels[at])
        for deeper in [n for n in counts if n > at]:
            del counts[deeper]
        if _value(levels[at], "numFmt") == "bullet":
            return "-", at
        legal = _is_on(levels[at], "isLgl")

        def number(match: re.Match[str]) -> str:
            level = int(match[1]) - 1
            form = _value(levels.get(level), "numFmt", "decimal")
            return _counted(counts.get(level, self._start(levels.get(level))), "decimal" if legal else form)

        return re.sub(r"%([1-9])", number, _value(levels[at], "lvlText")).strip(), at

    @staticmethod
    def _start(level: Any) -> int:
        start = _value(level, "start", "1")
        return int(start) if start.isdigit() else 1


def _counted(number: int, form: str) -> str:
    """A number as a list shows it: `3`, `03`, `C`, `iii`."""
    if form in ("upperLetter", "lowerLetter"):
        letters = chr(ord("a") + (number - 1) % 26) * min((number - 1) // 26 + 1, 9)
        return letters.upper() if form == "upperLetter" else letters
    if form in ("upperRoman", "lowerRoman") and number < 40:
        text, left = "", number
        for value, sign in _ROMAN:
            text, left = text + sign * (left // value), left % value
        return text.upper() if form == "upperRoman" else text
    return "" if form == "none" else f"{number:02}" if form == "decimalZero" else str(number)


@define(eq=False)
class _Writer:
    """Puts down line after line."""

    numbering: _Numbering
    lines: list[str] = field(factory=list)
    notes: dict[str, None] = field(factory=dict)

    def blocks(self, parent: Any) -> None:
        """Paragraphs and tables in the order in which they stand, those within content controls too."""
        for child in parent:
            name = str(child.tag).removeprefix(_W)
            if name == "p":
                self._paragraph(child)
            elif name == "tbl":
                while self.lines and not self.lines[-1]:
                    self.lines.pop()  # the line above a table is its caption
                self.lines.extend(self._rows(child))
                self.lines.append("")
            elif name in ("sdt", "sdtContent", "ins", "moveTo", "customXml", "smartTag"):
                self.blocks(child)
            elif name in ("del", "moveFrom"):
                self.notes["changes were tracked in it, and were read as accepted"] = None

    def _paragraph(self, element: Any) -> None:
        properties = element.find(_W + "pPr")
        label, depth = self.numbering.label(properties)
        text = self._text(element)
        said = [" ".join(line.replace("\t", "    ").rstrip().split("\n")) for line in text.split("\n")]
        said = [line for line in said if line.strip()]
        if said:
            indent = "  " * min(depth, 8) if label else " " * self._indent(properties)
            start = f"{label} " if label else self._heading(properties, said[0])
            self.lines.extend(f"{indent}{start if not n else ''}{line.strip()}" for n, line in enumerate(said))
            self.lines.append("")
        for box in _boxes(element):
            self.blocks(box)

    def _heading(self, properties: Any, text: str) -> str:
        """Signs that mark a heading by its style, where nothing in its text does."""
        if text.isupper() or _OWN_LABEL.match(text):
            return ""
        for style in self.numbering.style_chain(_value(properties, "pStyle")):
            found = re.fullmatch(r"heading ([1-6])", _value(style, "name").lower())
            if found:
                return "#" * int(found[1]) + " "
        return ""

    @staticmethod
    def _indent(properties: Any) -> int:
        found = properties.find(_W + "ind") if properties is not None else None
        left = found.get(_W + "left", found.get(_W + "start", "0")) if found is not None else "0"
        return min(int(left) // 180, 24) if left.isdigit() else 0  # twentieths of a point; four blanks to half an inch

    def _text(self, paragraph: Any) -> str:
        """The text of a paragraph without its text boxes: deletions gone, insertions there, strikes marked."""
        parts: list[str] = []

        def walk(element: Any, struck: bool) -> None:
            for child in element:
                name = str(child.tag).removeprefix(_W)
                if name in ("del", "moveFrom", "ins", "moveTo"):
                    self.notes["changes were tracked in it, and were read as accepted"] = None
                if name in ("del", "moveFrom", "txbxContent", "pPr", "rPr") or child.tag == _FALLBACK:
                    continue
                if name in ("footnoteReference", "endnoteReference"):
                    self.notes["its footnotes were not read"] = None
                if name == "r":
                    properties = child.find(_W + "rPr")
                    if _is_on(properties, "vanish"):
                        self.notes["hidden text in it was not read"] = None
                        continue
                    walk(child, _is_on(properties, "strike") or _is_on(properties, "dstrike"))
                elif name == "t":
                    parts.append(f"~~{child.text}~~" if struck and child.text else child.text or "")
                elif name in _SIGNS:
                    parts.append(_SIGNS[name])
                else:
                    walk(child, struck)

        walk(paragraph, False)
        return _STRUCK.sub(r"\1", "".join(parts))

    def _rows(self, table: Any) -> Iterator[str]:
        """A table as pipe rows; a cell that spans columns fills the first, one that goes on from above is empty."""
        for row in self._below(table, "tr"):
            cells: list[str] = []
            for cell in self._below(row, "tc"):
                properties = cell.find(_W + "tcPr")
                merged = properties.find(_W + "vMerge") if properties is not None else None
                goes_on = merged is not None and merged.get(_W + "val", "continue") == "continue"
                cells.append("" if goes_on else self._cell(cell))
                span = _value(properties, "gridSpan", "1")
                cells.extend("" for _ in range(min(int(span) if span.isdigit() else 1, 64) - 1))
            if any(cells):
                yield f"| {' | '.join(cells)} |"
                if _is_on(row.find(_W + "trPr"), "tblHeader"):
                    yield "|" + "---|" * len(cells)

    def _below(self, parent: Any, name: str) -> Iterator[Any]:
        """Rows of a table or cells of a row, those within content controls and insertions too."""
        for child in parent:
            if child.tag == _W + name:
                yield child
            elif child.tag in (_W + "sdt", _W + "sdtContent", _W + "ins", _W + "customXml"):
                yield from self._below(child, name)

    def _cell(self, cell: Any) -> str:
        inner = _Writer(self.numbering, notes=self.notes)
        inner.blocks(cell)
        text = ""
        for line in (" ".join(line.replace("|", " ").split()) for line in inner.lines):
            if line:
                new = text and not text.endswith((".", ";", ":", ",")) and not line[0].islower()
                text = f"{text}{'; ' if new else ' '}{line}" if text else line
        return text
