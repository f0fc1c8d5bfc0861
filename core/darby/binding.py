"""Binding: of what, and where, a fact is said. Every rule here can be listed; what none of them reaches stays unread."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from attrs import define, evolve, field, frozen

from darby.lexicon import Lexicon, Tag
from darby.phrases import Part, Phrase, Sentence
from darby.readers import Fact, Quantity
from darby.units import AREA, LENGTH, MASS, UNITS, VOLUME

SCOPE_KEYS = ("room", "where", "note", "type", "sheen", "coat", "method", "basis", "film", "color")
_PLACE_KEYS = ("room", "where")
_NEARBY = ("type", "sheen", "where", "room", "note", "coat", "method", "basis")
_OF_PAINT = {"coats", "coverage", "consumption", "package", "film", "solids"}


@frozen
class Word:
    """A subject or surface, and where it was found."""

    value: str
    how: str


@define
class Bound:
    """A fact with everything that was found out about it, or the reason why it is no rule."""

    fact: Fact
    kind: str = ""
    amount: Quantity | None = None
    per: Quantity | None = None
    subjects: list[Word] = field(factory=list)
    surfaces: list[Word] = field(factory=list)
    scope: dict[str, str] = field(factory=dict)
    how: list[tuple[str, str]] = field(factory=list)
    bound: str = "exact"
    aside: str = ""
    unread: str = ""
    doubt: str = ""


@frozen
class Context:
    """What a clause stands under: tag lists of column heads, row key and headings, the nearest first, and their names."""

    heads: tuple[tuple[str, Sequence[Tag]], ...] = ()
    """Column heads and row keys."""
    above: tuple[tuple[str, Sequence[Tag]], ...] = ()
    """List parents and headings."""
    subject: str = ""
    scope: tuple[tuple[str, str], ...] = ()

    @property
    def all(self) -> tuple[tuple[str, Sequence[Tag]], ...]:
        """Heads before headings."""
        return (*self.heads, *self.above)


@define
class Binder:
    """Binds the facts of one clause, sentence by sentence."""

    lexicon: Lexicon
    context: Context
    done: list[Bound] = field(factory=list)
    sentence: Sentence | None = None

    def bind(self, sentences: Iterable[Sentence]) -> list[Bound]:
        """Every fact of the sentences, bound or explained."""
        for sentence in sentences:
            self.sentence = sentence
            earlier = len(self.done)
            for part in sentence.parts:
                for phrase in part.phrases:
                    for fact in phrase.facts:
                        self.done.append(self._bind(fact, phrase, self.done[earlier:]))
            self._open(sentence, self.done[earlier:])
            self._choices(sentence, self.done[earlier:])
            self._checks(self.done[earlier:])
            self._spread(self.done[earlier:])
        return self.done

    def _bind(self, fact: Fact, phrase: Phrase, before: Sequence[Bound]) -> Bound:
        out = Bound(fact, fact.kind, fact.amount, fact.per, bound=fact.bound, doubt=fact.doubt)
        if fact.why:
            out.aside = fact.why
            return out
        if not self._worth_binding(fact, phrase, out):
            return out
        self._kind(out, phrase, before)
        if out.aside or out.unread:
            return out
        out.subjects = self._subjects(out, phrase, before)
        if not out.subjects:
            out.unread = out.unread or "nothing near it says what it is of"
            near = _reason(phrase.tags)
            if near:
                out.aside, out.unread = near, ""
            return out
        if not self._allowed(out):
            return out
        out.surfaces = self._surfaces(out, phrase)
        self._scope(out, phrase)
        self._inherit_bound(out, phrase)
        return out

    # whether it is a quantity of ours at all

    def _worth_binding(self, fact: Fact, phrase: Phrase, out: Bound) -> bool:
        part = phrase.part
        tags = [*part.label, *(t for p in part.phrases for t in p.tags), *part.tail]
        for tag in tags:
            if tag.name == "ASIDE_ALL":
                return _refuse(out, tag.value)
        for _, above in self.context.all:
            for tag in above:
                if tag.name == "ASIDE_ALL":
                    return _refuse(out, tag.value)
        reference = self._reference(fact)
        if reference:
            return _refuse(out, reference)
        if self._governed_by_other(fact, phrase):
            return _refuse(out, _reason([*part.label, *phrase.lead]) or _reason(tags) or "of something else")
        weak = not fact.kind and fact.per is None
        near = _reason(t for t in phrase.tags if t.name == "ASIDE" and _nearest(t, phrase) is fact)
        if weak and near:
            return _refuse(out, near)
        if weak and _reason(part.label) and not _named(part.label, "subject"):
            return _refuse(out, _reason(part.label))
        words = self._words_before(fact, phrase)
        if _named(words[_last_break(words) :], "NO"):
            return _refuse(out, "forbidden: what is not to be used")
        if words and words[-1].name in ("INSTEAD_OF",):
            return _refuse(out, "the old value, which another takes the place of")
        if words and words[-1].name == "CHANGED" and fact.amount is not None and fact.amount.high is not None:
            # `changes from 1/2 inch to 5/8 inch` is no range: the second is the new value
            out.amount, out.doubt = evolve(fact.amount, low=fact.amount.high, high=None), ""
        elif (
            _named(words, "CHANGED")
            and not _named(words[_last(words, "CHANGED") :], "NEW_VALUE")
            and self._new_value_follows(fact, phrase)
        ):
            return _refuse(out, "the old value, which another takes the place of")
        if words and words[-1].name == "MONEY":
            return _refuse(out, "a price")
        if _in_condition(words):
            return _refuse(out, "part of a condition")
        return True

    def _reference(self, fact: Fact) -> str:
        """Why a bare number is a name: `Page 3`, `Rooms 102 and 103`."""
        if fact.kind or fact.per is not None or fact.amount is None or fact.amount.unit is not UNITS["each"]:
            return ""
        assert self.sentence is not None
        before = [t for t in self.sentence.tags if t.end <= fact.place]
        while before and before[-1].name in ("NUMBER", "COMMA", "AND", "RANGE", "DASH", "CODE", "OPEN", "STOP"):
            before.pop()
        return before[-1].value if before and before[-1].name == "REFERENCE" else ""

    def _words_before(self, fact: Fact, phrase: Phrase) -> list[Tag]:
        """The tags of the fact's part that stand before it, its label aside."""
        assert self.sentence is not None
        start = phrase.part.phrases[0].tags[0].start if phrase.part.phrases and phrase.part.phrases[0].tags else 0
        here = fact.place
        return [t for t in self.sentence.tags if start <= t.start < here]

    def _new_value_follows(self, fact: Fact, phrase: Phrase) -> bool:
        assert self.sentence is not None
        here = fact.place
        return any(t.start > here and t.name in ("NEW_VALUE", "RANGE") for t in self.sentence.tags)

    def _governed_by_other(self, fact: Fact, phrase: Phrase) -> bool:
        """Whether the first thing named before the fact is something that no trade here orders."""
        part = phrase.part
        here = fact.place
        lead = [
            t for t in (*part.label, *(t for p in part.phrases for t in p.tags)) if t.start < here or t in part.label
        ]
        first = next(
            (
                t
                for t in lead
                if t.name in ("subject", "ASIDE") or (t.name in ("hint", "COAT", "LAYER") and t.value != "film")
            ),
            None,
        )
        return first is not None and first.name == "ASIDE"

    # kind

    def _kind(self, out: Bound, phrase: Phrase, before: Sequence[Bound]) -> None:
        fact = out.fact
        if fact.kind in _DECIDED or not fact.kind:
            decide = getattr(self, f"_kind_{fact.kind.replace(' ', '_') or 'bare'}")
            decide(out, phrase, before)

    def _kind_spacing(self, out: Bound, phrase: Phrase, _before: Sequence[Bound]) -> None:
        """Supports on center are framing; fasteners on center are spacing. The nearest word before decides."""
        if self._frames(out, phrase):
            out.kind = "framing"
        elif out.amount is not None and out.amount.size <= _PAIR and _named(phrase.tags, "PAIR"):
            out.aside = "the distance inside a pair"

    def _frames(self, out: Bound, phrase: Phrase) -> bool:
        here = out.fact.place
        near = [
            t
            for t in phrase.tags
            if (t.name == "subject" and self._can(t.value, "spacing")) or (t.name == "hint" and t.value == "framing")
        ]
        before = [t for t in near if t.start < here]
        if before:
            return before[-1].name == "hint"
        after = [t for t in near if t.start > here]
        if after:
            return after[0].name == "hint"
        for tags in (phrase.part.label, *(t for _, t in self.context.all)):
            found = [
                t
                for t in tags
                if (t.name == "subject" and self._can(t.value, "spacing"))
                or (t.name == "hint" and t.value == "framing")
            ]
            if found:
                return found[-1].name == "hint" and not any(t.name == "subject" for t in found)
        return False

    def _kind_film(self, out: Bound, phrase: Phrase, before: Sequence[Bound]) -> None:
        """A film must be said to be wet or dry: beside it, in its label, its column or its heading."""
        if dict(out.fact.scope).get("film"):
            return
        for tags in (phrase.tags, phrase.part.label, *(t for _, t in self.context.all)):
            state = next((t.name.lower() for t in tags if t.name in ("WET", "DRY")), "")
            if state:
                out.scope["film"] = state
                return
        rate = next((b for b in reversed(before) if b.kind == "coverage" and b.amount and b.per and not b.unread), None)
        if rate is not None and rate.amount is not None and rate.per is not None and out.amount is not None:
            # what a volume covers times its film is the volume's solids: all of it wet, a part of it dry
            share = rate.amount.size * out.amount.size / rate.per.size
            if Fraction(92, 100) <= share <= Fraction(105, 100) or Fraction(15, 100) <= share <= Fraction(9, 10):
                out.scope["film"] = "wet" if share > Fraction(9, 10) else "dry"
                out.how.append(("film", "its product with the spreading rate"))
                return
        out.unread = "a film, and nobody says whether wet or dry"

    def _kind_long(self, out: Bound, phrase: Phrase, _before: Sequence[Bound]) -> None:
        if any(self._can(s, "fastener length") for s in self._near_subjects(phrase)):
            out.kind = "fastener length"
        else:
            out.aside = "a length that orders nothing by itself"

    def _kind_wide(self, out: Bound, phrase: Phrase, _before: Sequence[Bound]) -> None:
        subjects = self._near_subjects(phrase)
        if subjects and self._can(subjects[0], "sheet"):
            out.kind = "sheet"
            width = out.amount.size if out.amount else Fraction(0)
            if not _SHEET_WIDTH[0] <= width <= _SHEET_WIDTH[1]:
                out.kind, out.aside = "", "a width"
        else:
            out.aside = "a width"

    def _kind_does(self, out: Bound, phrase: Phrase, before: Sequence[Bound]) -> None:
        """`a 28 oz tube does 85 ft`: one package for so much; the package is the one just named."""
        last = before[-1] if before else None
        if last is not None and last.kind == "package" and last.per is not None:
            out.kind, out.amount, out.per = "consumption", last.per, out.amount
            out.subjects = list(last.subjects)
        else:
            out.unread = "how far something goes, and nothing says what"

    def _kind_ordinal(self, out: Bound, phrase: Phrase, _before: Sequence[Bound]) -> None:
        """An ordinal alone is a coat only as the key of a row that names a product with coats."""
        alone = len(phrase.tags) == 1 and not phrase.part.tail and not phrase.part.label
        row = [t for name, tags in self.context.heads if name.startswith("the row") for t in tags]
        if alone and any(t.name == "subject" and self._can(t.value, "coats") for t in row):
            out.kind = "coats"
        else:
            out.aside = "an ordinal"

    def _kind_finish_level(self, out: Bound, phrase: Phrase, _before: Sequence[Bound]) -> None:
        """A level is of finish unless its label speaks of gloss; before a colon it says where something else holds."""
        assert self.sentence is not None
        behind = [t for t in self.sentence.tags if t.start > out.fact.place]
        colon = next((n for n, t in enumerate(behind) if t.name == "COLON"), None)
        if _named(phrase.part.label, "sheen") and not _named(phrase.part.label, "subject"):
            out.aside = "a level of gloss"
        elif colon is not None and not _named(behind[:colon], "STOP"):
            out.aside = "says where something else holds"

    def _kind_coats(self, out: Bound, phrase: Phrase, before: Sequence[Bound]) -> None:
        """Coats behind a rate that could not be read belong to that rate; `as second coat` takes over what stands elsewhere."""
        words = self._words_before(out.fact, phrase)
        if words and words[-1].name == "AS":
            out.doubt = out.doubt or "taken over from elsewhere"
        elif (
            before
            and before[-1].unread
            and before[-1].amount is not None
            and before[-1].amount.unit.dimension == VOLUME
            and not _named(phrase.tags, "subject")
        ):
            out.doubt = "coats of a rate that could not be read"

    def _kind_package_of(self, out: Bound, phrase: Phrase, before: Sequence[Bound]) -> None:
        """`8 ft sticks, boxes of 50`: pieces of the package just named, else of the thing itself."""
        out.kind = "package"
        last = before[-1] if before else None
        if (
            last is not None
            and last.kind == "package"
            and last.per is not None
            and out.amount is not None
            and out.per is not None
            and last.per.unit is not out.per.unit
        ):
            out.amount, out.subjects = evolve(out.amount, unit=last.per.unit), list(last.subjects)

    def _kind_pieces(self, out: Bound, phrase: Phrase, before: Sequence[Bound]) -> None:
        """`25 lb boxes, about 5,500 pieces`: of the package just named."""
        last = before[-1] if before else None
        if last is not None and last.kind == "package" and not last.unread:
            out.kind, out.per, out.subjects = "package", last.per, last.subjects
        else:
            out.unread = "a count of pieces, and nothing says of what package"

    def _kind_bare(self, out: Bound, phrase: Phrase, before: Sequence[Bound]) -> None:
        """A bare measure: the words around it say what it is, else the kind of thing that is measured."""
        quantity = out.amount
        assert quantity is not None
        hint = self._hint(out.fact, phrase)
        dimension = quantity.unit.dimension
        if dimension == LENGTH:
            self._bare_length(out, phrase, before, hint)
        elif quantity.unit is UNITS["%"]:
            self._bare_share(out, phrase, hint)
        elif quantity.unit is UNITS["each"]:
            self._bare_number(out, phrase, before, hint)
        elif dimension in (VOLUME, MASS):
            self._bare_content(out, phrase, hint)
        elif dimension == AREA:
            out.unread = "an area, and nothing says what for"
        else:
            out.aside = "a number of packages, not what one holds"

    def _hint(self, fact: Fact, phrase: Phrase) -> str:
        """The kind that the words around a bare measure speak of, the nearest first."""
        here = fact.place
        own = [t for t in phrase.tags if _hint_of(t)]
        if own:
            return _hint_of(min(own, key=lambda t: abs(t.start - here)))
        heads = (t for name, t in self.context.heads if not name.startswith("the row"))
        for tags in (phrase.part.label, *heads, *(t for _, t in self.context.above)):
            for tag in reversed(tags):
                if _hint_of(tag):
                    return _hint_of(tag)
        return ""

    def _bare_length(self, out: Bound, phrase: Phrase, before: Sequence[Bound], hint: str) -> None:
        quantity = out.amount
        assert quantity is not None
        subjects = self._near_subjects(phrase)
        last = next((b for b in reversed(before) if b.kind and not b.unread and not b.aside), None)
        near = [*phrase.tags, *phrase.part.label]
        if (
            last is not None
            and last.kind in ("spacing", "framing")
            and _in_band(quantity)
            and self._distinct(phrase)
            and not any(_hint_of(t) for t in near)
        ):
            out.kind, out.subjects = last.kind, last.subjects
        elif hint in ("spacing", "framing") and not self._is_thickness(quantity, subjects):
            out.kind = "spacing"
            self._kind_spacing(out, phrase, before)
            if hint == "framing" and out.kind == "spacing" and not any(self._can(s, "spacing") for s in subjects):
                out.kind = "framing"
        elif hint == "long":
            self._kind_long(out, phrase, before)
        elif hint == "wide":
            out.aside = "a width"
        elif hint == "package":
            out.unread = "a length of something packed, and the package is not named"
        elif subjects:
            self._by_measure(out, subjects, phrase)
        else:
            out.unread = "a length, and nothing near it says of what"

    def _by_measure(self, out: Bound, subjects: Sequence[str], phrase: Phrase) -> None:
        quantity = out.amount
        assert quantity is not None
        for subject in subjects:
            measures = self.lexicon.measures.get(subject, {})
            kind = measures.get("length", "")
            if "long" in measures and quantity.size <= _LONGEST_FASTENER:
                kind = measures["long"]
                if _named(phrase.tags, "where") and not any(
                    t.value.endswith("layer") for t in _named(phrase.tags, "where")
                ):
                    kind = ""
            elif kind == "spacing" and not (
                _in_band(quantity)
                and (
                    _named(phrase.tags, "surface")
                    or _named(phrase.part.label, "surface")
                    or _named(phrase.tags, "where")
                    or _named(phrase.part.label, "where")
                )
            ):
                kind = ""
            if kind == "thickness" and not self._is_thickness(quantity, [subject]):
                out.unread = "not a thickness that the board comes in"
                return
            if kind:
                out.kind = kind
                return
        out.unread = "a length, and nothing says what it measures"

    def _is_thickness(self, quantity: Quantity, subjects: Sequence[str]) -> bool:
        known = self._sizes("thickness")
        return bool(subjects) and self._can(subjects[0], "thickness") and quantity.size in known

    def _sizes(self, kind: str) -> set[Fraction]:
        from darby.units import parse  # noqa: PLC0415 - only for kinds with a list of sizes

        return {value * unit.factor for value, unit in map(parse, self.lexicon.known.get(kind, []))}

    def _bare_share(self, out: Bound, phrase: Phrase, hint: str) -> None:
        if hint in ("waste", "solids"):
            out.kind = hint
        elif _named(phrase.tags, "WASTE") or _named(phrase.part.label, "WASTE"):
            out.kind = "waste"
        else:
            out.unread = "a percentage, and nothing says of what"

    def _bare_content(self, out: Bound, phrase: Phrase, hint: str) -> None:
        """`Cans: primer 10 L`, `28 oz each`: a content whose container stands in the label or before it."""
        for tags in (phrase.part.label, *(t for _, t in self.context.heads)):
            container = next((t for t in reversed(tags) if t.name == "CONTAINER"), None)
            if container is not None:
                out.kind, out.per = "package", Quantity(Fraction(1), UNITS[container.value])
                return
        if _named(phrase.tags, "EACH"):
            last = next(
                (b for b in reversed(self.done) if b.amount is not None and b.amount.unit.name in _CONTAINER_NAMES),
                None,
            )
            if last is not None and last.amount is not None:
                out.kind, out.per, out.subjects = (
                    "package",
                    Quantity(Fraction(1), last.amount.unit),
                    list(last.subjects),
                )
                return
        out.unread = (
            "an amount, and nothing says what holds it" if hint == "package" else "an amount, and nothing says what for"
        )

    def _bare_number(self, out: Bound, phrase: Phrase, before: Sequence[Bound], hint: str) -> None:
        """A number without a unit counts coats or layers where a label says so, or shares the unit of the one before it."""
        quantity = out.amount
        assert quantity is not None
        last = next((b for b in reversed(before) if b.kind and not b.unread and not b.aside), None)
        label_hint = next((_hint_of(t) for t in reversed(phrase.part.label) if _hint_of(t)), "") or next(
            (_hint_of(t) for _, tags in self.context.heads for t in reversed(tags) if _hint_of(t)), ""
        )
        if not label_hint and self.context.above:
            over = self.context.above[0][1]
            label_hint = next(
                (_hint_of(t) for t in over if _hint_of(t) in ("coats", "layers") and not _named(over, "NUMBER")), ""
            )
        unit = self._head_unit(phrase)
        if unit is not None:
            out.amount = evolve(quantity, unit=unit)
            out.fact = evolve(out.fact, amount=out.amount)
            self._bare_length(out, phrase, before, label_hint or hint)
            out.how.append(("unit", "the head of the column"))
        elif label_hint in ("coats", "layers"):
            out.kind = label_hint
        elif (
            last is not None
            and last.kind in ("spacing", "framing", "coats", "coverage")
            and last.amount is not None
            and self._distinct(phrase)
        ):
            self._share_unit(out, last, quantity)
        else:
            out.unread = "a number without a unit"

    def _share_unit(self, out: Bound, last: Bound, quantity: Quantity) -> None:
        assert last.amount is not None
        ratio = quantity.low / last.amount.low if last.amount.low else Fraction(0)
        if not Fraction(1, 3) <= ratio <= 3:
            out.unread = "a number without a unit"
            return
        out.kind, out.amount, out.per = last.kind, evolve(quantity, unit=last.amount.unit), last.per
        if last.kind in ("spacing", "framing"):
            out.subjects = list(last.subjects)
        out.how.append(("unit", "the number before it"))

    def _head_unit(self, phrase: Phrase):  # type: ignore[no-untyped-def]
        """A unit in the head of the column or in the heading of the table, for a cell that is a number alone."""
        if not self.context.heads:
            return None
        columns = [tags for name, tags in self.context.heads if not name.startswith("the row")]
        for tags in (*columns, *(tags for _, tags in self.context.above[:3])):
            unit = next((t.unit for t in tags if t.name in ("LENGTH_UNIT",) and t.unit is not None), None)
            if unit is not None:
                return unit
        return None

    def _distinct(self, phrase: Phrase) -> bool:
        """Whether a phrase names a surface, place or product of its own."""
        return any(t.name in ("surface", "where", "room", "subject", "BOTH") for t in (*phrase.tags, *phrase.part.tail))

    # subject

    def _can(self, subject: str, kind: str) -> bool:
        return kind in self.lexicon.kinds.get(subject, frozenset())

    def _near_subjects(self, phrase: Phrase) -> list[str]:
        """Subjects in reach of a phrase, the nearest first, whatever their kind."""
        out = [t.value for t in _named(phrase.tags, "subject")]
        part = phrase.part
        earlier = [p for p in part.phrases if p.tags and phrase.tags and p.tags[0].start < phrase.tags[0].start]
        for p in reversed(earlier):
            out += [t.value for t in reversed(_named(p.tags, "subject"))]
        out += [t.value for t in reversed(_named(part.label, "subject"))]
        for other in reversed(part.sentence.parts):
            if other is not part:
                out += [t.value for t in _named(other.label, "subject")]
                out += [t.value for p in other.phrases for t in _named(p.tags, "subject")]
        if self.context.subject:
            out.append(self.context.subject)
        for _, tags in self.context.all:
            out += [t.value for t in reversed(_named(tags, "subject"))]
        return out

    def _subjects(self, out: Bound, phrase: Phrase, before: Sequence[Bound]) -> list[Word]:
        kind, fact, part = out.kind, out.fact, phrase.part
        if out.subjects:
            return out.subjects
        if fact.subject and self._can(fact.subject, kind):
            return [Word(fact.subject, "the fact's own words")]
        here = fact.place
        able = [t for t in _named(phrase.tags, "subject") if self._can(t.value, kind)]
        after, ahead = [t for t in able if t.start > here], [t for t in able if t.start < here]
        sheen = _named(phrase.tags, "sheen") or dict(fact.scope).get("sheen")
        counted = kind in ("coats", "layers")
        if counted and after:
            return _group(phrase.tags, after[0], self, kind, "the words behind the number")
        if ahead:
            return _group(phrase.tags, ahead[-1], self, kind, "the words before the number")
        if after:
            return _group(phrase.tags, after[0], self, kind, "the words behind the number")
        labelled = [t for t in _named(part.label, "subject") if self._can(t.value, kind)]
        if sheen and kind in _OF_PAINT and not labelled and self.lexicon.implies.get("sheen"):
            return [Word(self.lexicon.implies["sheen"], "its sheen")]
        if not (counted and any(b.kind == kind and not b.unread for b in before)):
            for bound in reversed(before):
                if bound.subjects and self._can(bound.subjects[0].value, kind) and _sibling(bound, part):
                    return [Word(w.value, "the phrase before") for w in bound.subjects]
            earlier = [
                t
                for p in part.phrases
                if p.tags and p.tags[0].start < here
                for t in _named(p.tags, "subject")
                if self._can(t.value, kind)
            ]
            if earlier:
                return [Word(earlier[-1].value, "the phrase before")]
        if labelled:
            return _group(part.label, labelled[0], self, kind, "the label")
        tail = [t for t in _named(part.tail, "subject") if self._can(t.value, kind)]
        if tail:
            return _group(part.tail, tail[0], self, kind, "the words at the end")
        if kind == "coats":
            places = [*_named(phrase.tags, "where"), *_named(part.tail, "where"), *_named(part.label, "where")]
            implied = next(
                (self.lexicon.implied_where[t.value] for t in places if t.value in self.lexicon.implied_where), ""
            )
            if implied and self._can(implied, kind):
                return [Word(implied, "the place it is said of")]
        if (
            counted
            and any(b.kind == kind and not b.unread and not b.aside for b in before)
            and not self._distinct(phrase)
        ):
            return []
        if self.context.subject and self._can(self.context.subject, kind):
            return [Word(self.context.subject, "what the line is read under")]
        if kind == "coats" and (match := self._same_kind(before, kind)) is not None:
            return [Word(w.value, "the fact before") for w in match.subjects]
        for name, tags in self.context.heads:
            found = [t for t in _named(tags, "subject") if self._can(t.value, kind)]
            if found:
                return _group(tags, found[-1], self, kind, name)
            if kind in _OF_PAINT and _named(tags, "sheen") and self.lexicon.implies.get("sheen") and kind != "package":
                return [Word(self.lexicon.implies["sheen"], name)]
        for bound in reversed(before):
            if bound.subjects and self._can(bound.subjects[0].value, kind):
                return [Word(w.value, "the sentence") for w in bound.subjects]
        for bound in reversed(self.done):
            if bound.subjects and self._can(bound.subjects[0].value, kind) and not _named(part.label, "subject"):
                return [Word(w.value, "the sentence before") for w in bound.subjects]
        for name, tags in self.context.above:
            found = [t for t in _named(tags, "subject") if self._can(t.value, kind)]
            if found:
                return _group(tags, found[-1], self, kind, name)
            if kind in _OF_PAINT and _named(tags, "sheen") and self.lexicon.implies.get("sheen"):
                return [Word(self.lexicon.implies["sheen"], name)]
        implied = self.lexicon.implies.get(kind)
        return [Word(implied, f"every {kind} is of it")] if implied else []

    def _same_kind(self, before: Sequence[Bound], kind: str) -> Bound | None:
        return next((b for b in reversed(before) if b.kind == kind and b.subjects and not b.unread), None)

    def _allowed(self, out: Bound) -> bool:
        """Checks that cost nothing: numbers that a kind cannot have are asked about, not believed."""
        quantity = out.amount
        assert quantity is not None
        low, high = _BANDS.get(out.kind, (None, None))
        size = quantity.low if out.kind in _COUNTS else quantity.size
        if low is not None and high is not None and not low <= size <= high:
            out.unread = f"out of the range that {out.kind} can have"
        elif out.kind in _COUNTS and quantity.low.denominator != 1:
            out.unread = f"{out.kind} are counted in whole numbers"
        elif (
            out.kind == "thickness"
            and self.lexicon.known.get("thickness")
            and quantity.size not in self._sizes("thickness")
        ):
            out.unread = "not a thickness that the board comes in"
        elif (
            out.kind == "sheet"
            and out.fact.by is not None
            and not (
                _SHEET_WIDTH[0] <= quantity.size <= _SHEET_WIDTH[1] <= out.fact.by.size * 2
                and quantity.size <= out.fact.by.size <= _LONGEST_SHEET
            )
        ):
            out.aside = "a size, and not of a sheet of board"
        return not out.unread and not out.aside

    # surface

    def _surfaces(self, out: Bound, phrase: Phrase) -> list[Word]:
        part = phrase.part
        here = out.fact.place
        own = _groups(phrase.tags)
        if _named(phrase.tags, "BOTH") and not own:
            said = [w.value for b in self.done[::-1] for w in b.surfaces if b.kind == out.kind]
            if len(dict.fromkeys(said)) > 1:
                return [Word(v, "`both`") for v in dict.fromkeys(said)]
        carried = [
            Word(v, "the product's own name")
            for t in (*_named(phrase.tags, "subject"), *(_named(phrase.tags, "hint") if out.kind == "framing" else ()))
            for k, v in t.also
            if k == "surface"
        ]
        if own:
            nearest = min(own, key=lambda g: _distance(g, here))
            return [Word(t, "the words of the phrase") for t in nearest[1]]
        if carried:
            return carried[-1:]
        tail = _groups(part.tail)
        if tail:
            return [Word(t, "the words at the end") for t in tail[-1][1]]
        label = _groups(part.label)
        if label:
            return [Word(t, "the label") for t in label[-1][1]]
        by_name = [
            Word(v, "the product's own name")
            for t in part.label
            if t.name in ("subject", "hint")
            for k, v in t.also
            if k == "surface"
        ]
        if by_name:
            return by_name[-1:]
        before = [
            p for p in part.phrases if p.tags and p.tags[0].start < (phrase.tags[0].start if phrase.tags else here)
        ]
        if (
            before
            and (_named(phrase.lead, "NEW_VALUE") or not self._same_kind_in(before, out.kind))
            and not out.kind == "package"
        ):
            words = _groups([t for p in before[-1:] for t in p.tags]) or _groups(
                [t for p in before[:1] for t in p.lead]
            )
            if words:
                return [Word(t, "the phrase before") for t in words[-1][1]]
            named = [
                Word(v, "the product's own name")
                for p in before[-1:]
                for t in p.tags
                for k, v in t.also
                if k == "surface"
            ]
            if named:
                return named[-1:]
        if self.context.scope:
            surface = dict(self.context.scope).get("surface")
            if surface:
                return [Word(surface, "what the line is read under")]
        for number, (name, tags) in enumerate(self.context.all):
            groups = _groups(tags)
            found = [w for g in groups for w in g[1]] or [
                v for t in tags for k, v in t.also if k == "surface" and (t.name == "subject" or out.kind == "framing")
            ]
            last = number == len(self.context.all) - 1
            if found and not (last and len(set(found)) > 1):
                return [Word(t, name) for t in dict.fromkeys(groups[-1][1] if groups else found[-1:])]
        return []

    def _same_kind_in(self, phrases: Sequence[Phrase], kind: str) -> bool:
        return any(f.kind == kind for p in phrases for f in p.facts)

    def _spread(self, bounds: Sequence[Bound]) -> None:
        """A surface at the end of a list holds for the facts before it: `one coat primer and two coats flat to walls`."""
        for n, bound in enumerate(bounds):
            if bound.surfaces or bound.aside or bound.unread:
                continue
            later = next((b for b in bounds[n + 1 :] if b.kind == bound.kind and not b.unread and not b.aside), None)
            if (
                later is not None
                and later.surfaces
                and later.surfaces[0].how == "the words of the phrase"
                and later.subjects != bound.subjects
            ):
                bound.surfaces = [Word(w.value, "the words at the end of the list") for w in later.surfaces]

    # scope and bound

    def _scope(self, out: Bound, phrase: Phrase) -> None:
        scope = {**dict(self.context.scope), **dict(out.fact.scope), **out.scope}
        scope.pop("surface", None)
        subject = out.subjects[0].value
        layers = [phrase.tags, phrase.part.tail, phrase.part.label, *(t for _, t in self.context.all)]
        for number, tags in enumerate(layers):
            for key in _NEARBY:
                if number > 2 and key in ("type", "sheen", "note"):
                    continue
                found = _named(tags, key)
                if (
                    not found
                    or key in scope
                    or (key == "sheen" and out.kind not in _OF_PAINT)
                    or (key == "sheen" and subject != self.lexicon.implies.get("sheen"))
                ):
                    continue
                if key == "type" and out.kind not in (
                    "thickness",
                    "sheet",
                    "layers",
                    "consumption",
                    "package",
                    "fastener length",
                    "coats",
                ):
                    continue
                values = list(dict.fromkeys(t.value for t in found))
                here = out.fact.place
                scope[key] = (
                    min(found, key=lambda t: abs(t.start - here)).value
                    if number == 0
                    else values[-1]
                    if key != "room"
                    else " and ".join(values)
                )
        for tag in (*_named(phrase.tags, "subject"), *_named(phrase.part.label, "subject")):
            for key, value in tag.also:
                if key != "surface" and tag.value == subject:
                    scope.setdefault(key, value)
        condition = _condition(phrase, out.fact.place)
        if condition and "where" not in scope:
            scope["where"] = condition
        out.scope = scope

    def _inherit_bound(self, out: Bound, phrase: Phrase) -> None:
        if out.bound != "exact":
            return
        for name, tags in (("the label", phrase.part.label), *self.context.all):
            for tag in tags:
                if tag.name in ("AT_MOST", "AT_LEAST"):
                    out.bound = "at most" if tag.name == "AT_MOST" else "at least"
                    out.how.append(("bound", name))
                    return
            if _named(tags, "subject") and name != "the label":
                return

    # what cannot be believed

    def _open(self, sentence: Sentence, bounds: Sequence[Bound]) -> None:
        """Open quantities, relative changes and what is struck out make counts and rates a question."""
        names = {t.name for t in sentence.tags}
        why = ""
        if "RELATIVE" in names:
            why = "relative to something said elsewhere"
        elif "OPEN_ENDED" in names:
            why = "the text leaves it open"
        elif any(t.name == "CHANGED" and t.value for t in sentence.tags) and "NEW_VALUE" not in names:
            why = "something is taken away, and what is left is not said"
        for bound in bounds:
            if bound.aside and why and bound.aside in ("says where something else holds",):
                bound.aside = ""
            if bound.aside:
                continue
            if why:
                bound.doubt = bound.doubt or why
            elif "IN_ALL" in names and bound.kind in ("film", "coverage", "consumption"):
                bound.doubt = bound.doubt or "of all coats together: of one coat is not said"

    def _checks(self, bounds: Sequence[Bound]) -> None:
        """Rates and films must fit each other; one rate behind two products is nobody's."""
        for bound in bounds:
            if bound.kind != "coverage" or bound.aside or bound.unread:
                continue
            others = {w.value for b in bounds if b.kind == "coats" and not b.aside for w in b.subjects}
            if bound.subjects and bound.subjects[0].how == "the phrase before" and len(others) > 1:
                bound.doubt = bound.doubt or "one rate behind two products: whose it is is not said"

    # choices

    def _choices(self, sentence: Sentence, bounds: Sequence[Bound]) -> None:
        """Two facts of one kind with an `or` between them, and no place to tell them apart, are a choice nobody has made."""
        ors = [t.start for t in sentence.tags if t.name == "EITHER"]
        if not ors:
            return
        for first, second in zip(bounds, bounds[1:], strict=False):
            offered = first.kind == second.kind == "sheet"
            between = [o for o in ors if first.fact.place < o < second.fact.place]
            same = first.kind == second.kind or (
                not first.kind and second.amount is not None and first.amount is not None
            )
            told_apart = first.surfaces != second.surfaces or {w.value for w in first.subjects} != {
                w.value for w in second.subjects
            }
            if (
                between
                and same
                and not (told_apart and first.kind and first.surfaces and second.surfaces)
                and not first.aside
                and not second.aside
            ):
                for bound in (first, second):
                    bound.doubt = bound.doubt or "a choice that nobody has made"


