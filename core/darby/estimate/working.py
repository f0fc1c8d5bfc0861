"""The working of an amount as lines to be read from the top: measured rows first, each rate as its clause says it, one rounding."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from functools import cached_property

from attrs import field, frozen

from darby.estimate.line_item import LineItem
from darby.quantities.amounts import HERE, Amount, Origin, walk
from darby.quantities.units import EACH, NUMBER_ONLY
from darby.rules.rule import Rule
from darby.rules.said_by import by_origin, rule_of

DEEPEST = 40
"""Steps within steps that one line writes out."""
LISTED = 8
"""Terms of a sum that are written out; a longer sum points at the lines above it."""


@frozen(eq=False, slots=False)
class Line:
    """One line of longhand: what it is called, how it was made, what came of it, and where its own numbers were said.

    `rule` is set where the line is a number or rate that a rule states; then `text` is the rate as the rule says it and
    `amount` its value for one (`14 lb per 100 sq ft` and 0.14 lb/sq ft). It is written out when it is looked at: of a large
    job few lines are.
    """

    label: str
    amount: Amount
    _write: Callable[[], tuple[str, tuple[Origin, ...]]] = field(repr=False)
    rule: Rule | None = None
    said: bool = False
    """Whether the number was said as it stands, so that no result need follow it."""

    @cached_property
    def _written(self) -> tuple[str, tuple[Origin, ...]]:
        return self._write()

    @property
    def text(self) -> str:
        """How it was made: `24 ft × 8 ft × 1 face`."""
        return self._written[0]

    @property
    def origins(self) -> tuple[Origin, ...]:
        """The measured places of the numbers that stand in `text` for the first time."""
        return self._written[1]

    @property
    def made(self) -> str:
        """How it was made and what came of it: `24 ft × 8 ft × 1 face = 192 sq ft`."""
        return self.text if self.said or self.text == told(self.amount) else f"{self.text} = {told(self.amount)}"

    def __str__(self) -> str:
        return f"{self.label}: {self.made}" if self.label else self.made


Worked = Mapping[int, tuple[Line, ...]]
"""The longhand of each item by its identity, made once for all that a document shows of it."""


def longhand(amount: Amount, rules: Iterable[Rule] = ()) -> tuple[Line, ...]:
    """The lines of an amount's working, in the order in which they can be checked. The rules give their numbers a name."""
    return _Writer(amount, rules).lines()


def working(item: LineItem, rules: Iterable[Rule] = ()) -> tuple[Line, ...]:
    """The longhand of a line item, from the measured rows to whole packages, or to the need where no package is known."""
    need = item.need if item.need.label else item.need.named("need")
    if item.package is None:
        return longhand(need, (*rules, *item.rules))
    package = item.package
    if not package.label and any(part.step.of for part in package.step.of) and not _is_one_of_each(package):
        package = package.named("package")
    return longhand((need / package).round_up().named("order"), (*rules, *item.rules))


def rules_behind(item: LineItem, rules: Iterable[Rule] = ()) -> tuple[Rule, ...]:
    """The rules whose numbers the item's working uses, then those that shaped it otherwise, each once."""
    return behind(item, rules)[0]


def behind(item: LineItem, rules: Iterable[Rule] = ()) -> tuple[tuple[Rule, ...], tuple[Origin, ...]]:
    """The same rules, and where the numbers of the working that no rule says were measured; nothing is written out for it."""
    known, found = by_origin((*rules, *item.rules)), dict[object, Rule]()
    notes = {origin.note for origin in known}
    measured: dict[int, Origin] = {}  # by what they are: rooms share theirs, and to compare them takes time
    for leaf in item.numbers:
        origin = leaf.step.origin
        if id(origin) in measured:
            continue
        # a thousand rooms are measured where no rule says anything: their origins are not compared with those of rules
        if origin.note in notes and (rule := rule_of(leaf, known)) is not None:
            found[rule.key] = rule
        else:
            measured[id(origin)] = origin
    shaped = {rule.key: rule for rule in item.rules if rule.key not in found}
    return tuple((found | shaped).values()), tuple(measured.values())


