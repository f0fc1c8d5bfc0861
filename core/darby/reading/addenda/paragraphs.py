"""The specification as it stands while addenda are carried out: which rule stands in which paragraph, and still holds."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from attrs import define, field, frozen

from darby.quantities.amounts import Amount
from darby.quantities.units import Unit
from darby.reading.addenda.instructions import Instruction
from darby.reading.addenda.wording.paragraph_names import Path, Stand
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.cascade import NARROWING
from darby.rules.rule import Layer, Rule
from darby.text.spans import Span

CHANGED = "change"
"""What binds a rule to the place of the one it was changed from."""


@define(eq=False)
class Placed:
    """A rule, the paragraph it stands in, and whether it still says what is wanted there."""

    rule: Rule
    section: str
    path: Path
    holds: bool = True


@frozen
class Said:
    """A number in an instruction, the unit behind it, and whether it stands in brackets."""

    span: Span
    value: Fraction
    unit: Unit | None
    aside: bool


@define(eq=False)
class Standing:
    """All paragraphs of a specification and all rules that were read in them, by what each stands in."""

    gone: list[Rule] = field(factory=list)
    _starts: dict[int, tuple[list[int], Sequence[Stand]]] = field(factory=dict)
    _placed: dict[Path, list[Placed]] = field(factory=dict)
    _paragraphs: dict[Path, set[tuple[str, str]]] = field(factory=dict)

    def put_down(self, rules: Sequence[Rule], found: Sequence[Stand]) -> None:
        """Lay out a document: its clauses, and which rule stands in which."""
        starts = [stand.start for stand in found]
        if found:
            self._starts[id(found[0].clause.view.source)] = starts, found
        for stand in found:
            for upper in _prefixes(stand.path):
                self._paragraphs.setdefault(upper, set()).add((stand.clause.view.source.name, stand.section))
        for rule in rules:
            at = bisect_right(starts, rule.span.start)
            if at:
                self.put(rule, found[at - 1].section, found[at - 1].path)

    def put(self, rule: Rule, section: str, path: Path) -> None:
        """Let a rule stand in a paragraph."""
        placed = Placed(rule, section, path)
        for upper in _prefixes(path):
            self._placed.setdefault(upper, []).append(placed)

    def put_at(self, rule: Rule, span: Span) -> None:
        """Let a rule stand in the paragraph of a place of the specification."""
        starts, found = self._starts.get(id(span.source), ([], ()))
        at = bisect_right(starts, span.start)
        if at:
            self.put(rule, found[at - 1].section, found[at - 1].path)

    def take_away(self, rule: Rule) -> None:
        """Let a rule hold no more, known by what it says and where, since a document read again has rules of its own."""
        said = (rule.kind, rule.subject, rule.scope, rule.answer)
        alike = [
            p for p in self._placed.get((), ())
            if p.holds and (p.rule.kind, p.rule.subject, p.rule.scope, p.rule.answer) == said
        ]  # fmt: skip
        changed = [p for p in alike if p.rule.bound_by and p.rule.bound_by[0][0] == CHANGED]
        here = [p for p in alike if p.rule.span == rule.span] or changed
        self.remove(here[:1])

    def has_section(self, section: str) -> bool:
        """Whether a section is one of these documents, or may be one that does not say its number."""
        return any(known in (section, "") for _, known in self._paragraphs.get((), ()))

    def homes(self, one: Instruction) -> list[tuple[str, str]]:
        """The documents and sections that have the paragraph."""
        return sorted(home for home in self._paragraphs.get(one.path, ()) if _fits(home[1], one))

    def paths(self) -> Iterable[Path]:
        """All paragraphs in which rules stand."""
        return self._placed

    def all(self) -> Iterator[Placed]:
        """Every rule that holds."""
        return (p for p in self._placed.get((), ()) if p.holds)

    def placed_in(self, one: Instruction) -> list[Placed]:
        """The rules that hold in the paragraph that an instruction names."""
        return [p for p in self._placed.get(one.path, ()) if p.holds and _fits(p.section, one)]

    def narrowed(self, rule: Rule, layer: Layer) -> bool:
        """Whether a rule of a layer speaks of a part of what a rule is said of: one surface of all, one room of all walls."""
        mine = {(key, rule.scope[key]) for key in NARROWING if key in rule.scope}
        for placed in self._placed.get((), ()):
            other = placed.rule
            if placed.holds and (other.kind, other.subject, other.layer) == (rule.kind, rule.subject, layer):
                said = {(key, other.scope[key]) for key in NARROWING if key in other.scope}
                if mine < said:
                    return True
        return False

    def remove(self, placed: Sequence[Placed]) -> None:
        """Take rules away, and with each those whose place it had taken, which must not come back."""
        for one in placed:
            one.holds = False
            self.gone.append(one.rule)
            here = (p for p in self._placed[one.path] if (p.section, p.path) == (one.section, one.path) and not p.holds)
            self.gone.extend(p.rule for p in here if covers(one.rule, p.rule))


def _prefixes(path: Path) -> Iterator[Path]:
    """A paragraph and all it stands in, as far as documents go."""
    yield from (path[:depth] for depth in range(min(len(path), 12) + 1))


def _fits(section: str, one: Instruction) -> bool:
    return not one.section or section in (one.section, "")


def numbers(span: Span, tags: Sequence[Tag]) -> Iterator[Said]:
    """The numbers of a stretch, given its tags, each with the unit behind it."""
    depth = 0
    for number, tag in enumerate(tags):
        depth += (tag.name == "OPEN") - (tag.name == "CLOSE")
        if tag.number is None or tag.name not in ("NUMBER", "FEET_INCHES"):
            continue
        after = tags[number + 1] if number + 1 < len(tags) else None
        unit = tag.unit or (after.unit if after is not None else None)
        place = Span(span.source, span.start + tag.start, span.start + tag.end)
        yield Said(place, tag.number, unit, depth > 0)


def part_of(rule: Rule, said: Said) -> str:
    """Which number of a rule is the one said: `amount`, `upper`, `by` or `per`; nothing where none is."""
    for name in ("amount", "upper", "by", "per"):
        part: Amount | None = getattr(rule, name)
        if part is None:
            continue
        if said.unit is None or said.unit.dimension != part.unit.dimension:
            same = said.unit is None and part.value == said.value
        else:
            same = part.size == said.value * said.unit.factor
        if same:
            return name
    return ""


def covers(new: Rule, old: Rule) -> bool:
    """Whether a rule beats another wherever that one holds."""
    return new.kind == old.kind and new.subject == old.subject and new.scope.items() <= old.scope.items()


def overlap(one: Span, other: Span) -> bool:
    """Whether two stretches share text."""
    return one.source is other.source and one.start < other.end and other.start < one.end


def where_of(one: Instruction) -> str:
    """The paragraph of an instruction, in words."""
    if not one.path:
        return one.named or (f"item {one.item}" if one.item else "")
    section = f" of section {section_name(one.section)}" if one.section else ""
    return f"paragraph {one.named}{section}"


def section_name(digits: str) -> str:
    """A section as it is written: `09 29 00`."""
    return f"{digits[:2]} {digits[2:4]} {digits[4:]}" if len(digits) == 6 else digits


def told_rule(rule: Rule) -> str:
    """What a rule says, in a phrase."""
    where = f" ({rule.scope})" if rule.scope else ""
    return f"{rule.kind.name} of {rule.subject}{where} {rule.says().replace(' per 1 ', ' per ')}"


def short(span: Span) -> str:
    """The words of a stretch, cut where they are long."""
    text = " ".join(span.text.split())
    return text if len(text) <= 60 else f"{text[:59]}…"


def plain(text: str) -> str:
    """Words for comparing: lower case, no marks, single blanks."""
    return " ".join(text.lower().replace("“", '"').replace("”", '"').replace('"', " ").split())