_SHEET_WIDTH = (UNITS["mm"].factor * 590, UNITS["mm"].factor * 1400)
_PAIR = UNITS["in"].factor * 3
_LONGEST_SHEET = UNITS["mm"].factor * 7400
_LONGEST_FASTENER = UNITS["in"].factor * 3
_CONTAINER_NAMES = {"sheet", "roll", "bag", "pail", "box", "can", "tube", "stick"}
_DECIDED = ("does", "long", "wide", "pieces", "package of", "film", "spacing", "ordinal", "finish level", "coats")
_COUNTS = {"coats", "layers", "finish level"}
_BANDS: dict[str, tuple[Fraction, Fraction]] = {
    "coats": (Fraction(0), Fraction(5)),
    "layers": (Fraction(0), Fraction(4)),
    "finish level": (Fraction(0), Fraction(5)),
    "spacing": (UNITS["in"].factor * Fraction(3, 2), UNITS["in"].factor * 48),
    "framing": (UNITS["in"].factor * 4, UNITS["in"].factor * 72),
    "solids": (Fraction(5, 100), Fraction(1)),
    "waste": (Fraction(0), Fraction(1)),
    "fastener length": (UNITS["in"].factor / 4, UNITS["in"].factor * 6),
}
"""What a kind's numbers can be: our own wide bands, not surveyed. Counts by number, the rest in base units."""


