"""What binding works on and with: a fact and what was found out about it, what it stands under, where it is sought."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from attrs import define, field, frozen

from darby.reading.parsing.fact_parser import Fact, Quantity
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.sentence import Part, Phrase, Sentence
from darby.reading.parsing.tagging.tag import Tag, comes_so
from darby.rules.rule import Bound

Tags = Sequence[Tag]


@frozen
class Word:
    """A subject or surface, and where it was found."""

    value: str
    how: str


@define(eq=False)
class Finding:
    """A fact with everything that was found out about it, or the reason why it is no rule.

    `aside` sets it aside, `unread` leaves it to the reader, `doubt` asks about it. Only one without any becomes a rule.
    """

    fact: Fact
    kind: str = ""
    amount: Quantity | None = None
    per: Quantity | None = None
    subjects: list[Word] = field(factory=list)
    surfaces: list[Word] = field(factory=list)
    places: list[tuple[str, Word | None]] = field(factory=list)
    """Where it holds: pairs of a place and a surface."""
    marks: list[str] = field(factory=list)
    """The systems it is said of."""
    looks: list[str] = field(factory=list)
    """The looks that it holds for, where several are listed."""
    choice: str = ""
    """What it chooses with words, where it states no number."""
    scope: dict[str, str] = field(factory=dict)
    how: list[tuple[str, str]] = field(factory=list)
    bound: Bound = "exact"
    summed: bool = False
    """Whether its number is a sum of which another finding has a part, and the rule has the rest."""
    apart: bool = False
    """Whether it holds in its places and, besides, where its scope says: `behind tile and in closets`."""
    also: list[Finding] = field(factory=list)
    """The same in other places, each with what limits it there."""
    aside: str = ""
    unread: str = ""
    doubt: str = ""
    confirm: str = ""
    """Why it should be looked at before it is believed."""

    @property
    def stands(self) -> bool:
        """Whether it was read as a fact of some kind."""
        return bool(self.kind) and not self.unread and not self.aside

    def refuse(self, why: str) -> bool:
        """Give a reason why it is no rule; one that begins with `?` is a question, with `??` also where it stands beside no number. Always False."""
        if why.startswith("?"):
            self.doubt = why.lstrip("?")
        else:
            self.aside = why
        return False


@frozen
class Above:
    """Words that a clause stands under or beside: a column's head, a row's key, another cell, a heading."""

    name: str
    tags: Tags
    role: str = "heading"
    """`column`, `key`, `row`, `line` (a bare line just above), `lead-in` or `heading`."""
    numbered: bool = False
    """Of a heading: whether it is one of several chapters, and so no title of the whole."""


@frozen
class Context:
    """Everything a clause stands under, the nearest first."""

    heads: tuple[Above, ...] = ()
    above: tuple[Above, ...] = ()
    subject: str = ""
    scope: tuple[tuple[str, str], ...] = ()
    sibling: tuple[Finding, ...] = ()
    """What the clause before found, where it stands under the same heading."""
    sheet: Above | None = None  # what the whole document is the sheet of

    @property
    def all(self) -> tuple[Above, ...]:
        """Heads before headings."""
        return (*self.heads, *self.above)


@define(eq=False)
class Site:
    """Where a fact is being bound: its phrase, its sentence, and what was bound before it."""

    lexicon: Lexicon
    context: Context
    sentence: Sentence
    phrase: Phrase
    before: Sequence[Finding]
    """Facts bound earlier in the sentence."""
    done: Sequence[Finding]
    """Facts bound earlier in the clause, the last few dozen."""
    previous: Sentence | None = None
    """The sentence before, in the same clause."""
    row: Sequence[Finding] = ()
    """Facts bound in earlier cells of the row."""

    @property
    def part(self) -> Part:
        """The part of the sentence that the phrase stands in."""
        return self.phrase.part

    @property
    def label(self) -> Tags:
        """The words before the colon."""
        return self.phrase.part.label

    def can(self, subject: str, kind: str) -> bool:
        """Whether facts of a kind are said of a subject."""
        return kind in self.lexicon.kinds.get(subject, frozenset())

    def fits(self, subject: str, out: Finding) -> bool:
        """Whether a finding can be of a subject: its kind is said of it, and what holds it is what it comes in."""
        if out.kind == "package" and out.per is not None and subject in self.lexicon.holds:
            return out.per.unit.name in self.lexicon.holds[subject]
        return self.can(subject, out.kind)

    def behind(self, fact: Fact) -> list[Tag]:
        """The tags of the sentence behind a fact, the nearest first."""
        last = self.sentence.tags[0].start if self.sentence.tags else 0
        last = max((t.end for t in self.phrase.tags if fact.place <= t.start < fact.over), default=last)
        return [t for t in self.sentence.tags if t.start >= last and t.start >= fact.place]

    def implied(self, what: str) -> str:
        """The subject that a kind or a word of the text implies, or nothing."""
        return self.lexicon.implies.get(what, "")

    @property
    def last(self) -> Finding | None:
        """The fact read last in the sentence."""
        return next((f for f in reversed(self.before) if f.stands), None)

    def words_before(self, fact: Fact) -> list[Tag]:
        """The tags of the fact's part that stand before it, its label aside."""
        return [t for t in self.sentence.tags if self.part.start <= t.start < fact.place]

    @property
    def headed(self) -> list[Tag]:
        """The label of the part, with numbers or without, as far as a colon closes it before the phrase."""
        first = self.phrase.facts[0].place if self.phrase.facts else 0
        before = [t for t in self.sentence.tags if self.part.start <= t.start < first]
        colon = next((n for n, t in enumerate(before) if t.name == "COLON"), 0)
        return [*self.label, *before[:colon]]

    @property
    def earlier(self) -> list[Phrase]:
        """Phrases of the same part before this one."""
        if not self.phrase.tags:
            return []
        return [p for p in self.part.phrases if p.tags and p.tags[0].start < self.phrase.tags[0].start]

    @property
    def part_tags(self) -> list[Tag]:
        """Every tag of the part, its label and tail included."""
        return [*self.part.label, *(t for p in self.part.phrases for t in p.tags), *self.part.tail]

    @property
    def distinct(self) -> bool:
        """Whether the phrase names a surface, place or product of its own."""
        names = ("surface", "where", "room", "subject", "BOTH", "ELSEWHERE")
        return any(t.name in names for t in (*self.phrase.tags, *self.part.tail))

    @property
    def takes_over(self) -> bool:
        """Whether the sentence takes something over from elsewhere: `as the hall`, `as woodwork`."""
        tags = self.sentence.tags
        as_another = (one.name == "AS" and other.name in ("room", "surface") for one, other in pairwise(tags))
        return any(t.name == "CARRIED" for t in tags) or any(as_another)

    def subjects_near(self) -> Iterator[str]:
        """Subjects in reach, the nearest first, whatever can be said of them."""
        yield from (t.value for t in named(self.phrase.tags, "subject"))
        for phrase in reversed(self.earlier):
            yield from (t.value for t in reversed(named(phrase.tags, "subject")))
        yield from (t.value for t in reversed(named(self.label, "subject")))
        for other in reversed(self.sentence.parts):
            if other is not self.part:
                yield from (t.value for t in named(other.label, "subject"))
                yield from (t.value for p in other.phrases for t in named(p.tags, "subject"))
        if self.context.subject:
            yield self.context.subject
        for above in self.context.all:
            yield from (t.value for t in reversed(named(above.tags, "subject")))


