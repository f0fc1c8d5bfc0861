"""Footnotes of tables: each is put to the rows and cells that cite it, by its letter, number or sign.

`(a)` in a column of remarks, `E2 *` in a cell; below the table `(a) South wall PT-3.` and `* North wall in plum.`
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from darby.reading.layout.clause import Citation, Clause

_CITES = re.compile(r"\((?P<letter>[a-z0-9]{1,2}|[ivx]{1,4})\)|(?P<sign>[*†‡]{1,3})", re.IGNORECASE)
_OPENS = re.compile(r"\s*(?:\((?P<letter>[a-z0-9]{1,2}|[ivx]{1,4})\)|(?P<sign>[*†‡]{1,3}))\s+(?=\S)", re.IGNORECASE)
_LABEL = re.compile(r"\((?P<letter>[a-z0-9]{1,2}|[ivx]{1,4})\)", re.IGNORECASE)


def cite_footnotes(clauses: Sequence[Clause]) -> None:
    """Tell each footnote which rows and cells above it cite it. A sign that is cited nowhere makes no footnote."""
    cited: dict[str, list[Citation]] = {}
    for clause in clauses:
        if clause.cells:
            for number, cell in enumerate(clause.cells):
                for match in _CITES.finditer(cell.view.text):
                    whole = number == 0 or match[0] == cell.view.text.strip()
                    cited.setdefault(_sign(match), []).append(Citation(clause, None if whole else cell))
            continue
        opens = _LABEL.fullmatch(clause.label) if clause.label else _OPENS.match(clause.view.text)
        if opens is not None and not clause.heading and (found := cited.get(_sign(opens))):
            clause.cited_by = tuple(found)


def _sign(match: re.Match[str]) -> str:
    return (match["letter"] or match.groupdict().get("sign") or "").lower()
