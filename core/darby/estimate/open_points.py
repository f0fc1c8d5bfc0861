"""What an estimate rests on and what is still open, in sentences that can be sent to whoever can answer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Protocol

from attrs import evolve, field, frozen

from darby.estimate.line_item import LineItem
from darby.estimate.model import Assumption, Question
from darby.quantities.gc_pause import in_bulk
from darby.quantities.numerals import WORDS
from darby.quantities.plurals import plural
from darby.rules.answer import Answer, Asked, Conflict
from darby.rules.cascade import DESCRIBING, NARROWING
from darby.rules.consultation import Consultation
from darby.rules.rule import DEFAULT, HOUSE, Kind, Rule


class Heard(Protocol):
    """What came of calling one trade: its items, and what it asked."""

    @property
    def items(self) -> tuple[LineItem, ...]:
        """The items it gave."""
        ...

    @property
    def consultation(self) -> Consultation:
        """What it asked, and what it was told."""
        ...


@frozen(eq=False)
class Asking:
    """One rule, silence or conflict: all that was asked about it, and the items it can move, in order and once each."""

    asked: list[Asked] = field(factory=list)
    items: dict[str, None] = field(factory=dict)

    def add(self, answer: Answer, moves: _Moves) -> None:
        """One more answer by it."""
        self.asked.append(answer.asked)
        self.items.update(dict.fromkeys(moves.of(answer.rule, answer.asked.subject)))


def assumptions(answers: Iterable[tuple[Answer, Asking]], runs: Iterable[Heard] = ()) -> tuple[Assumption, ...]:
    """Everything that no document of the job says and a default or a house rule supplied."""
    rooms = _Rooms(runs)
    return tuple(
        Assumption(assumed(a.rule, g.asked), a, where(g.asked, rooms.of(g.asked)))
        for a, g in answers
        if a.layer in (DEFAULT, HOUSE)
    )


@in_bulk()
def answers(runs: Iterable[Heard]) -> list[tuple[Answer, Asking]]:
    """Every rule that held, once, with all that was asked about it and the items it moves."""
    found: dict[int, tuple[Answer, Asking]] = {}
    for run in runs:
        moves = _Moves(run)
        for answer in run.consultation.answers:
            _, asking = found.setdefault(id(answer.rule), (answer, Asking()))
            asking.add(answer, moves)
    return list(found.values())


@in_bulk()
def conflicts(runs: Iterable[Heard]) -> list[tuple[Conflict, Asking]]:
    """Every conflict, once, however often it was met."""
    found: dict[tuple[int, ...], tuple[Conflict, Asking]] = {}
    for run in runs:
        moves: _Moves | None = None
        for answer in run.consultation.answers:
            if answer.conflict is not None:
                moves = moves or _Moves(run)
                key = tuple(id(rule) for rule in (answer.rule, *answer.conflict.others))
                _, asking = found.setdefault(key, (answer.conflict, Asking()))
                asking.add(answer, moves)
    return list(found.values())


def questions(
    runs: Sequence[Heard],
    answers: Iterable[tuple[Answer, Asking]],
    conflicts: Iterable[tuple[Conflict, Asking]],
    kinds: dict[str, Kind],
) -> tuple[Question, ...]:
    """What is open: contradictions, then what defaults stood in for, then what nobody said at all."""
    found: list[Question] = []
    rooms = _Rooms(runs)
    for conflict, asking in conflicts:
        used = conflict.used
        to = (
            "estimator" if used.layer in (DEFAULT, HOUSE) or used.layer.estimators else "specifier"
        )  # her documents contradict themselves
        text = question_of_conflict(conflict, asking.asked, rooms.of(asking.asked))
        found.append(Question(text, to, used.span, tuple(asking.items)))
    for answer, asking in answers:
        if answer.layer == DEFAULT:
            rule = answer.rule
            text = question_of(rule, asking.asked, rooms.of(asking.asked))
            found.append(Question(text, rule.kind.known_to, rule.span, tuple(asking.items)))
    silences: dict[tuple[str, str], Asking] = {}
    for run in runs:
        for asked in run.consultation.unanswered:
            asking = silences.setdefault((asked.kind, asked.subject), Asking())
            asking.asked.append(asked)
            moved = [i.id for i in run.items if i.product == asked.subject] or [i.id for i in run.items]
            asking.items.update(dict.fromkeys(moved))
    for (kind, _), asking in silences.items():
        known = kinds.get(kind)
        text = question_of_silence(known or kind, asking.asked, rooms.of(asking.asked))
        found.append(Question(text, known.known_to if known else "specifier", None, tuple(asking.items)))
    merged: dict[tuple[str, str], Question] = {}
    for question in found:  # two trades may have asked the same
        key = (question.text, question.to)
        first = merged.setdefault(key, question)
        merged[key] = evolve(first, items=tuple(dict.fromkeys((*first.items, *question.items))))
    return tuple(merged.values())


class _Rooms:
    """In which rooms a thing was asked about, answered or not: whether a question is about a few of them or about all."""

    def __init__(self, runs: Iterable[Heard]) -> None:
        self._by: dict[tuple[str, str, str], dict[str, None]] = {}
        for run in runs:
            for asked in (*(answer.asked for answer in run.consultation.answers), *run.consultation.unanswered):
                self._by.setdefault(_about(asked), {})[asked.about.get("room", "")] = None

    def of(self, asked: Iterable[Asked]) -> tuple[str, ...]:
        """The rooms of some asking where the same is known of other rooms, as long as they are few; else none."""
        asked = tuple(asked)
        here = dict.fromkeys(one.about.get("room", "") for one in asked)
        all_of_them = {room for about in dict.fromkeys(map(_about, asked)) for room in self._by.get(about, ())}
        return tuple(here) if all(here) and len(here) <= _FEW and len(here) < len(all_of_them) else ()


def _about(asked: Asked) -> tuple[str, str, str]:
    return asked.kind, asked.subject, asked.about.get("surface", "")


class _Moves:
    """Which of a trade's items a rule had a part in, looked up instead of walked for each question."""

    def __init__(self, run: Heard) -> None:
        self._by: dict[object, list[str]] = {}
        # by what they are, not by what they say: a working has a hundred thousand numbers, and rules gave a few of them
        said = {id(answer.rule.amount.step.origin) for answer in run.consultation.answers}
        for item in run.items:
            origins = (id(leaf.step.origin) for leaf in item.numbers)
            name = item.id  # made anew each time it is asked for, and a long working asks often
            keys = (*said.intersection(origins), *map(id, item.rules), item.product)
            for key in dict.fromkeys(keys):
                self._by.setdefault(key, []).append(name)

    def of(self, rule: Rule, subject: str) -> list[str]:
        """Ids of the items; where no working shows the rule, those of the product that was asked about."""
        by_rule, by_number = self._by.get(id(rule), []), self._by.get(id(rule.amount.step.origin), [])
        return [*by_rule, *by_number] or self._by.get(subject, [])