LIMITS: dict[str, Bound] = {"AT_MOST": "at most", "AT_LEAST": "at least"}
"""What a word of a limit makes of the number it stands by."""


def named(tags: Iterable[Tag], name: str) -> list[Tag]:
    """The tags of one name."""
    return [t for t in tags if t.name == name]


def reason(tags: Iterable[Tag]) -> str:
    """Why a number beside these words is no quantity, or nothing."""
    return next((t.value for t in tags if t.name == "ASIDE"), "")


def relative(tags: Tags, number: int) -> bool:
    """Whether a condition only goes on about the place of an exception: `except toilets, where Level 3 will do`."""
    led = tags[max(0, number - 5) : max(0, number - 1)]
    closes = bool(led) and tags[number - 1].name == "COMMA" and led[-1].name in ("room", "surface")
    return closes and bool(named(led, "EXCEPT"))


def class_of(tags: Tags, number: int) -> tuple[str, str]:
    """The product that a word says the class of, and the class; nothing where it says none. `Stain, oil-based` and `Stain: oil-based` are
    of the product named first, whatever else may be made of oil.
    """
    tag = tags[number]
    also = dict(tag.also) if tag.name == "subject" else {}
    if "class" not in also:
        return "", ""
    led = tags[max(0, number - 2) : number]
    if "weak" in also and len(led) > 1 and led[1].name in ("COMMA", "COLON") and led[0].name == "subject":
        return led[0].value, also["class"]
    return tag.value, also["class"]


