"""What is left with the owner beside the work: `Furnish 10 extra sheets of each type`, `Leave 1 gallon of each color`.

It is found before anything else is made of the words, since they are those of goods that are used: a count, and then what is counted, of each
sort there is or said to be extra. A mock-up is of an area, and of all goods that its clause names.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import lru_cache

from darby.quantities.amounts import Amount
from darby.quantities.units import UNITS, Unit
from darby.reading.binding.site.finding import Finding, Word, class_of
from darby.reading.parsing.fact_parser import Fact, Quantity
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.phrase_index import any_phrase
from darby.reading.parsing.tagging.tag import Tag
from darby.reading.parsing.vocabulary import Vocabulary, strings
from darby.rules.found_by import FoundBy

SPARE = "spare"
_STOCK, _SAMPLE = "spare stock", "a sample"
_MOST = 1000
"""Packages that nobody leaves behind."""
_LOOKS = ("COLOR_WORD", "sheen", "color")


def spares(tags: Sequence[Tag], above: Sequence[Tag], text: str, lexicon: Lexicon) -> list[Finding]:
    """What some words ask to be left beside the work, each as a finding that makes a rule. `above` are the words of what they stand under."""
    asides = {t.value for t in (*tags, *above) if t.name == "ASIDE_ALL"}
    if asides - {_STOCK, _SAMPLE} or any(t.name in ("NO", "NOT_PERMITTED") for t in tags):
        return []
    sample = _SAMPLE in asides and _STOCK not in asides
    if sample and not any("mock" in text[t.start : t.end].lower() for t in tags if t.name == "ASIDE_ALL"):
        return []
    return list(
        _mock_ups(tags, (*tags, *above), text, lexicon)
        if sample
        else _left(tags, text, lexicon, stock=_STOCK in asides)
    )


def _left(tags: Sequence[Tag], text: str, lexicon: Lexicon, *, stock: bool) -> Iterator[Finding]:
    taken = 0
    for at, tag in enumerate(tags):
        if at < taken or tag.name != "NUMBER" or tag.number is None or not 0 < tag.number <= _MOST:
            continue
        names = [t.name for t in tags[at : at + 6]]
        counted = _counted(tags, at, names, text, lexicon)
        if counted is None:
            continue
        amount, over = counted
        extra = "MORE" in names[: over - at + 1]
        each = [t.name for t in tags[over : over + 2]] == ["OF", "EACH"]
        if not (each or extra or stock or _handed_over(tags[:at])):
            continue
        behind = tags[over : _end(tags, over)]
        subjects = _subjects(behind, amount.unit, lexicon)
        sort, told = _sort(behind, text, lexicon)
        if not subjects or sort is None:
            continue
        taken = over + told
        for goods, look in _looks(behind, subjects):
            found = _finding(tags, at, taken, amount, goods)
            found.scope.update({**sort, **look})
            yield found


def _looks(behind: Sequence[Tag], subjects: list[Word]) -> Iterator[tuple[list[Word], dict[str, str]]]:
    """The goods that are left, with the looks that tell which of them: `each color of satin and oil`, `of each that goes on ceilings`."""
    parts: list[list[int]] = [[]]
    for n, tag in enumerate(behind):
        if tag.name in ("AND", "COMMA", "EITHER"):
            parts.append([])
        else:
            parts[-1].append(n)
    told: list[tuple[list[Word], dict[str, str]]] = []
    for at, part in enumerate(parts):
        look: dict[str, str] = {}
        if (
            at
            and [behind[n].name for n in part] == ["sheen"]
            and [behind[n].name for n in parts[at - 1]][-1:] == ["COLOR_WORD"]
        ):
            continue  # `each color and gloss`: the word is a noun there, and of no one look
        for tag in (behind[n] for n in part):
            look |= {tag.name: tag.value} if tag.name in ("sheen", "color", "surface") else {}
            look |= {key: said for key, said in tag.also if key == "surface"}
        look |= dict([("class", what) for n in part if (what := class_of(behind, n)[1])][:1])
        own = [word for word in subjects if any(behind[n].value == word.value for n in part)]
        if look or own:
            told.append((own or subjects, look))
    yield from told or [(subjects, {})]


def _sort(behind: Sequence[Tag], text: str, lexicon: Lexicon) -> tuple[dict[str, str] | None, int]:
    """The one sort that is left, by its type, thickness or mark, and the tags up to its thickness; None where it is told by more than that."""
    sort: dict[str, str] = {}
    told = 0
    for n, tag in enumerate(behind):
        key, said = _SORTS.get(tag.name, ""), tag.value
        if tag.name == "NUMBER":
            unit = behind[n + 1].unit if n + 1 < len(behind) and behind[n + 1].name == "LENGTH_UNIT" else None
            size = Amount.of(tag.number, unit) if tag.number is not None and unit is not None else None
            if size is None or size.size not in lexicon.sizes("thickness"):
                return None, 0
            key, said, told = "thickness", size.exact(), n + 2
        if key and sort.setdefault(key, said) != said:
            return None, 0
    if behind and not sort and (typed := _TYPED.search(text, behind[0].start, behind[-1].end)):
        sort["system"] = typed["mark"]  # a word of the document's own, or of nobody's: then none is left
    return sort, told


_TYPED = re.compile(r"\b[Tt]ype (?P<mark>[A-Z]{1,2}-?[0-9]{0,2})\b")
_SORTS = {"type": "type", "mark": "system"}
"""The tags that name a sort, and the keys of the scope that hold it."""


def _handed_over(before: Sequence[Tag]) -> bool:
    """Whether what is counted is given to somebody, by a word for it in the same sentence."""
    names = [t.name for t in before]
    stop = max((n for n, name in enumerate(names) if name == "STOP"), default=-1)
    return not {"HANDED_OVER", "LEAVE"}.isdisjoint(names[stop + 1 :])


def _end(tags: Sequence[Tag], over: int) -> int:
    """Where what is said of a count ends: at the end of its sentence, or before the next count."""
    for n in range(over, len(tags)):
        if tags[n].name == "STOP":
            return n
        if tags[n].name == "NUMBER" and n + 1 < len(tags) and tags[n + 1].name in _COUNTS:
            return n
    return len(tags)


_COUNTS = ("CONTAINER", "VOLUME_UNIT", "PERCENT", "MORE", "FULL")


def _counted(
    tags: Sequence[Tag], at: int, names: Sequence[str], text: str, lexicon: Lexicon
) -> tuple[Quantity, int] | None:
    """What is counted from a number on, and the tag behind it: packages, a volume, a share, or so many packages of a volume."""
    number = tags[at].number
    assert number is not None
    more = 1 if names[1:2] in (["MORE"], ["FULL"]) else 0
    first = tags[at + 1 + more] if at + 1 + more < len(tags) else None
    if first is None:
        return None
    behind = at + 2 + more
    if more and (
        word := _WORD.match(text, tags[at + 1].end, first.start)
    ):  # a word that is a package behind a number alone
        name, value = lexicon.stock.after_number.get(word["word"].lower(), ("", ""))
        if name == "CONTAINER" and value in UNITS:
            return Quantity(number, UNITS[value]), at + 2
    if first.name == "NUMBER" and not more and names[2:4] == ["VOLUME_UNIT", "CONTAINER"]:  # `two 5-gal pails`
        inner, unit = first.number, tags[at + 2].unit
        return (Quantity(number * inner, unit), at + 4) if inner is not None and unit is not None else None
    if first.name == "CONTAINER" and first.value in UNITS:
        return Quantity(number, UNITS[first.value]), behind
    if first.name == "subject" and first.value == lexicon.implies.get(_SHEET):  # the goods are their own package
        return Quantity(number, UNITS[_SHEET]), behind
    if first.name in ("VOLUME_UNIT", "PERCENT") and first.unit is not None:
        if first.name == "PERCENT" and number > 100:
            return None
        behind += names[2 + more : 3 + more] == ["MORE"]
        return Quantity(number, first.unit), behind
    return None


_SHEET = "sheet"
_WORD = re.compile(r"\s+(?P<word>[a-z]+)\b", re.IGNORECASE)


def _subjects(behind: Sequence[Tag], unit: Unit, lexicon: Lexicon) -> list[Word]:
    """The goods: those named behind the count, else those that the package or a look implies."""
    named = dict.fromkeys(
        t.value for t in behind if t.name == "subject" and SPARE in lexicon.kinds.get(t.value, frozenset())
    )
    if named:
        return [Word(goods, FoundBy.BEHIND) for goods in named]
    looks = any(t.name in _LOOKS for t in behind)
    implied = lexicon.implies.get("sheen" if looks else unit.name, "")
    how = FoundBy.SHEEN if looks else FoundBy.FACT
    return [Word(implied, how)] if SPARE in lexicon.kinds.get(implied, frozenset()) else []


def _mock_ups(tags: Sequence[Tag], around: Sequence[Tag], text: str, lexicon: Lexicon) -> Iterator[Finding]:
    """A mock-up of an area, of the goods that come by the area, where the text speaks of these, and with them of all others that its own
    clause names by a word of its work; a coat on a part of the work takes none.
    """
    goods = lexicon.implies.get("sheet", "")
    if not any((t.name, t.value) == ("subject", goods) for t in around):
        return
    said = text[tags[0].start : tags[-1].end].lower()
    more = {of for of, words in _made_with(lexicon.vocabularies) if words.search(said)}
    taken = [Word(one, FoundBy.FACT) for one in (goods, *sorted(more - {goods}))]
    for at, tag in enumerate(tags[:-1]):
        unit = tags[at + 1].unit
        if tag.name == "NUMBER" and tag.number and tags[at + 1].name == "AREA_UNIT" and unit is not None and goods:
            found = _finding(tags, at, at + 2, Quantity(Fraction(tag.number), unit), taken)
            found.scope["note"] = "mock-up"
            yield found
        elif goods and (sided := _by_sides(tags, at)) is not None:
            amount, end = sided
            found = _finding(tags, at, end, amount, taken)
            found.scope["note"] = "mock-up"
            found.confirm = "It is told by its sides: one face of that size is counted."
            yield found


_LEAST_SIDE = 600
"""Millimetres that a side of a mock-up has at least: what is less is how thick or how wide something is. Common practice, no source."""


def _by_sides(tags: Sequence[Tag], at: int) -> tuple[Quantity, int] | None:
    """The area between two sides that begin at a tag, `8 ft by 10 ft`, and the tag behind them; None where none do, or where they are of a sheet."""
    first = _side(tags, at)
    by = first[2] if first is not None else len(tags)
    second = _side(tags, by + 1) if by < len(tags) and tags[by].name in ("BY", "BY_X") else None
    if first is None or second is None or second[1] is None:
        return None
    end = second[2]
    if end < len(tags) and (tags[end].name == "CONTAINER" or tags[end].name in ("BY", "BY_X")):
        return None
    unit, other = first[1] or second[1], second[1]
    if min(first[0] * unit.factor, second[0] * other.factor) < _LEAST_SIDE * UNITS["mm"].factor:
        return None
    area = UNITS["sq ft" if other.system == "us" else "m2"]
    return Quantity(first[0] * unit.factor * second[0] * other.factor / area.factor, area), end


def _side(tags: Sequence[Tag], at: int) -> tuple[Fraction, Unit | None, int] | None:
    """A number at a tag with its unit of length, if it has one, and the tag behind."""
    tag = tags[at] if at < len(tags) else None
    if tag is None or tag.name not in ("NUMBER", "FEET_INCHES") or not tag.number:
        return None
    if tag.name == "FEET_INCHES":
        return tag.number, tag.unit, at + 1
    behind = tags[at + 1] if at + 1 < len(tags) else None
    if behind is not None and behind.name == "LENGTH_UNIT":
        return tag.number, behind.unit, at + 2
    return tag.number, None, at + 1


@lru_cache(8)
def _made_with(vocabularies: tuple[Vocabulary, ...]) -> tuple[tuple[str, re.Pattern[str]], ...]:
    """Goods that a mock-up takes too, each with the words that say so."""
    told = [pair for v in vocabularies for pair in v.tables.get("mock_up", {}).items()]
    return tuple((of, re.compile(rf"(?<![a-z])(?:{any_phrase(strings(words))})(?![a-z])")) for of, words in told)


def _finding(tags: Sequence[Tag], start: int, end: int, amount: Quantity, subjects: list[Word]) -> Finding:
    fact = Fact(SPARE, amount, start=start, end=end, place=tags[start].start, over=tags[end - 1].end)
    return Finding(fact, SPARE, amount, subjects=subjects)