def told(amount: Amount) -> str:
    """An amount for the eye: exact where its spelling stays short, else rounded to two decimals."""
    marks = {"ft": 64 * 12, "in": 64}.get(amount.unit.name, 1)
    text = amount.exact() if amount.value.denominator > 1 and marks % amount.value.denominator == 0 else str(amount)
    return text.replace("/", " per ") if amount.unit.under else text


class _Writer:
    """Decides which steps have a line of their own and writes the others into the line that uses them."""

    def __init__(self, root: Amount, rules: Iterable[Rule]) -> None:
        self.root = root
        self.nodes = tuple(walk(root))
        self.rules = by_origin(rules)
        self.rates: set[int] = set()
        self.pairs: set[int] = set()
        self.inside: set[int] = set()
        self.terms: set[int] = set()
        self.many: set[int] = set()
        self.once: set[int] = set()
        self.again: set[int] = set()
        made = [node for node in self.nodes if node.step.of]
        for node in made:
            self._look_at(node)
        self.own = {id(node.step) for node in self.nodes if self._has_line(node)}
        self._cut_what_is_deep(made)

    def _look_at(self, node: Amount) -> None:
        """Note what a step is to those it is made of."""
        step = node.step
        parts = [id(part.step) for part in step.of]
        for part in parts:
            (self.again if part in self.once else self.once).add(part)
        if step.op == "sum":
            self.terms.update(parts)
            if len(parts) > LISTED:
                self.many.update(parts)
        elif step.op in {"/", "*"} and self._one_rule_says(node):
            (self.rates if step.op == "/" else self.pairs).add(id(step))
            self.inside.update(parts)

    def _one_rule_says(self, node: Amount) -> bool:
        """Whether both numbers of a quotient (a rate) or a product (a sheet) are what one rule says in one place."""
        one, other = (part.step for part in node.step.of)
        if not one.op == other.op == "given" or one.origin is HERE:
            return False
        return one.origin.place == other.origin.place and one.origin in self.rules

    def _has_line(self, node: Amount) -> bool:
        step = node.step
        if node is self.root or id(step) in self.rates or id(step) in self.pairs:
            return True
        if step.op == "given":
            if id(step) in self.many:
                return True
            return id(step) not in self.inside and step.origin is not HERE and step.origin in self.rules
        if step.op == "to":
            return bool(step.label) or step.of[0].step.op not in {"given", "sum"} or id(step) in self.many
        return bool(step.label) or step.op in {"sum", "round up"} or id(step) in self.terms or id(step) in self.again

    def _cut_what_is_deep(self, made: Iterable[Amount]) -> None:
        """Give a line of its own to every step that would be written out too many steps deep into another's."""
        deep: dict[int, int] = {}
        for node in made:  # what a step is made of comes before the step
            step = node.step
            below = 1 + max([deep.get(id(part.step), 0) for part in step.of])
            if below > DEEPEST:
                self.own.add(id(step))
            deep[id(step)] = 0 if id(step) in self.own else below

    def lines(self) -> tuple[Line, ...]:
        return tuple(self._line(node) for node in self.nodes if id(node.step) in self.own)

    def _line(self, node: Amount) -> Line:
        step = node.step
        if id(step) in self.rates:
            rule = rule_of(step.of[0], self.rules)
            return Line(step.label or _name(rule), node, lambda: (_as_said(node), _places(step.of)), rule, said=True)
        if step.op == "given":
            rule = rule_of(node, self.rules)
            text = self._leaf if rule is not None else _plain
            return Line(step.label or _name(rule), node, lambda: (text(node), _places((node,))), rule, said=True)
        rule = rule_of(step.of[0], self.rules) if id(step) in self.pairs else None
        return Line(step.label or _name(rule), node, lambda: self._worked(node), rule)

    def _worked(self, node: Amount) -> tuple[str, tuple[Origin, ...]]:
        measured: list[Amount] = []
        text = self._expression(node, measured)
        return text, _places(measured)

    def _expression(self, node: Amount, measured: list[Amount]) -> str:
        """The step of a node written out. Measured numbers met on the way are added to `measured`."""
        step = node.step
        if step.op == "round up":
            inner = step.of[0]
            text = self._part(inner, measured)
            if inner.value == node.value:
                return text
            return f"{text}, rounded up" if text == told(inner) else f"{text} = {told(inner)}, rounded up"
        if step.op == "to":
            return self._part(step.of[0], measured)
        if step.op == "sum" and len(step.of) > LISTED:
            return f"the {len(step.of)} above added up"
        if step.op in {"+", "-", "sum"}:
            texts = [self._part(p, measured, tight=step.op == "-" and n > 0) for n, p in enumerate(step.of)]
            return {"+": " + ", "sum": " + ", "-": " − "}[step.op].join(texts)
        left, right = step.of
        if _is_idle(right):
            return self._part(left, measured)
        if _is_idle(left) and step.op == "*":
            return self._part(right, measured)
        sign = " × " if step.op == "*" else " ÷ "
        return self._factor(left, measured) + sign + self._factor(right, measured, last=True)

    def _is_short(self, node: Amount) -> bool:
        return node.step.op == "given" or id(node.step) in self.own

    def _part(self, node: Amount, measured: list[Amount], *, tight: bool = False) -> str:
        """A node as part of another's line: its value where it has its own line, else written out."""
        step = node.step
        if id(step) in self.rates:
            return _as_said(node)
        if step.op == "given":
            if id(step) not in self.own and step.origin.place is not None:
                measured.append(node)
            return self._leaf(node)
        if id(step) in self.own:
            return told(node)
        if _is_one_of_each(node) and self._is_short(step.of[0]):
            return told(node)
        if step.op == "to":
            return f"{told(node)} ({self._part(step.of[0], measured)})"
        text = self._expression(node, measured)
        return f"({text})" if tight and step.op in {"+", "-"} else text

    def _factor(self, node: Amount, measured: list[Amount], *, last: bool = False) -> str:
        text = self._part(node, measured)
        if self._is_short(node) or (_is_one_of_each(node) and self._is_short(node.step.of[0])):
            return text
        products = {"*", "/"} if last else set()
        return f"({text})" if node.step.op in {"+", "-"} | products else text

    def _leaf(self, node: Amount) -> str:
        """A number as it was said, with its word where it only counts: `2 faces`, `1 coat`."""
        if node.unit is not EACH:
            return _plain(node)
        rule = rule_of(node, self.rules)
        word = node.step.label
        if rule is not None and rule.kind.amount == {NUMBER_ONLY}:
            word = rule.kind.name
        if word in {"", "count"}:
            return _plain(node)
        return f"{_plain(node)} {word.removesuffix('s') if node.value == 1 else word}"


