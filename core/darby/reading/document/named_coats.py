"""Counts that a list gives by naming its members: `Ground coat: oil.`, `Last coat: oil, satin.` are one coat each.

Schedules of finishes name coat after coat and state no number. One such label alone may head a rate or a product; two in one
list are a system, and each of its members is one. A bare number that answers a question counts what that asks for.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction

from attrs import frozen

from darby.quantities.units import EACH
from darby.reading.layout.clause import Cell, Clause
from darby.reading.parsing.fact_parser import Fact, Quantity
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag
from darby.text.spans import View

_NONE: Mapping[str, str] = {}
_LONGEST = 3
"""Tags in the label of a member."""
_FEWEST = 2
"""Members that make a list a system."""
_COATS = "coats"


@frozen(eq=False)
class _Member:
    clause: Clause
    tags: Sequence[Tag]
    colon: int
    product: str
    also: tuple[tuple[str, str], ...]
    named: bool = True
    """Whether its label calls it a coat, and not only by its goods."""

    @property
    def said(self) -> Sequence[Tag]:
        """What stands behind its label."""
        return self.tags[self.colon + 1 :]

    @property
    def sheens(self) -> list[Tag]:
        """The looks it names."""
        return [t for t in self.said if t.name == "sheen"]


def listed(
    clauses: Sequence[Clause], tags: Callable[[View], Sequence[Tag]], lexicon: Lexicon, systems: Mapping[str, str] = _NONE
) -> Mapping[int, Fact]:  # fmt: skip
    """One fact for each member of a list of coats that are named and not numbered, for each answer that is a bare number and each
    cell that counts a mark, by the `id` of the view. `systems` are the products that marks stand for."""
    lists: dict[tuple[int, ...], list[_Member]] = {}
    answers: dict[int, Fact] = {}
    staged = {
        id(clause.table)
        for clause in clauses
        if clause.cells and _staged([tags(c.heads[-1]) for c in clause.cells if c.heads], lexicon)
    }
    for clause in clauses:
        for cell in clause.cells[1:]:
            one = None if cell.again else _under_coat(cell, tags, lexicon, staged=id(clause.table) in staged)
            answers.update({id(cell.view): one} if one is not None else {})
        for cell in clause.cells[1:] if systems else ():
            counted = None if cell.again else _counted(cell.view.text, tags(cell.view), lexicon, systems)
            answers.update({id(cell.view): counted} if counted is not None else {})
        if not clause.cells and clause.parents and clause.parents[0].asks:
            fact = _answered(tags(clause.view), tags(clause.parents[0].view))
            answers.update({id(clause.view): fact} if fact is not None else {})
        if clause.cells or clause.heading or not clause.parents:
            continue
        member = _member(clause, tags(clause.view), lexicon)
        if member is not None:
            lists.setdefault(tuple(map(id, clause.parents)), []).append(member)
    return answers | {
        id(member.clause.view): _fact(member, members)
        for members in lists.values()
        if sum(member.named for member in members) >= _FEWEST
        for member in members
        if member.named or len(members) >= _STAGES
    }


_STAGES = 3
"""Goods put on one over the other, from which on each is one coat though no word says so: what is first, what goes between, what is last."""


def _staged(heads: Sequence[Sequence[Tag]], lexicon: Lexicon) -> bool:
    """Whether the columns of a table are what goes on one over the other, each of them once: one at least is called after its coat."""
    goods = [head[0] for head in heads if len(head) == 1 and _is_coated(head[0], lexicon)]
    return len(goods) >= _STAGES and any(key == "coat" for tag in goods for key, _ in tag.also)


def _is_coated(tag: Tag, lexicon: Lexicon) -> bool:
    return (tag.name == "subject" and lexicon.in_coats(tag.value)) or tag.name == "COAT"


_OF_ONE = ("subject", "sheen", "color", "class", "note", "FULL", "COAT")
"""What a cell under the head of one coat may hold: the coat, and how it looks."""


def _under_coat(
    cell: Cell, tags: Callable[[View], Sequence[Tag]], lexicon: Lexicon, *, staged: bool
) -> Fact | None:  # fmt: skip
    """A cell that only names goods or a look, under the head of one coat: `2nd coat` over `oil, satin`."""
    head = tags(cell.heads[-1]) if cell.heads else ()
    words = cell.heads[-1].text.lower().split() if cell.heads else []
    counted = [t.name for t in head] == ["ORDINAL", "COAT"]
    alone = staged and len(head) == 1 and _is_coated(head[0], lexicon)
    if not alone and (sum(t.name == "COAT" for t in head) != 1 or len(head) > _LONGEST or len(words) < 2):
        return None
    if words[-1:] != ["coat"] and not counted and not alone:
        return None
    said = [t for t in tags(cell.view) if t.name != "COMMA"]
    goods = [t for t in said if t.name in ("subject", "sheen")]
    products = {lexicon.implies.get("sheen", "") if t.name == "sheen" else t.value for t in goods}
    product = next(iter(products), "")
    if any(t.name not in _OF_ONE for t in said) or len(products) != 1 or not lexicon.in_coats(product):
        return None
    which = next((t.value for t in head if t.name == "ORDINAL"), words[-2] if len(words) > 1 else "")
    called = [(key, value) for t in head if alone for key, value in t.also if key == "coat"]
    end = next(n for n, t in enumerate(tags(cell.view)) if t is goods[0]) + 1
    return Fact(
        _COATS, Quantity(Fraction(1), EACH), scope=tuple(called) if alone else (("coat", which),), subject=product, start=end - 1, end=end,
        place=goods[0].start, over=goods[0].end,
    )  # fmt: skip


_COUNT = re.compile(r"\(?[0-9]\)?\s?(?:[x×]\s?)?(?=[A-Z])")
"""How often a mark is meant, right before it: `(2) GB-1`, `2 x GB-1`."""


def _counted(text: str, tags: Sequence[Tag], lexicon: Lexicon, systems: Mapping[str, str]) -> Fact | None:
    """A cell that says how many layers of marked goods there are, and nothing else."""
    said = _COUNT.match(text)
    number = next((t for t in tags[:2] if t.name == "NUMBER"), None)
    mark = next((t for t in tags if t.name == "mark"), None)
    if said is None or number is None or number.number is None or mark is None or mark.start != said.end():
        return None
    product = systems.get(mark.value, "")
    if text[mark.end :].strip() or "layers" not in lexicon.kinds.get(product, ()):
        return None
    amount = Quantity(number.number, EACH)
    end = next(n for n, t in enumerate(tags) if t is mark)
    return Fact("layers", amount, subject=product, start=0, end=end, place=number.start, over=number.end)


_CLOSED = ("COMMA", "STOP", "SEMICOLON", "DASH")


def _answered(tags: Sequence[Tag], asked: Sequence[Tag]) -> Fact | None:
    """`How many layers on the Book Drop walls?` over `Two, type X.`: what a bare number counts stands in the question."""
    kinds = {kind for t in asked for name, kind in (("COAT", _COATS), ("LAYER", "layers")) if t.name == name}
    first = tags[0] if tags else None
    if len(kinds) != 1 or first is None or first.name != "NUMBER" or first.start or first.number is None:
        return None
    if first.number.denominator != 1 or (len(tags) > 1 and tags[1].name not in _CLOSED):
        return None
    amount = Quantity(first.number, EACH)
    return Fact(kinds.pop(), amount, scope=(), subject="", start=0, end=1, place=first.start, over=first.end)


def _member(clause: Clause, tags: Sequence[Tag], lexicon: Lexicon) -> _Member | None:
    """A clause whose label names one coat of something that is put on in coats, and nothing more."""
    colon = next((n for n, t in enumerate(tags[: _LONGEST + 1]) if t.name == "COLON"), 0)
    label = tags[:colon]
    coat = next((t for t in label if t.name == "COAT"), None)
    subject = next((t for t in label if t.name == "subject"), None)
    if any(t.name not in ("COAT", "subject") for t in label) or (coat is None and len(label) != 1):
        return None
    if coat is not None and clause.view.text[coat.start : coat.end].endswith(("s", "S")):
        return None  # `Last coats` are any number
    if coat is None and any(t.name in ("NUMBER", "A_COAT", "COAT") for t in tags[colon:]):
        return None  # it says how many itself
    if any(t.name == "REPLACED" for t in tags[colon:]):
        return None  # `Prime coat: shop primed`
    product = subject.value if subject is not None else coat.value if coat is not None else ""
    if not lexicon.in_coats(product):
        return None
    also = tuple(pair for pair in subject.also if pair[0] == "coat") if subject is not None else ()
    return _Member(clause, tags, colon, product, also, named=coat is not None or bool(also))


def _fact(member: _Member, members: Sequence[_Member]) -> Fact:
    """One coat; `matching the last coat` takes over its look."""
    scope = dict(member.also)
    if not member.sheens and any(t.name == "COAT" and t.value == member.product for t in member.said):
        looks = {t.value for m in members if m is not member and m.product == member.product for t in m.sheens}
        if len(looks) == 1:
            scope["sheen"] = looks.pop()
    first, last = member.tags[0], member.tags[member.colon - 1]
    return Fact(
        _COATS, Quantity(Fraction(1), EACH), scope=tuple(scope.items()), subject=member.product,
        start=0, end=member.colon, place=first.start, over=last.end,
    )  # fmt: skip
