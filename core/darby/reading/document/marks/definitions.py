"""Of what the definition of a mark makes it a system: of what it speaks of first, what a label says that it goes on aside."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import pairwise

from darby.reading.layout.clause import Clause
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.letters import capitals_of
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

Tags = Sequence[Tag]
_SYSTEMS = 2
"""Rows of a legend with goods of ours in one column, from which on a row without any there is of others."""


def subject_of(said: Tags, lexicon: Lexicon, kind: str) -> str:
    """Of what a definition is the system: what it speaks of first that can have a rule of some kind; nothing where it speaks of none.

    A label may only be what the system goes on (`New panels: one coat of wax`), so what stands behind its colon goes before it.
    """
    said = _without_grounds(said, lexicon)
    said, loose = _without_loose_types(said, lexicon), said
    coated = (
        next((s for s, kinds in lexicon.kinds.items() if {"coats", kind} <= set(kinds)), "") if said != loose else ""
    )
    colon = next((n for n, t in enumerate(said) if t.name == "COLON"), -1)
    behind = _first(said[colon + 1 :], lexicon, kind)
    return behind or _first(said[: colon + 1], lexicon, kind) or coated


def _without_grounds(said: Tags, lexicon: Lexicon) -> Tags:
    """The words of a definition without goods that its coats only go on: nothing tells a layer, a thickness or a sort of them."""
    coated = {t.value for t in said if t.name == "subject" and lexicon.in_coats(t.value)}
    counted = any(t.name in ("COAT", "A_COAT") for t in said)
    grounds = {t.value for t in said if t.name == "subject"} - coated
    built = any(t.name in _BUILT or lexicon.choices.get((t.name, t.value)) in grounds for t in said)
    if not coated or not counted or built:
        return said
    return [t for t in said if t.name != "subject" or t.value in coated]


_BUILT = ("LAYER", "A_LAYER", "THICK", "LENGTH_UNIT", "FEET_INCHES", "ON_CENTER")


def _without_loose_types(said: Tags, lexicon: Lexicon) -> Tags:
    """The words of a definition without those of a type whose goods nothing else in it speaks of, where it counts coats of others:
    `RESISTANT SYSTEM. Two coats of lacquer.`"""
    others = {t.value for t in said if t.name == "subject" and lexicon.in_coats(t.value)}
    spoken = {lexicon.implies.get(hint_kind(t), "") for t in said} | {t.value for t in said if t.name == "subject"}
    sided = any(t.name == "where" and t.value in lexicon.where_surface for t in said)
    if not others or sided or not any(t.name in ("COAT", "A_COAT") for t in said):
        return said
    return [t for t in said if t.name != "type" or lexicon.choices.get((t.name, t.value)) in spoken]


def _first(said: Tags, lexicon: Lexicon, kind: str) -> str:
    # what stands right before a surface may only be what the system goes on: `brick walls, public`
    under = {
        id(t)
        for t, after in pairwise(said)
        if (t.name, after.name) == ("subject", "surface") and 0 <= after.start - t.end <= 1
    }
    said = [*(t for t in said if id(t) not in under), *(t for t in said if id(t) in under)]
    named = [
        t.value
        if t.name in ("subject", "REPLACED")
        else lexicon.choices.get((t.name, t.value), lexicon.implies.get(hint_kind(t), ""))
        for t in said
    ]
    return next((s for s in named if kind in lexicon.kinds.get(s, ())), "")


def hint_kind(tag: Tag) -> str:
    """The kind that a counting word speaks of."""
    return tag.value if tag.name == "hint" else {"LAYER": "layers", "THICK": "thickness"}.get(tag.name, "")


_SIDED = re.compile(r"(?:\A|\s)(?:side|face)(?:\s|\Z)")


def of_sides(found: Mapping[str, Tags]) -> set[str]:
    """The codes of one sort, two of them at least, that all say what a side has, and of no room: what has sides is one of several sorts of
    a surface, and no note."""
    series: dict[str, list[str]] = {}
    for code in found:
        series.setdefault(code.rstrip("0123456789"), []).append(code)
    alike = (codes for stem, codes in series.items() if stem and len(codes) >= _SYSTEMS)
    return {code for codes in alike if all(_has_sides(found[one]) for one in codes) for code in codes}


def _has_sides(said: Tags) -> bool:
    sided = any(t.name == "where" and _SIDED.search(t.value) for t in said)
    return (
        sided and any(t.name in ("LAYER", "A_LAYER", "subject") for t in said) and all(t.name != "room" for t in said)
    )


def of_other_goods(clauses: Sequence[Clause], tags: Callable[[View], Tags]) -> Iterator[str]:
    """The codes of a legend's rows that are of goods of others, which have colors too: where the column of goods names something else, or
    the row opens with what nobody here orders. A look that only our goods have says that they are ours."""
    ours = Counter(
        id(cell.column)
        for clause in clauses
        for cell in clause.cells[1:]
        if cell.column is not None and any(t.name == "subject" for t in tags(cell.view))
    )
    rows: dict[int, list[Clause]] = {}
    for clause in clauses:
        if len(clause.cells) > 1:  # one that goes on with the key of the row above is of that row
            rows.setdefault(id(clause.cells[0].view), []).append(clause)
    for first, *more in rows.values():
        said = [t.name for row in (first, *more) for cell in row.cells[1:] for t in tags(cell.view)]
        if not first.cells[1].heads or not {"subject", "sheen", "type"}.isdisjoint(said):
            continue
        strange = next((t.name for t in tags(first.cells[1].view)), "") == "ASIDE"
        if strange or any(ours[id(c.column)] >= _SYSTEMS and c.view.text.strip(" -–—") for c in first.cells[1:]):
            yield capitals_of(first.cells[0].view.text.strip().rstrip(":"))
