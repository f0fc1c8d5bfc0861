"""A short document as one page for a browser. Loads jinja2."""

from __future__ import annotations

from darby.documents.letters.prose import Fields, Heading, Listing, Paragraph, Prose, Table
from darby.documents.page.templates import inline, templates
from darby.documents.words import one_line


def prose_page(prose: Prose) -> str:
    """A short document as one self-contained page."""
    blocks = [(_KINDS[type(block)], block) for block in prose.blocks]
    style, style_hash = inline("style.css")
    page = templates().get_template("prose.html.j2")
    return page.render(title=one_line(prose.title), blocks=blocks, style=style, style_hash=style_hash)


_KINDS: dict[type, str] = {
    Heading: "heading",
    Paragraph: "paragraph",
    Listing: "listing",
    Table: "table",
    Fields: "fields",
}
