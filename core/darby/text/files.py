"""Files to sources: encodings of text, word processor files and PDFs, and a clear sentence for what holds no text."""

from __future__ import annotations

import difflib
import io
import os
import re
import stat
import zipfile
from collections.abc import Callable, Iterable
from itertools import islice
from pathlib import Path
from typing import Protocol

from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.formats.time_limit import ALLOWANCE, TooLongError, at_most
from darby.text.spans import Source, Span

Opened = tuple[Source | None, tuple[Diagnostic, ...]]


class Decoded(Protocol):
    """Takes the text out of some bytes, as `decode` does."""

    def __call__(self, data: bytes, name: str, span: Span | None = None, *, table: bool = False) -> Opened:
        """The source, or None and the reason."""
        ...


_MARKS = (
    (b"\xff\xfe\x00\x00", "utf-32"),
    (b"\x00\x00\xfe\xff", "utf-32"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)
"""Byte order marks, the longer first, since one begins with another. Source: the Unicode Standard, section 23.8."""

_KNOWN = (
    (b"PK\x03\x04", "a zip or office file"),
    (b"\xd0\xcf\x11\xe0", "an old word processor or spreadsheet file"),
    (b"{\\rtf", "a rich text file"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"II*\x00", "a picture"),
    (b"MM\x00*", "a picture"),
    (b"\x1f\x8b", "a compressed file"),
)
"""What the first bytes of a file say it is, from memory."""

_CONTROL = re.compile(r"[\x00-\x08\x0e-\x19\x1b-\x1f\x7f]")
"""Characters that no text has; the end-of-file mark of old systems (1A) is not among them."""

_GARBLED = re.compile(r"[\xc2-\xef][\x80-\xbf]")
"""How a UTF-8 character looks to who takes each of its bytes for a character."""

LARGEST_FILE = 200_000_000
"""Bytes of a file: a whole project manual with its pictures is a fifth of that."""
LARGEST_TEXT = 20_000_000
"""Characters of a document, in any file: such a manual has a fiftieth of that."""
LARGEST_TABLE = 64_000_000
"""Characters of a table of measured rows."""

_OTHERWISE = (
    "Open it in its own program, save it as plain text (UTF-8) and name that file, or ask its sender for the text."
)
_LOOK = "Look at the file itself, to see that nothing you need is missing."
_SAVE_AS = "Save it as plain text (UTF-8) and name that file instead."


def open_file(
    path: Path, name: str = "", span: Span | None = None, *, table: bool = False, decoded: Decoded | None = None
) -> Opened:
    """The source in a file, or None and the reason. `name` is how the user calls it; `span` where a job names it.

    Where a `table` is wanted, a spreadsheet (.xlsx) will do. `decoded` takes the place of `decode`.

    Whatever is wrong with the file is a diagnostic, never an exception.
    """
    name = name or str(path)
    try:
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            return None, (
                problem("file-is-folder", f"{name} is a folder; a text file is wanted.", span, file=name,
                        help=_one_of(path)),
            )  # fmt: skip
        piped = stat.S_ISFIFO(mode)
        if not stat.S_ISREG(mode) and not (piped and span is None):  # a pipe that a job names would wait for ever
            kind = "pipe" if piped else "device"
            return None, (problem("file-unreadable", f"{name} is a {kind}, not a text file.", span, file=name),)
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 1)
    except (FileNotFoundError, NotADirectoryError):
        return None, (missing_file(path, name, span),)
    except (OSError, ValueError) as error:  # ValueError: a name that no system takes, as one with a NUL in it
        why = (getattr(error, "strerror", None) or str(error)).lower()
        return None, (problem("file-unreadable", f"{name} cannot be opened: {why}.", span, file=name),)
    return (decoded or decode)(data, name, span, table=table)


