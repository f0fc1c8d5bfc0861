"""The estimate: what all trades order together, what it rests on, and what is still open."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import frozen

from darby.diagnostics import Diagnostic
from darby.job import Job
from darby.line_items import LineItem
from darby.numerals import WORDS
from darby.rulebook import Answer, Asked, Conflict
from darby.rules import Kind, Rule
from darby.text import Span
from darby.trades import Caution


@frozen(eq=False)
class Assumption:
    """Something no document of the job says and a default or house line supplied."""

    text: str
    answer: Answer


@frozen(eq=False)
class Question:
    """A sentence that can be sent to whoever can answer it: `specifier` or `supplier`; `estimator` asks oneself."""

    text: str
    to: str
    place: Span | None = None
    items: tuple[str, ...] = ()
    """Ids of the line items that the answer can move."""


@frozen(eq=False)
class Estimate:
    """Everything one run produced. `complete` is False when a trade failed and its lines are missing."""

    job: Job
    items: tuple[LineItem, ...]
    rules: tuple[Rule, ...] = ()
    """Every rule read for the job, whatever its layer, used or not."""
    assumptions: tuple[Assumption, ...] = ()
    questions: tuple[Question, ...] = ()
    cautions: tuple[Caution, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()
    trades: tuple[tuple[str, str, str], ...] = ()
    """Trade name, plugin and version, for each trade that took part."""
    missing: tuple[str, ...] = ()
    """Trades whose lines are missing because they failed, and plugins that failed before they gave any."""
    unread: tuple[tuple[Span, str], ...] = ()
    """Numbers of the documents that could not be read, each with the reason, in the order of the documents."""

    @property
    def complete(self) -> bool:
        """Whether every trade gave its lines."""
        return not self.missing

    def item(self, name: str) -> LineItem | None:
        """The line item of an id, or None."""
        return next((i for i in self.items if i.id == name), None)


_SMALL = {value: word for word, value in reversed(WORDS.items()) if value.denominator == 1 and value <= 12}
_UNTOLD = ("name", "room", "surface")


def assumed(rule: Rule, asked: Iterable[Asked]) -> str:
    """What a default or house line supplied, and where: `Screed: thickness 2 in (default, defaults.us.txt line 4)`."""
    said = quoted(rule) if not rule.amount else f"{rule.kind.name} {_value(rule)}"
    cited = f"; {rule.cited}" if rule.cited else ""
    at = f"{rule.span.source.name} {rule.span.source.unit} {rule.span.line}"
    return f"{_capital(rule.subject)}{where(asked)}: {said} ({rule.layer.name}, {at}{cited})."


def question_of(rule: Rule, asked: Iterable[Asked]) -> str:
    """The question that a default stood in for, and what was assumed meanwhile."""
    if not rule.amount:
        said = f"{quoted(rule)} was"
    else:
        said = f"{_value(rule)} {'were' if _counts(rule) and rule.amount.value != 1 else 'was'}"
    return f"{wanted(rule.kind, rule.subject, asked)}. The documents do not say; {said} assumed (default line)."


def question_of_silence(kind: Kind | str, asked: Iterable[Asked]) -> str:
    """The question where nothing at all was said, not even by a default."""
    asked = tuple(asked)
    details = dict.fromkeys(", ".join(v for k, v in one.about.items() if k not in _UNTOLD) for one in asked)
    told = "; ".join(d for d in details if d)
    text = wanted(kind, asked[0].subject, asked)
    return f"{text}{f' ({told})' if told else ''}. The documents do not say, and nothing was assumed."


def question_of_conflict(conflict: Conflict, asked: Iterable[Asked]) -> str:
    """The question which of two or more rules of equal rank holds, with every place quoted."""
    used = conflict.used
    rules = (used, *conflict.others)
    places = " and ".join(f"{quoted(r)} ({r.span.source.name} {r.span.source.unit} {r.span.line})" for r in rules)
    more = any(used.buys_more_than(r) for r in conflict.others)
    why = "which buys more" if more else "which is said first"
    about = wanted(used.kind, used.subject, asked)
    return f"{about}. The documents say both {places}; {quoted(used)} was assumed, {why}."


def wanted(kind: Kind | str, subject: str, asked: Iterable[Asked]) -> str:
    """What is asked, as the start of a request: `Please state how many coats of varnish are wanted on the ceilings`."""
    told = "" if isinstance(kind, str) else kind.wanted.replace("{subject}", subject)
    named = kind if isinstance(kind, str) else kind.name
    return f"Please state {told or f'what holds for the {named} of {subject}'}{where(asked)}"


def where(asked: Iterable[Asked]) -> str:
    """Where something was asked about, each kind of surface once: ` on the walls and ceilings`, or nothing."""
    kinds = list(dict.fromkeys(one.about["surface"] for one in asked if "surface" in one.about))
    if not kinds:
        return ""
    plural = [k if k.endswith("s") else f"{k}s" for k in kinds]
    return " on the " + " and ".join(filter(None, (", ".join(plural[:-1]), plural[-1])))


def quoted(rule: Rule) -> str:
    """The words of the document that made the rule, on one line and no longer than a line."""
    text = " ".join(rule.span.text.split())
    return f"“{text if len(text) <= 80 else text[:79].rstrip() + '…'}”"


def _value(rule: Rule) -> str:
    """What the rule says, a small count in words, with what describes it: `two (eggshell)`."""
    said = rule.says().replace(" per 1 ", " per ")
    small = _counts(rule) and rule.upper is None and rule.bound == "exact"
    text = _SMALL.get(rule.amount.value, said) if small else said
    told = ", ".join(v for k, v in rule.scope.items() if k not in _UNTOLD)
    return f"{text} ({told})" if told else text


def _counts(rule: Rule) -> bool:
    return rule.amount.unit.name == "each" and rule.per is None


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
