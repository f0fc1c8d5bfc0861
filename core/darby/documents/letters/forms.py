"""The three forms of a short document."""

from __future__ import annotations

from collections.abc import Callable

from darby.documents.letters.prose import Prose, as_markdown, as_text
from darby.estimate.document_format import Document
from darby.estimate.model import Estimate


def forms(name: str, about: str, write: Callable[[Estimate], Prose]) -> tuple[Document, ...]:
    """The three forms of a short document: `letter` in plain text, `letter.md` in Markdown, `letter.html` as a page."""

    def page(estimate: Estimate) -> str:
        from darby.documents.letters.prose_page import prose_page  # noqa: PLC0415 - loads jinja2, which only pages need

        return prose_page(write(estimate))

    return (
        Document(name, f"{about}, plain text", lambda estimate: as_text(write(estimate))),
        Document(f"{name}.md", f"{about}, Markdown", lambda estimate: as_markdown(write(estimate))),
        Document(f"{name}.html", f"{about}, a page", page),
    )