def _as_said(rate: Amount) -> str:
    over, under = rate.step.of
    per = under.unit.name if under.value == 1 and under.unit is not EACH else _plain(under)
    return f"{_plain(over)} per {per}"


def _plain(amount: Amount) -> str:
    return str(amount) if amount.value.denominator == 1 else amount.exact()


def _is_one_of_each(node: Amount) -> bool:
    """Whether a quotient only says that so much comes in one package: 32 sq ft ÷ 1 sheet."""
    if node.step.op != "/":
        return False
    under = node.step.of[1]
    return under.step.op == "given" and under.value == 1 and under.unit is not EACH and under.step.origin is HERE


def _is_idle(node: Amount) -> bool:
    """A bare 1 that nobody said: it changes nothing and says nothing."""
    said = node.step.op != "given" or node.step.origin is not HERE or node.label
    return node.unit is EACH and node.value == 1 and not said


def _name(rule: Rule | None) -> str:
    if rule is None:
        return ""
    where = f", {rule.scope}" if rule.scope else ""
    return f"{rule.subject} {rule.kind.name}{where}"


def _places(parts: Iterable[Amount]) -> tuple[Origin, ...]:
    """The origins of some numbers, each file and line once."""
    found: dict[tuple[str, int], Origin] = {}
    for part in parts:
        place = part.step.origin.place
        if place is not None:
            found.setdefault((place.source.name, place.line), part.step.origin)
    return tuple(found.values())
