"""The cascade: of all rules of a kind for a subject, which one holds, which it beat, and what nobody said."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from attrs import frozen

from darby.quantities.amounts import Amount
from darby.rules.rule import Layer, Rule, Scope
from darby.text.spans import Source

NARROWING = ("name", "room", "surface")
"""One surface of the job is narrower than a room, a room than a kind of surface, and that than all else together."""


@frozen
class Asked:
    """What a trade wanted to know."""

    kind: str
    subject: str
    about: Scope


@frozen(eq=False)
class Conflict:
    """Rules of equal rank that answer differently. `used` buys more material, or came first where that cannot be said."""

    asked: Asked
    used: Rule
    others: tuple[Rule, ...]


@frozen(eq=False)
class Answer:
    """The rule that holds, those it beat (strongest first), and the conflict it came out of, if any."""

    asked: Asked
    rule: Rule
    beaten: tuple[Rule, ...] = ()
    conflict: Conflict | None = None
    agreeing: tuple[Rule, ...] = ()
    """Rules of equal rank that say the same."""

    @property
    def amount(self) -> Amount:
        """The rule's amount; of a range the end that buys more."""
        return self.rule.governing

    @property
    def rate(self) -> Amount:
        """The rule's amount for one of what it is per."""
        return self.rule.rate

    @property
    def layer(self) -> Layer:
        """Which layer answered."""
        return self.rule.layer

    @property
    def heard(self) -> tuple[Rule, ...]:
        """Every rule that had a say: the one that holds, then those that agree, contradict and were beaten."""
        return (self.rule, *self.agreeing, *(self.conflict.others if self.conflict else ()), *self.beaten)

    def __getitem__(self, key: str) -> str:
        """A scope value of the rule, as its sheen; nothing where it has none."""
        return self.rule.scope.get(key, "")


