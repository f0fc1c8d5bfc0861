"""Every document that comes with the program, by the name `--format` takes. What it takes to make one is loaded when it is made."""

from __future__ import annotations

from darby.documents import Document, to_csv, to_html, to_json, to_letter, to_order_list, to_scope_note, to_xlsx

DOCUMENTS: tuple[Document, ...] = (
    to_xlsx.DOCUMENT,
    to_html.DOCUMENT,
    to_json.DOCUMENT,
    *to_csv.DOCUMENTS,
    *to_order_list.DOCUMENTS,
    *to_letter.DOCUMENTS,
    *to_scope_note.DOCUMENTS,
)
