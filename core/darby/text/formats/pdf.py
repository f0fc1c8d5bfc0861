"""A PDF to text: page after page, laid out as on the page, with a form feed between two pages."""

from __future__ import annotations

import io
import logging
import re
import time
from collections.abc import Iterator
from typing import Any

from darby.text.formats.time_limit import over

_MOST_PAGES = 3000
_MOST_TEXT = 20_000_000
_EMPTY = re.compile(r"\n{3,}")


def text_of(data: bytes) -> tuple[str, tuple[str, ...]]:
    """The text in the bytes of a file, and what its reader should know of how it was taken.

    Raises ImportError without pypdf, ValueError for a file that is locked, damaged, or holds no text,
    TooLongError for one that takes too long.
    """
    import pypdf  # noqa: PLC0415 - an extra, loaded when such a file is met

    logging.getLogger("pypdf").setLevel(logging.CRITICAL)  # what matters of its remarks is told in our own words
    try:
        reader = pypdf.PdfReader(io.BytesIO(data))
        if reader.is_encrypted and not reader.decrypt(""):
            raise ValueError("it is locked with a password")
        if len(reader.pages) > _MOST_PAGES:
            raise ValueError(f"it has more than {_MOST_PAGES:,} pages")
        pages = list(_pages(reader))
    except (ValueError, RecursionError):
        raise
    except Exception as error:  # whatever a damaged file makes the library raise
        raise ValueError("it is damaged, or no such file") from error
    if not any(page.strip() for page in pages):
        raise ValueError("its pages are pictures, with no text in them")
    empty = [str(number) for number, page in enumerate(pages, 1) if not page.strip()]
    several = len(empty) > 1
    notes = (f"page{'s' * several} {', '.join(empty)} hold{'s' * (not several)} no text and may be a picture",)
    return "\f".join(pages), notes if empty else ()


def _pages(reader: Any) -> Iterator[str]:
    """The text of each page, as long as there is time, and no more of it than any document has."""
    begun, length = time.process_time(), 0
    for page in reader.pages:
        text = _page(page)
        length += len(text)
        if length > _MOST_TEXT:
            raise ValueError(f"it holds more than {_MOST_TEXT // 1_000_000} million characters")
        yield text
        over(begun)


def _page(page: Any) -> str:
    """The lines of a page without the margin they share, empty ones at its ends gone, several together made one."""
    try:
        text = page.extract_text(extraction_mode="layout")
    except Exception:  # layout is the library's newer and more fragile way
        text = page.extract_text()
    lines = [line.rstrip() for line in text.replace("\f", "\n").replace("\r", "").split("\n")]
    margin = min((len(line) - len(line.lstrip()) for line in lines if line), default=0)
    return _EMPTY.sub("\n\n", "\n".join(line[margin:] for line in lines).strip("\n"))