class RuleBook:
    """All rules of a job, indexed by kind and subject. Asking it changes nothing.

    Rules are given in the order they were stated; among equals that cannot be weighed, the first stated is used.
    Within one layer those of the source `own` come first, however narrow the others: a trade's defaults are not bent
    by what another trade brings along.
    """

    def __init__(self, rules: Iterable[Rule], own: Source | None = None) -> None:
        self.rules = tuple(rules)
        self._own = own
        # By kind and subject, and apart from these by the one surface a rule is of: a job may have a hundred thousand.
        self._shelf: dict[tuple[str, str, str], list[Rule]] = {}
        for rule in self.rules:
            key = (rule.kind.name, rule.subject, _plain(rule.scope.get("name", "")))
            self._shelf.setdefault(key, []).append(rule)

    def owned(self, own: Source | None) -> RuleBook:
        """The same rules in the same index, with those of another source first."""
        book = RuleBook((), own)
        book.rules, book._shelf = self.rules, self._shelf
        return book

    def ask(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> Answer | None:
        """The rule that holds for `subject` under `about` (surface, room, sheen and so on), or None.

        A rule applies when every key of its scope is met by `about`, or is among `take`: keys that describe the answer
        instead of limiting it (the sheen of "two coats eggshell"). A key in `about` must be met if the rule has it; one
        whose value is empty counts as not given. The later layer wins, then the narrower scope (what only describes
        narrows nothing). Equals that say something different, or describe it differently, are a conflict; of equals
        that say the same, the one that describes most is used.
        """
        equals, beaten = self._ranked(kind, subject, about or {}, take)
        if not equals:
            return None
        asked = Asked(kind, subject, _given(about))
        used = equals[0]
        if len(equals) == 1:
            return Answer(asked, used, beaten)
        for rule in equals[1:]:
            if rule.buys_more_than(used) or (_said(rule) == _said(used) and rule.scope.keys() > used.scope.keys()):
                used = rule
        others = tuple(r for r in equals if r is not used and not _agree(r, used))
        agreeing = tuple(r for r in equals if r is not used and r not in others)
        return Answer(asked, used, beaten, Conflict(asked, used, others) if others else None, agreeing)

    def all(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> tuple[Answer, ...]:
        """Every rule of the highest rank, in the order stated, where several may hold side by side and a trade chooses.

        Cans of 1 gal and pails of 5 gal, both on offer, contradict nothing. Rules that say the same come as one answer.
        """
        equals, beaten = self._ranked(kind, subject, about or {}, take)
        asked = Asked(kind, subject, _given(about))
        groups: list[list[Rule]] = []
        for rule in equals:
            group = next((g for g in groups if _said(g[0]) == _said(rule) and g[0].scope == rule.scope), None)
            if group is None:
                groups.append([rule])
            else:
                group.append(rule)
        return tuple(Answer(asked, first, beaten, None, tuple(rest)) for first, *rest in groups)

    def _ranked(
        self, kind: str, subject: str, about: Mapping[str, str], take: Iterable[str]
    ) -> tuple[list[Rule], tuple[Rule, ...]]:
        """The rules of the highest rank in the order stated, and the other rules that apply, strongest first."""
        near = self._shelf.get((kind, subject, ""), [])
        if name := _plain(about.get("name", "")):
            near = near + self._shelf.get((kind, subject, name), [])
        take = frozenset(take)
        found = [r for r in near if _applies(r, about, take)]
        if len(found) < 2:
            return found, ()
        ranks = {id(r): _rank(r, about, self._own) for r in found}
        found.sort(key=lambda r: ranks[id(r)], reverse=True)  # stable: equals keep the order they were stated in
        top = ranks[id(found[0])]
        return [r for r in found if ranks[id(r)] == top], tuple(r for r in found if ranks[id(r)] != top)


class Consultation:
    """A rule book at one trade's elbow: it answers, and remembers what was asked. One for each trade and run."""

    def __init__(self, book: RuleBook) -> None:
        self.book = book
        self.answers: list[Answer] = []
        self.unanswered: list[Asked] = []
        self._noted: set[tuple[Asked, int]] = set()

    def ask(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> Answer | None:
        """As `RuleBook.ask`; what is found becomes known as used, what is not becomes a question."""
        answer = self.peek(kind, subject, about, take=take)
        if answer is None:
            self._silence(Asked(kind, subject, _given(about)))
        return answer

    def peek(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> Answer | None:
        """As `ask`, for what may well be missing: a silence raises no question."""
        answer = self.book.ask(kind, subject, about, take=take)
        if answer is not None:
            self._note(answer)
        return answer

    def all(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> tuple[Answer, ...]:
        """As `RuleBook.all`; every rule found becomes known as used, and finding none becomes a question."""
        answers = self.book.all(kind, subject, about, take=take)
        for answer in answers:
            self._note(answer)
        if not answers:
            self._silence(Asked(kind, subject, _given(about)))
        return answers

    def use(self, answer: Answer) -> Answer:
        """An answer that a trade chose for itself from `book.all` becomes known as used; those it left do not."""
        self._note(answer)
        return answer

    def miss(self, kind: str, subject: str, about: Mapping[str, str] | None = None) -> None:
        """What was said is of no use here (a weight where a volume is wanted): it becomes a question, as a silence does."""
        self._silence(Asked(kind, subject, _given(about)))

    @property
    def used(self) -> tuple[Rule, ...]:
        """The rules that held, each once, in order of first use."""
        return tuple({id(a.rule): a.rule for a in self.answers}.values())

    @property
    def heard(self) -> Iterator[Rule]:
        """Every rule that had a say in an answer, whether it held or not."""
        return (rule for answer in self.answers for rule in answer.heard)

    def _note(self, answer: Answer) -> None:
        key = (answer.asked, id(answer.rule))
        if key not in self._noted:
            self._noted.add(key)
            self.answers.append(answer)

    def _silence(self, asked: Asked) -> None:
        if (asked, 0) not in self._noted:
            self._noted.add((asked, 0))
            self.unanswered.append(asked)


def _given(about: Mapping[str, str] | None) -> Scope:
    return Scope({k: v for k, v in (about or {}).items() if v})


DESCRIBING = frozenset({"note"})
"""Scope keys that never limit a rule: words that say of every job here what is true of it anyway."""


def _applies(rule: Rule, about: Mapping[str, str], take: frozenset[str]) -> bool:
    return all(
        meets(key, said, asked) if (asked := about.get(key)) else key in take or key in DESCRIBING
        for key, said in rule.scope.items()
    )  # fmt: skip


def _rank(rule: Rule, about: Mapping[str, str], own: Source | None) -> tuple[int, ...]:
    """Layer, then whose it is, then narrowness."""
    keys = [key for key in rule.scope if about.get(key)]
    mine = own is not None and rule.span.source is own
    return (rule.layer.rank, rule.layer.number, mine, *(key in keys for key in NARROWING), len(keys))


def _said(rule: Rule) -> tuple[object, ...]:
    """What the rule says, for one of whatever it is per: 14 lb per 100 sq ft is 140 lb per 1000 sq ft."""
    if not rule.per:
        return rule.answer
    return (rule.amount / rule.per, rule.upper / rule.per if rule.upper is not None else None, rule.by)


def _agree(one: Rule, other: Rule) -> bool:
    """Whether two rules of equal rank say the same: no key that both have differs between them, and the answer is one."""
    keys = one.scope.keys() & other.scope.keys()
    return _said(one) == _said(other) and all(meets(k, one.scope[k], other.scope[k]) for k in keys)


def _plain(text: str) -> str:
    """A name as names are compared."""
    return " ".join(_words(text)) if text else ""


@lru_cache(4096)
def meets(key: str, said: str, asked: str) -> bool:
    """Whether a scope value that a rule has is met by the one asked about, ignoring case."""
    return in_room(said, asked) if key == "room" else _plain(said) == _plain(asked)


def in_room(said: str, room: str) -> bool:
    """Whether a room of the job is one of those a rule speaks of: "bath" and "bathrooms" mean "Bathroom 2".

    Every word said must be one of the room's, in singular or plural, or start or be the start of it from four letters
    on; a number must be the same number. The word "room" itself says nothing beside others.
    """
    wanted, have = ([_singular(w) for w in _words(text) if w[0].isalnum()] for text in (said, room))
    wanted = [w for w in wanted if w != "room"] or wanted
    return bool(wanted) and all(any(_alike(w, h) for h in have) for w in wanted)


def _alike(one: str, other: str) -> bool:
    if one == other:
        return True
    short, long = sorted((one, other), key=len)
    return len(short) >= 4 and short.isalpha() and long.startswith(short)


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+(?:[./][^\W_]+)*|[^\w\s]", text.casefold())


def _singular(word: str) -> str:
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ses", "xes", "ches", "shes")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word
