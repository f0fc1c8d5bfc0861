"""Every document that comes with the program, by the name `--format` takes; each is loaded only when it is asked for."""

from __future__ import annotations

from importlib import import_module

from darby.estimate.document_format import Document

_MODULES = {
    "terminal": "terminal.estimate",
    "xlsx": "workbook.to_xlsx",
    "html": "page.to_html",
    "json": "exact_json.estimate",
    "csv": "to_csv",
    "working": "to_csv",
    "measured": "to_csv",
    "rules": "to_csv",
    "open": "to_csv",
    "rooms": "terminal.rooms",
    "rooms.csv": "to_csv",
    "order": "letters.to_order_list",
    "letter": "letters.to_letter",
    "clarifications": "letters.to_letter",
    "scope": "letters.to_scope_note",
}
"""The name of a document, or its first word, to the module that makes it."""


def document_named(name: str) -> Document | None:
    """The document of a name, `order.md`; nothing where none goes by it."""
    module = _MODULES.get(name) or _MODULES.get(name.partition(".")[0])
    return next((d for d in _of(module) if d.name == name), None) if module else None


def documents() -> tuple[Document, ...]:
    """Every document there is."""
    return tuple(d for module in dict.fromkeys(_MODULES.values()) for d in _of(module))


def _of(name: str) -> tuple[Document, ...]:
    module = import_module(f"darby.documents.{name}")
    made: tuple[Document, ...] = getattr(module, "DOCUMENTS", None) or (module.DOCUMENT,)
    return made