_HINTS = {
    "ON_CENTER": "spacing", "SPACED": "spacing", "THICK": "thickness", "LONG": "long", "WIDE": "wide", "LENGTHS": "long", "WASTE": "waste",
    "SOLIDS": "solids", "COAT": "coats", "LAYER": "layers", "LEVEL": "finish level",
}  # fmt: skip


def hint_of(tag: Tag) -> str:
    """The kind of fact that a word speaks of, or nothing."""
    means = dict(tag.also).get("means", "") if tag.name == "subject" and tag.also else ""
    return tag.value if tag.name == "hint" else means or _HINTS.get(tag.name, "")


def last_break(tags: Tags) -> int:
    """Behind the last comma, colon or semicolon."""
    return max((n + 1 for n, t in enumerate(tags) if t.name in ("COMMA", "COLON", "SEMICOLON")), default=0)


def surface_groups(tags: Tags, name: str = "surface") -> list[tuple[list[Tag], list[str]]]:
    """Surfaces (or rooms) that are named together: `walls and ceilings`, `doors, trim`."""
    groups: list[tuple[list[Tag], list[str]]] = []
    open_ = False
    for tag in tags:
        if tag.name == name:
            if open_:
                groups[-1][0].append(tag)
                if tag.value not in groups[-1][1]:
                    groups[-1][1].append(tag.value)
            else:
                groups.append(([tag], [tag.value]))
            open_ = True
        elif open_ and tag.name == "subject" and name == "surface" and any(k == name for k, _ in tag.also):
            # `wall and ceiling varnish`
            groups[-1][0].append(tag)
            groups[-1][1].extend(v for k, v in tag.also if k == name and v not in groups[-1][1])
        elif tag.name not in ("AND", "COMMA", "PER", "room", "subject", "SIGN", "type", "ITS") and not comes_so(tag):
            open_ = False
    return groups


def joined_subjects(tags: Tags, chosen: Tag, site: Site, kind: str, how: str) -> list[Word]:
    """The chosen subject and those joined to it by `and`, as far as the kind is said of them."""
    if chosen.name != "subject":
        return [Word(chosen.value, how)]
    near = [t for t in tags if t.name in ("subject", "AND", "COMMA", "PER", "sheen", "NUMBER")]
    at = next(n for n, t in enumerate(near) if t is chosen)
    words, n = [chosen.value], at
    while n >= 2 and near[n - 1].name == "AND" and near[n - 2].name == "subject":
        n -= 2
        words.insert(0, near[n].value)
    n = at
    while n + 2 < len(near) and near[n + 1].name == "AND" and near[n + 2].name == "subject":
        n += 2
        words.append(near[n].value)
    return [Word(w, how) for w in dict.fromkeys(words) if site.can(w, kind)]
