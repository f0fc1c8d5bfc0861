"""The cascade: of all rules of a kind for a subject, which one holds, which it beat, and what contradicts it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from darby.rules.answer import Answer, Asked, Conflict
from darby.rules.name_matching import SET, SORT, WIDE, meets, plain, stems
from darby.rules.room_names import OWN, RoomNames, Rooms, SaidPlaces
from darby.rules.rule import Rule
from darby.rules.systems import GIVEN, tier_of
from darby.text.spans import Source

NARROWING = ("name", GIVEN, "room", "surface")
"""One surface of the job is narrower than a system that the job gives to surfaces, that than a room, a room than a kind of surface, and
that than all else together."""

DESCRIBING = frozenset({"note", "system"})
"""Scope keys that never limit a rule: words that say of every job here what is true of it anyway, and the mark of the system that a
rule of a place comes from."""

_MOST_KEPT = 20_000
"""Answers that a book keeps at hand: what is said of kinds of surface is asked again for each of a hundred thousand."""


class RuleBook:
    """All rules of a job, indexed by kind and subject. Asking it changes nothing.

    Rules are given in the order they were stated; among equals that cannot be weighed, the first stated is used.
    Within one layer those of the source `own` come first, however narrow the others: a trade's defaults are not bent
    by what another trade brings along. `named` are the goods that a document names, None where none could.
    """

    def __init__(
        self,
        rules: Iterable[Rule],
        own: Source | None = None,
        rooms: Iterable[str | RoomNames] = (),
        named: Collection[str] | None = None,
    ) -> None:
        self.rules = tuple(rules)
        self.named = named
        self.rooms = Rooms.of(rooms)
        self.said = SaidPlaces.of(self.rooms, (rule.scope["room"] for rule in self.rules if "room" in rule.scope))
        self._own = own
        # By kind and subject, and apart from these by the one surface and by the place a rule is of: a job may have a hundred thousand.
        self._shelf: dict[tuple[str, str, str, str], list[tuple[int, Rule]]] = {}
        self._heeded: dict[tuple[str, str], dict[str, None]] = {}  # what of a question decides its answer
        for number, rule in enumerate(self.rules):
            key = (rule.kind.name, rule.subject, plain(rule.scope.get("name", "")), rule.scope.get("room", ""))
            self._shelf.setdefault(key, []).append((number, rule))
            self._heeded.setdefault((rule.kind.name, rule.subject), {"part": None}).update(dict.fromkeys(rule.scope))
        self._kept: dict[object, tuple[list[Rule], tuple[Rule, ...]]] = {}

    @property
    def own(self) -> Source | None:
        """The source whose lines come first within their layer."""
        return self._own

    def owned(self, own: Source | None) -> RuleBook:
        """The same rules in the same index, with those of another source first."""
        book = RuleBook((), own, named=self.named)
        book.rules, book.rooms, book.said = self.rules, self.rooms, self.said
        book._shelf, book._heeded = self._shelf, self._heeded
        return book

    def speaks_of(self, said: str, room: str) -> bool:
        """Whether a place that a rule names is a room of the job. Where a room bears that very name, the rule is of no other.

        `Lobby` is the room "Lobby" and not "Stair lobby" where the job has both; where it has only stair lobbies, it is these.
        """
        return self.rooms.meant(said, room) > 0

    def _applies(self, rule: Rule, about: Mapping[str, str], take: frozenset[str]) -> bool:
        return all(
            self._meets(key, said, asked, about) if (asked := about.get(key)) else key in take or key in DESCRIBING
            for key, said in rule.scope.items()
        )

    def _meets(self, key: str, said: str, asked: str, about: Mapping[str, str]) -> bool:
        if key == "room":
            return self.speaks_of(said, asked)
        if key == GIVEN:
            return tier_of(said, asked) > 0
        if key == "facing":  # `north or south`, of which a surface has one in its name
            return not set(said.split(" or ")).isdisjoint(asked.split())
        return meets(key, said, asked) or (key == "surface" and meets(key, said, about.get("part", "")))

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
        asked = Asked.of(kind, subject, about)
        used = equals[0]
        if len(equals) == 1:
            return Answer(asked, used, beaten)
        for rule in equals[1:]:
            if rule.buys_more_than(used) or (_said(rule) == _said(used) and rule.scope.keys() > used.scope.keys()):
                used = rule
        others = tuple(r for r in equals if r is not used and not _agree(r, used))
        agreeing = tuple(r for r in equals if r is not used and r not in others)
        return Answer(asked, used, beaten, Conflict(asked, used, others) if others else None, agreeing)

    def outranks(self, one: Rule, other: Rule, about: Mapping[str, str]) -> bool:
        """Whether of two rules that hold under `about`, of whatever kinds, the first is the stronger: later, or narrower."""
        return self._rank(one, about) > self._rank(other, about)

    def narrower(self, one: Rule, other: Rule, about: Mapping[str, str]) -> bool:
        """Whether of two rules that hold under `about` the first is said of the narrower place, whichever is the later."""
        first, second = ([int(bool(key in r.scope and about.get(key))) for key in NARROWING] for r in (one, other))
        return first > second

    def all(
        self, kind: str, subject: str, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
    ) -> tuple[Answer, ...]:
        """Every rule of the highest rank, in the order stated, where several may hold side by side and a trade chooses.

        Cans of 1 gal and pails of 5 gal, both on offer, contradict nothing. Rules that say the same come as one answer.
        """
        equals, beaten = self._ranked(kind, subject, about or {}, take)
        asked = Asked.of(kind, subject, about)
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
        heeded = self._heeded.get((kind, subject))
        if heeded is None:
            return [], ()
        take = frozenset(take)
        question = (kind, subject, take, *map(about.get, heeded))
        known = self._kept.get(question)
        if known is None:
            if len(self._kept) >= _MOST_KEPT:
                self._kept.clear()
            known = self._kept[question] = self._weighed(kind, subject, about, take)
        return known

    def _weighed(
        self, kind: str, subject: str, about: Mapping[str, str], take: frozenset[str]
    ) -> tuple[list[Rule], tuple[Rule, ...]]:
        found = [r for r in self._near(kind, subject, about, take) if self._applies(r, about, take)]
        if len(found) < 2:
            return found, ()
        ranks = {id(r): self._rank(r, about) for r in found}
        found.sort(key=lambda r: ranks[id(r)], reverse=True)  # stable: equals keep the order they were stated in
        top = ranks[id(found[0])]
        return [r for r in found if ranks[id(r)] == top], tuple(r for r in found if ranks[id(r)] != top)

    def _near(self, kind: str, subject: str, about: Mapping[str, str], take: frozenset[str]) -> list[Rule]:
        """The rules that may apply by the surface and the place they are of, in the order stated."""
        room = about.get("room", "")
        if not room and "room" in take:
            return [r for r in self.rules if r.kind.name == kind and r.subject == subject]
        said = ("", *self.said.met_by(room))
        names = dict.fromkeys(("", plain(about.get("name", ""))))
        parts = [part for name in names for one in said if (part := self._shelf.get((kind, subject, name, one)))]
        if len(parts) == 1:
            return [rule for _, rule in parts[0]]
        return [rule for _, rule in sorted((one for part in parts for one in part), key=lambda pair: pair[0])]

    def _rank(self, rule: Rule, about: Mapping[str, str]) -> tuple[int, ...]:
        """Layer, then whose it is, then narrowness."""
        scope = rule.scope
        keys = [key for key in scope if about.get(key)]
        mine = self._own is not None and rule.span.source is self._own
        part = bool(about.get("part")) and meets("surface", scope.get("surface", ""), about["part"])
        said = "room" in keys
        own = said and self.rooms.meant(scope["room"], about["room"]) == OWN  # a room is narrower than its floor
        exact = len(stems(scope["room"])) if said else 0  # the master bath is told apart from the baths
        given = tier_of(scope[GIVEN], about[GIVEN]) if GIVEN in keys else 0
        narrow = (given if key == GIVEN else int(key in keys) for key in NARROWING)
        whole = scope.get("surface", "") in WIDE  # all woodwork is wider than the doors of it
        sorts = scope[SORT].count(SET) if SORT in keys else 0  # of goods of two sorts at once, what is said of both
        return (rule.layer.rank, rule.layer.number, mine, *narrow, not whole, own, part, exact, len(keys), sorts)


def _said(rule: Rule) -> tuple[object, ...]:
    """What the rule says, for one of whatever it is per: 14 lb per 100 sq ft is 140 lb per 1000 sq ft."""
    if not rule.per:
        return rule.answer
    return (rule.amount / rule.per, rule.upper / rule.per if rule.upper is not None else None, rule.by)


def _agree(one: Rule, other: Rule) -> bool:
    """Whether two rules of equal rank say the same: no key that both have differs between them, and the answer is one."""
    keys = (one.scope.keys() & other.scope.keys()) - DESCRIBING
    return _said(one) == _said(other) and all(meets(k, one.scope[k], other.scope[k]) for k in keys)