def _in_band(quantity: Quantity) -> bool:
    low, high = _BANDS["spacing"]
    return low <= quantity.size <= high


def _refuse(out: Bound, why: str) -> bool:
    if why.startswith("?"):
        out.doubt = why[1:]
    else:
        out.aside = why
    return False


def _nearest(tag: Tag, phrase: Phrase) -> Fact:
    """The fact of a phrase that a word speaks of: the one just before it, else the one behind."""
    before = [f for f in phrase.facts if f.place <= tag.start]
    return before[-1] if before else phrase.facts[0]


def _named(tags: Iterable[Tag], name: str) -> list[Tag]:
    return [t for t in tags if t.name == name]


def _last_break(tags: Sequence[Tag]) -> int:
    """Behind the last comma, colon or semicolon."""
    return max((n + 1 for n, t in enumerate(tags) if t.name in ("COMMA", "COLON", "SEMICOLON")), default=0)


def _last(tags: Sequence[Tag], name: str) -> int:
    return max(n for n, t in enumerate(tags) if t.name == name)


def _reason(tags: Iterable[Tag]) -> str:
    return next((t.value for t in tags if t.name == "ASIDE"), "")


def _hint_of(tag: Tag) -> str:
    return tag.value if tag.name == "hint" else _HINTS.get(tag.name, "")