_SMALL = {value: word for word, value in reversed(WORDS.items()) if value.denominator == 1 and value <= 12}
_UNTOLD = ("name", "room", "surface")
_FEW = 3
"""Rooms that a question names, where it is about these alone."""


def assumed(rule: Rule, asked: Iterable[Asked]) -> str:
    """What a default or house line supplied, and where: `Screed: thickness 2 in (default, defaults.us.txt line 4)`."""
    said = quoted(rule) if not rule.amount else f"{rule.kind.name} {_value(rule)}"
    cited = f"; {rule.cited}" if rule.cited else ""
    at = f"{rule.span.source.name} {rule.span.where}"
    return f"{_capital(rule.subject)}{where(asked)}: {said} ({rule.layer.name}, {at}{cited})."


def question_of(rule: Rule, asked: Iterable[Asked], rooms: Iterable[str] = ()) -> str:
    """The question that a default stood in for, and what was assumed meanwhile."""
    if not rule.amount:
        said = f"{quoted(rule)} was"
    else:
        said = f"{_value(rule)} {'were' if _counts(rule) and rule.amount.value != 1 else 'was'}"
    return f"{wanted(rule.kind, rule.subject, asked, rooms)} The documents do not say; {said} assumed (default line)."


def question_of_silence(kind: Kind | str, asked: Iterable[Asked], rooms: Iterable[str] = ()) -> str:
    """The question where nothing at all was said, not even by a default."""
    asked = tuple(asked)
    details = dict.fromkeys(", ".join(v for k, v in one.about.items() if k not in _UNTOLD) for one in asked)
    told = "; ".join(d for d in details if d)
    text = wanted(kind, asked[0].subject, asked, rooms)
    if told:
        text = f"{text[:-1]} ({told}){text[-1]}"
    return f"{text} The documents do not say, and nothing was assumed."


