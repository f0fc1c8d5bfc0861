"""How paragraphs are named: by the labels they stand under, `3.02.C.1`, and items of lists by their own, `F1`."""

from __future__ import annotations

import re

from darby.reading.layout.clause import Clause

Path = tuple[str, ...]
"""A paragraph as its labels count it: `3.02.C.1` is ("3", "2", "C", "1")."""

WORD = r"(?:sub-?paragraphs?|paragraphs?|paras?\.?|pars?\.|articles?|art\.|clauses?|items?)\s{1,3}"
"""A word that says that a number behind it is one of a paragraph or an item."""


def path_of(clause: Clause) -> Path:
    """The paragraph of a clause, as the labels of all it stands under count it."""
    path: Path = ()
    for one in (*reversed(clause.parents), clause):
        label = one.label.strip().rstrip(".)").lstrip("(.")
        if re.fullmatch(r"[0-9]{1,3}(?:\.[0-9]{1,3})+", label):
            path = tuple(str(int(n)) for n in label.split("."))
        elif re.fullmatch(r"[0-9]{1,2}|[A-Za-z]", label):
            path = (*path, str(int(label)) if label.isdigit() else label)
    return path


def begins_with(clause: Clause, item: str) -> bool:
    """Whether a clause is the item of a list that goes by that number or letter."""
    if clause.label.strip(" .)(").upper() == item.upper():
        return True
    return re.match(rf"(?:{WORD})?{re.escape(item)}(?![\w/-]|\.[0-9])", clause.text, re.IGNORECASE) is not None


def path_named(ref: str) -> Path:
    """The paragraph that a reference names: `3.02 C(1)` is ("3", "2", "C", "1")."""
    path: Path = ()
    for part in re.findall(r"[0-9]{1,3}|[A-Za-z]", ref):
        first = part.isalpha() and all(p.isdigit() for p in path)
        path = (*path, str(int(part)) if part.isdigit() else part.upper() if first else part)
    return path