_HINTS = {
    "ON_CENTER": "spacing",
    "THICK": "thickness",
    "LONG": "long",
    "WIDE": "wide",
    "WASTE": "waste",
    "SOLIDS": "solids",
    "COAT": "coats",
    "LAYER": "layers",
    "SPACED": "spacing",
}


def _in_condition(words: Sequence[Tag]) -> bool:
    """Whether the last of the words before a fact opens a condition that no comma has closed."""
    open_ = False
    for tag in words:
        if tag.name == "CONDITION":
            open_ = True
        elif tag.name in ("COMMA", "COLON", "SEMICOLON"):
            open_ = False
    return open_


def _condition(phrase: Phrase, _here: int) -> str:
    """The condition that a phrase's part opens with or ends in, in its own words; nothing where there is none."""
    part = phrase.part
    tags = [*part.label, *(t for p in part.phrases for t in p.tags), *part.tail]
    condition = next((t for t in tags if t.name == "CONDITION"), None)
    return "under a condition" if condition is not None else ""


def _sibling(bound: Bound, part: Part) -> bool:
    return any(bound.fact in p.facts for p in part.phrases)


def _groups(tags: Sequence[Tag]) -> list[tuple[list[Tag], list[str]]]:
    """Surfaces that are named together: `walls and ceilings`, `doors, trim`."""
    groups: list[tuple[list[Tag], list[str]]] = []
    open_ = False
    for tag in tags:
        if tag.name == "surface":
            if open_ and groups:
                groups[-1][0].append(tag)
                if tag.value not in groups[-1][1]:
                    groups[-1][1].append(tag.value)
            else:
                groups.append(([tag], [tag.value]))
            open_ = True
        elif tag.name not in ("AND", "COMMA", "PER", "room", "subject", "SIGN", "type"):
            open_ = False
    return groups


def _distance(group: tuple[list[Tag], list[str]], here: int) -> int:
    """How far a group stands from a number; behind is nearer than before."""
    first, last = group[0][0], group[0][-1]
    return first.start - here if first.start > here else 2 * (here - last.end)


def _group(tags: Sequence[Tag], chosen: Tag, binder: Binder, kind: str, how: str) -> list[Word]:
    """The chosen subject and those joined to it: `primer and paint in 5 gallon pails`."""
    subjects = [t for t in tags if t.name in ("subject", "AND", "COMMA", "PER", "sheen", "NUMBER")]
    at = next(n for n, t in enumerate(subjects) if t is chosen)
    words = [chosen.value]
    n = at
    while n >= 2 and subjects[n - 1].name in ("AND",) and subjects[n - 2].name == "subject":
        n -= 2
        words.insert(0, subjects[n].value)
    n = at
    while n + 2 < len(subjects) and subjects[n + 1].name in ("AND",) and subjects[n + 2].name == "subject":
        n += 2
        words.append(subjects[n].value)
    return [Word(w, how) for w in dict.fromkeys(words) if binder._can(w, kind)]