def question_of_conflict(conflict: Conflict, asked: Iterable[Asked], rooms: Iterable[str] = ()) -> str:
    """The question which of two or more rules of equal rank holds, with every place quoted."""
    used = conflict.used
    rules = (used, *conflict.others)
    words = [quoted(r) for r in rules]
    if len(set(words)) < len(words):  # "two coats" twice, and the lines tell which is satin
        words = [_quote(r.span.source.line_text(r.span.line)) for r in rules]
    places = " and ".join(f"{said} ({r.span.source.name} {r.span.where})" for said, r in zip(words, rules, strict=True))
    more = any(used.buys_more_than(r) for r in conflict.others)
    why = "which buys more" if more else "which is said first"
    apart = told_apart(rules)
    if apart:  # two coats of one sheen or of another: how many is not the question
        about = f"Which {_listed(apart)} of {used.subject}{where(asked, rooms)}?"
        words = [" ".join(used.scope[key] for key in apart)]
    else:
        about = wanted(used.kind, used.subject, asked, rooms)
    return f"{about} The documents say both {places}; {words[0]} was assumed, {why}."


def told_apart(rules: Sequence[Rule]) -> list[str]:
    """By which words that describe the goods rules differ which else say the same."""
    first, *others = rules
    if any(rule.answer != first.answer for rule in others):
        return []
    keys = [key for key in first.scope if key not in (*NARROWING, *DESCRIBING)]
    return [key for key in keys if any(rule.scope.get(key, first.scope[key]) != first.scope[key] for rule in others)]


def wanted(kind: Kind | str, subject: str, asked: Iterable[Asked], rooms: Iterable[str] = ()) -> str:
    """What is asked, in a sentence: `How many coats of varnish on the ceilings?`"""
    told = "" if isinstance(kind, str) else kind.wanted
    named = kind if isinstance(kind, str) else kind.name
    many = plural(subject)
    if told.endswith("?"):
        filled = (("{subjects}", many), ("{subject}", subject), ("{where}", where(asked, rooms)))
        for key, value in filled:
            told = told.replace(key, value)
        return told
    said = told.replace("{subject}", subject) or f"what holds for the {named} of {subject}"
    return f"Please state {said}{where(asked, rooms)}."


def where(asked: Iterable[Asked], rooms: Iterable[str] = ()) -> str:
    """Where something was asked about, each kind of surface once, and in which rooms if not in all: ` on the walls and ceilings in Store`."""
    kinds = dict.fromkeys(one.about["surface"] for one in asked if "surface" in one.about)
    surfaces = _listed(map(plural, kinds))
    named = _listed(rooms)
    return (f" on the {surfaces}" if surfaces else "") + (f" in {named}" if named else "")


def _listed(names: Iterable[str]) -> str:
    *most, last = [*names] or [""]
    return f"{', '.join(most)} and {last}" if most else last


def quoted(rule: Rule) -> str:
    """The words of the document that made the rule, on one line and no longer than one."""
    return _quote(rule.span.text)


def _quote(text: str) -> str:
    text = " ".join(text.split())
    return f"“{text if len(text) <= 100 else text[:99].rstrip() + '…'}”"


def _value(rule: Rule) -> str:
    """What the rule says, a small count in words, with what describes it: `two (eggshell)`."""
    said = rule.says().replace(" per 1 ", " per ")
    small = not rule.choice and _counts(rule) and rule.upper is None and rule.bound == "exact"
    text = _SMALL.get(rule.amount.value, said) if small else said
    told = ", ".join(v for k, v in rule.scope.items() if k not in _UNTOLD)
    return f"{text} ({told})" if told else text


def _counts(rule: Rule) -> bool:
    return rule.amount.unit.name == "each" and rule.per is None


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