def decode(data: bytes, name: str, span: Span | None = None, *, table: bool = False) -> Opened:
    """The text in some bytes, as a source called `name`, or None and the reason.

    The text of a PDF or a .docx, whose places are pages and paragraphs. Of a text file all of it: UTF-8, with or without its
    mark; UTF-16 and UTF-32 with their mark; else Windows-1252, said in a note, where the result reads like text. Line ends
    are kept as they are.
    """
    if len(data) > LARGEST_FILE:
        return None, (_too_large(name, f"{LARGEST_FILE // 1_000_000} MB", span),)
    source, told = _decoded(data, name, span, table=table)
    most = LARGEST_TABLE if table else LARGEST_TEXT
    if source is not None and len(source.text) > most:
        return None, (_too_large(name, f"{most // 1_000_000} million characters", span),)
    return source, told


def _too_large(name: str, most: str, span: Span | None) -> Diagnostic:
    return problem(
        "file-too-large", f"{name} has more than {most}.", span, file=name,
        help="Take the sections that matter out of it, and name these.",
    )  # fmt: skip


def _decoded(data: bytes, name: str, span: Span | None, *, table: bool) -> Opened:
    if data.startswith(b"%PDF-", 0, 1024):
        from darby.text.formats import pdf as from_pdf  # noqa: PLC0415 - most documents are text

        return _extracted(data, name, span, ("a PDF", "page", "pdf", "pypdf"), from_pdf.text_of)
    if table and _holds(data, "xl/workbook.xml"):
        from darby.text.formats import xlsx as from_xlsx  # noqa: PLC0415 - most tables are text

        return _extracted(data, name, span, ("a spreadsheet", "line", "xlsx", "openpyxl"), from_xlsx.text_of)
    if _holds(data, "word/document.xml"):
        from darby.text.formats import docx as from_docx  # noqa: PLC0415 - most documents are text

        return _extracted(data, name, span, ("a .docx", "paragraph", "docx", "python-docx"), from_docx.text_of)
    kind = next((what for start, what in _KNOWN if data.startswith(start)), "")
    if kind:
        message = f"{name} is {kind}, not plain text."
        return None, (problem("file-binary", message, span, help=_SAVE_AS, file=name),)
    encoding = next((e for mark, e in _MARKS if data.startswith(mark)), "utf-8-sig")
    notes: tuple[Diagnostic, ...] = ()
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        found = _western(data) if encoding == "utf-8-sig" else None
        if found is None:
            return None, (_undecodable(data, name, span, error),)
        text = found
        notes = (
            problem(
                "encoding-guessed",
                f"{name} is not UTF-8; it was read as Windows-1252, and reads like text.",
                severity=Severity.NOTE,
                help="Check that fractions, degree signs and quotation marks in it look right, or save it as UTF-8.",
                file=name,
            ),
        )
    if "\x00" in text or len(_CONTROL.findall(text)) * 10 > len(text):
        return None, (_binary(text, name, span),)
    if not text.strip().strip("\ufeff\x1a"):
        return None, (
            problem("file-empty", f"{name} is empty.", span, file=name,
                    help="Check that it was saved, and that it is the file you mean."),
        )  # fmt: skip
    return Source(name, text), notes


def _holds(data: bytes, part: str) -> bool:
    """Whether some bytes are a packed file with such a part."""
    if not data.startswith(b"PK\x03\x04"):
        return False
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as parts:
            return part in parts.namelist()
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError):
        return False


