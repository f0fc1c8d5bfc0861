"""What other trades' sections of a project manual say: one line each in the account, and little else.

A clause there counts only where it names goods of ours by a word that is nobody else's, and waits to be confirmed. What would
have made a rule of ours in a section of our own stands on a short list: is this yours?
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from attrs import evolve, frozen

from darby.reading.clause_reader import Desk
from darby.reading.layout.clause import Clause, Layout, Section
from darby.reading.ownership import Owner, Ownership
from darby.rules.rule import Rule
from darby.text.diagnostics import Diagnostic, Severity, problem
from darby.text.spans import Span

_ABROAD = ("room", "exterior")
"""Where the rules of a section hold whose work is the same and out of doors."""
_HELP = "If it is, write it as a plain line under rules in the job file. `darby why not-ours` says how sections are told apart."


@frozen(eq=False)
class Account:
    """What became of one section that is not ours."""

    section: Section
    span: Span
    """Where it begins."""
    numbers: int
    rules: int
    asked: int

    @property
    def line(self) -> str:
        """Its line in the account."""
        several = "s" * (self.numbers != 1)
        return f"{title_of(self.section)}: {self.numbers} number{several}, not ours"


def title_of(section: Section) -> str:
    """A section as a reader names it: `07 56 00 Fluid-applied roofing`."""
    title = section.title.capitalize() if section.title.isupper() else section.title
    return f"{section.number} {title}".strip()


def read_manual(layout: Layout, ownership: Ownership, desk: Desk, another: Callable[..., Desk]) -> tuple[Account, ...]:
    """Read a document at a desk, section by section where it has several. `another` makes a further desk."""
    sections = dict.fromkeys(clause.section for clause in layout.clauses)
    owners = {section: _owner(section, ownership) for section in sections}
    foreign = Owner.OTHER in owners.values()
    if foreign and None in owners:
        owners[None] = Owner.UNKNOWN
    _speak_of_others(layout.clauses, owners, ownership)
    groups: dict[Owner, list[Clause]] = {owner: [] for owner in Owner}
    for clause in layout.clauses:
        groups[owners[clause.section]].append(clause)
    here = [clause for clause in layout.clauses if owners[clause.section] in (Owner.OURS, Owner.UNKNOWN)]
    desk.read(Layout(tuple(here), layout.apart))
    weak = [clause for clause in groups[Owner.UNKNOWN] if foreign or clause.section is not None]
    _doubt(desk, weak)
    if groups[Owner.OUTSIDE]:
        outside = another(scope=(_ABROAD,))
        outside.read(Layout(tuple(groups[Owner.OUTSIDE]), ()))
        _take_over(desk, outside)
    return tuple(_others(groups[Owner.OTHER], ownership, desk, another()))


def _speak_of_others(
    clauses: Sequence[Clause], owners: dict[Section | None, Owner], ownership: Ownership
) -> None:  # fmt: skip
    """Put clauses of a text without sections that open with another trade's, and what stands under them, into that section: a change
    of `Section 09 65 19, paragraph 2.1` is none of ours."""
    named: dict[str, Section] = {}
    moved: dict[int, Section] = {}
    for clause in clauses:
        found = _OPENS.match(clause.view.text) if clause.section is None else None
        of = named.setdefault(found["number"], Section(found["number"], "")) if found is not None else None
        above = next((moved[id(parent)] for parent in clause.parents if id(parent) in moved), None)
        section = of if of is not None and _owner(of, ownership) is Owner.OTHER else above if of is None else None
        if clause.section is None and section is not None:
            clause.section = moved[id(clause)] = section
            owners[section] = Owner.OTHER


_OPENS = re.compile(
    r"(?:Specification\s)?Section\s(?P<number>[0-9]{2} [0-9]{2} [0-9]{2})(?:\.[0-9]{2})?[,:]\s", re.IGNORECASE
)


def _owner(section: Section | None, ownership: Ownership) -> Owner:
    return Owner.OURS if section is None else ownership.owner(section)


def to_confirm(rule: Rule, why: str) -> Rule:
    """A rule that waits to be confirmed, for one more reason where it has one."""
    own = f"{rule.confirm[:1].upper()}{rule.confirm[1:].rstrip('.')}. " if rule.confirm else ""
    return rule if why in rule.confirm else evolve(rule, confirm=f"{own}{why}")


def _doubt(desk: Desk, weak: Sequence[Clause]) -> None:
    """Rules from stretches of which nothing says whose they are wait to be confirmed."""
    if not weak:
        return
    starts = [clause.view.whole.start for clause in weak]
    for number, rule in enumerate(desk.rules):
        at = bisect_right(starts, rule.span.start) - 1
        if at >= 0 and rule.span.start < weak[at].view.whole.end:
            desk.rules[number] = to_confirm(rule, _why(weak[at].section))


def _why(section: Section | None) -> str:
    if section is None:
        return "It stands before the first section: whose it is is not said."
    if section.ended:
        return f"It stands behind the end of section {title_of(section)}: whose it is is not said."
    return f"It stands in section {title_of(section)}, which may be another trade's."


def _take_over(desk: Desk, other: Desk) -> None:
    desk.rules.extend(other.rules)
    desk.diagnostics.extend(other.diagnostics)
    desk.ledger.entries.extend(other.ledger.entries)
    desk.ledger.words.extend(other.ledger.words)
    desk.statements.extend(other.statements)


def _others(clauses: Sequence[Clause], ownership: Ownership, desk: Desk, side: Desk) -> Iterator[Account]:
    """Read what names our goods in sections of others, and account for the rest of them."""
    if not clauses:
        return
    named = [c for c in clauses if _names_goods(c, side)]
    side.read(Layout(tuple(named), ()))
    by_section: dict[Section | None, list[Clause]] = {}
    for clause in clauses:
        by_section.setdefault(clause.section, []).append(clause)
    rules = _by_section(side.rules, named)
    for section, own in by_section.items():
        assert section is not None
        kept: list[Rule] = []
        asked: list[Rule] = []
        for rule, clause in rules.get(section, ()):
            (kept if ownership.outright(clause.view.whole.text) else asked).append(rule)
        why = f"It stands in section {title_of(section)}, which is another trade's: is it yours?"
        desk.rules.extend(to_confirm(rule, why) for rule in kept)
        for rule in kept:
            desk.ledger.enter(rule.span, "read", f"{rule.kind.name} of {rule.subject}")
        desk.diagnostics.extend(_asked(section, asked))
        numbers = 0
        for clause in own:
            numbers += desk.ledger.set_aside(
                clause.view.whole, f"in another trade's section, {title_of(section)}", whole=True
            )
        yield Account(section, own[0].view.whole, numbers, len(kept), len(asked))


def _names_goods(clause: Clause, desk: Desk) -> bool:
    """Whether a clause may say something of ours: it names goods, or what is counted of them."""
    views = [cell.view for cell in clause.cells] or [clause.view]
    return any(tag.name in ("subject", "COAT", "LAYER", "LEVEL") for view in views for tag in desk.tags(view))


def _by_section(rules: Iterable[Rule], clauses: Sequence[Clause]) -> Mapping[Section | None, list[tuple[Rule, Clause]]]:
    """Rules with the clauses that they were read from, by section; both stand in order of place."""
    found: dict[Section | None, list[tuple[Rule, Clause]]] = {}
    at = 0
    for rule in sorted(rules, key=lambda r: r.span.start):
        while at + 1 < len(clauses) and clauses[at + 1].view.whole.start <= rule.span.start:
            at += 1
        found.setdefault(clauses[at].section, []).append((rule, clauses[at]))
    return found


def _asked(section: Section, rules: Sequence[Rule]) -> Iterator[Diagnostic]:
    """One question for a section: what in it may be ours."""
    if not rules:
        return
    goods = " and ".join(sorted({rule.subject for rule in rules}))
    places = len({rule.span.line for rule in rules})
    where = f" ({places} places)" if places > 1 else ""
    message = f"section {title_of(section)} is another trade's and speaks of {goods}{where}: is this yours?"
    yield problem("not-ours", message, rules[0].span, severity=Severity.QUESTION, help=_HELP)