def _extracted(
    data: bytes,
    name: str,
    span: Span | None,
    what: tuple[str, str, str, str],
    text_of: Callable[[bytes], tuple[str, tuple[str, ...]]],
) -> Opened:
    """The text of a file that is no text file; `what` is its kind, its unit of place, the extra and the library for it."""
    kind, unit, extra, library = what
    try:
        with at_most():
            text, told = text_of(data)
    except ImportError:
        message = f"{name} is {kind}, and {library}, which reads those, is not installed."
        other = (
            "save it as CSV and name that"
            if extra == "xlsx"
            else "copy the text out of it and paste it in: darby read -"
        )
        help_ = f"Install it: pip install 'darby[{extra}]'. Or {other}"
        return None, (problem("library-missing", message, span, help=help_, file=name),)
    except ValueError as error:
        message = f"{name} is {kind}, and its text cannot be taken out: {error}."
        return None, (problem("file-no-text", message, span, help=_OTHERWISE, file=name),)
    except TooLongError:
        message = f"{name} is {kind}, and its text cannot be taken out: that takes more than {ALLOWANCE} seconds."
        return None, (problem("file-no-text", message, span, help=_OTHERWISE, file=name),)
    except RecursionError:
        message = f"{name} is {kind}, and its text cannot be taken out: it is nested too deeply."
        return None, (problem("file-no-text", message, span, help=_OTHERWISE, file=name),)
    if not text.strip():
        return None, (problem("file-empty", f"{name} is empty.", span, file=name, help=_OTHERWISE),)
    notes = (
        problem("text-left-out", f"{name}: {said}.", severity=Severity.NOTE, help=_LOOK, file=name) for said in told
    )
    return Source(name, text, unit), tuple(notes)


def missing_file(path: Path, name: str, span: Span | None = None) -> Diagnostic:
    """That a file is not there, with the nearest name in its folder."""
    folder = path.parent
    if not folder.is_dir():
        parent = str(Path(name).parent)
        return problem("file-missing", f"{name} is not there: there is no folder {parent}.", span, file=name,
                       help=_near(folder, parent))  # fmt: skip
    return problem("file-missing", f"{name} is not there.", span, help=_near(path, name), file=name)


def nearest(name: str, names: Iterable[str]) -> str:
    """The one of some names that looks most like a misspelt one, or nothing."""
    plain: dict[str, str] = {}
    for known in sorted(names):
        plain.setdefault(known.casefold(), known)
    close = difflib.get_close_matches(name.casefold(), plain, n=1)
    return plain[close[0]] if close else ""


def _near(path: Path, name: str) -> str:
    """A way out of a missing file, or nothing. The name is shown as the user would write it."""
    close = nearest(path.name, _inside(path.parent))
    return f"Did you mean {Path(name).with_name(close)}?" if close and Path(name).name else ""


def _one_of(folder: Path) -> str:
    texts = sorted(n for n in _inside(folder) if n.lower().endswith((".txt", ".md")))
    return f"Name a file in it, as {texts[0]}." if texts else "Name a file in it."


def _inside(folder: Path) -> list[str]:
    try:
        with os.scandir(folder) as entries:
            return [entry.name for entry in islice(entries, 2000)]
    except (OSError, ValueError):
        return []


def _western(data: bytes) -> str | None:
    """The text as Windows-1252, or None where that is unlikely.

    Unlikely means: a byte it has no character for, UTF-8 characters left in it, or more than one letter in five beyond
    ASCII, as when the bytes are of another script.
    """
    try:
        text = data.decode("cp1252")
    except UnicodeDecodeError:
        return None
    foreign = sum(1 for c in text if ord(c) > 127)
    return None if foreign * 5 > len(text) or _GARBLED.search(data.decode("latin-1")) else text


def _binary(text: str, name: str, span: Span | None) -> Diagnostic:
    """That a file is no text, with the line of the first sign that no text has."""
    found = _CONTROL.search(text)
    where = f": line {text.count(chr(10), 0, found.start()) + 1} holds signs that no text has" if found else ""
    return problem("file-binary", f"{name} is no text file{where}.", span, help=_SAVE_AS, file=name)


def _undecodable(data: bytes, name: str, span: Span | None, error: UnicodeDecodeError) -> Diagnostic:
    if len(_CONTROL.findall(data.decode("latin-1"))) * 10 > len(data) and not data.startswith(
        (b"\xff\xfe", b"\xfe\xff")
    ):
        return _binary(data.decode("latin-1"), name, span)
    line = data.count(b"\n", 0, error.start) + 1
    where = f"line {line}" if error.encoding.startswith("utf-8") else f"byte {error.start + 1}"
    return problem(
        "encoding-unknown",
        f"{name} is no readable text: {where} holds bytes that are not {error.encoding.upper()}.",
        span,
        help="Open it in the program that made it and save it as UTF-8.",
        file=name,
    )
