"""What the words of a price list mean, by the same vocabularies that read the documents: goods, their properties, packages."""

from __future__ import annotations

import re
from collections.abc import Hashable, Mapping
from fractions import Fraction
from functools import cached_property, lru_cache

from attrs import evolve, field, frozen

from darby.bid.prices.descriptions import MEASURES, Form, Meant, describes, form_of
from darby.bid.prices.shapes import FREE, Shapes
from darby.estimate.line_item import dashed
from darby.quantities.amounts import Amount
from darby.quantities.units import LENGTH, UNITS, UnitError
from darby.reading.parsing.lexicon import Lexicon

_BETWEEN = re.compile(r"\s{0,4}[x×]\s{0,4}|\s{1,4}by\s{1,4}", re.IGNORECASE)
_LEAST = re.compile(r"(?P<amount>.{1,40}?) or (?:longer|more|larger|thicker)", re.IGNORECASE)
_BARE = re.compile(r"[0-9][0-9.,/]*")
"""A number without a unit: it measures nothing."""
_LONGEST = 200
_SINGLY = frozenset({"each", "ea", "ea.", "piece", "pc", "pcs", "unit"})
_KEPT = 1 << 16
_THICK_BEHIND = re.compile(
    r"(?P<sides>\d{1,2}\s?[x×]\s?\d{1,2})\s{1,3}(?P<thin>\d{1,2}/\d{1,2}\s?(?:in(?:ch)?\.?|\"|”|″))", re.IGNORECASE
)
"""A size in plain feet, and how thick behind it: nothing sold in sheets is 4 by 8 1/2 in."""
_LOAD = re.compile(r"(?P<load>[a-z]{3,20}) of (?P<many>[1-9][0-9]{0,2},[0-9]{3}|[1-9][0-9]{0,5}) (?P<one>[^ ].{1,60})")
_LETTERS = re.compile(r"[a-z]+")


@frozen(slots=False)
class Package:
    """What a price is for: a package with what it holds, as far as the list says; or, with `per`, so much of the goods."""

    content: Amount | None
    container: str = ""
    """`pail`; nothing where the list does not say, or the goods come singly."""
    per: bool = False
    singly: bool = False
    many: int = 1
    """How many such are sold together, as on a pallet: the price is for all of them."""
    load: str = ""
    """What holds so many: `pallet`."""

    @cached_property
    def key(self) -> Hashable:
        """What it is, however it is spelled."""
        held = _meant(self.content) if self.content is not None else None
        return (held, self.container, self.per, self.singly, self.many)

    def __str__(self) -> str:
        if self.singly:
            return "each"
        held = self.content.exact() if self.content is not None else ""
        said = f"per {held}" if self.per else " ".join(filter(None, (held, self.container)))
        return f"{self.load} of {self.many} × {said}" if self.load else said


@frozen
class Goods:
    """What the words for some goods say: the product, what is said of it by its key, sizes without one, and strange words."""

    product: str
    named: Mapping[str, Meant] = field(factory=dict)
    sizes: tuple[Meant, ...] = ()
    strange: tuple[str, ...] = ()


class Meanings:
    """Reads the cells of price lists; each spelling once, however many rows have it."""

    def __init__(self, lexicon: Lexicon, units: str) -> None:
        self._lexicon = lexicon
        self._bare = "ft" if units == "us" else "mm"
        self.of = lru_cache(_KEPT)(self._of)
        self.goods = lru_cache(_KEPT)(self._goods)
        self.package = lru_cache(_KEPT)(self._package)
        self._measures = lru_cache(_KEPT)(self._measured)
        self._forms: dict[str, Form | None] = {}

    def _of(self, text: str) -> Meant:
        """What a property comes to: `5/8"` and `0.625 in` are one, `Semigloss` and `semi-gloss`, `4x12 ft` and `4 ft x 12 ft`."""
        text = text.strip()[:_LONGEST]
        if (measured := self._measure(text)) is not None:
            return measured
        tags = self._lexicon.tags(text)
        if len(tags) == 1 and describes(tags[0]) and (tags[0].start, tags[0].end) == (0, len(text)):
            return ("word", dashed(tags[0].value))
        return ("word", dashed(text))

    def _measure(self, text: str) -> Meant | None:
        if _BARE.fullmatch(text):
            return None
        if (size := self._size(text)) is not None:
            return size
        if (amount := _amount(text)) is not None:
            return _meant(amount)
        if (least := _LEAST.fullmatch(text)) is not None and (amount := _amount(least["amount"])) is not None:
            return ("at least", _meant(amount)[1])
        return None

    def _size(self, text: str) -> Meant | None:
        parts = _BETWEEN.split(text)
        if len(parts) != 2 or not all(any(c.isdigit() for c in part) for part in parts):
            return None
        last = _amount(parts[1]) or _amount(f"{parts[1]} {self._bare}")
        unit = last.unit.name if last is not None else self._bare
        first = _amount(parts[0]) or _amount(f"{parts[0]} {unit}")
        if first is None or last is None or first.unit.dimension != LENGTH or last.unit.dimension != LENGTH:
            return None
        return ("size", f"{first.size} by {last.size}")

    def _goods(self, text: str) -> Goods:
        """The goods that a description means; without a product where it names none, or two."""
        text = text[:_LONGEST]
        form = self._form(text)
        return Goods(*form.read(text, self._measures)) if form is not None else Goods("")

    def _form(self, text: str) -> Form | None:
        """The form of a description, found once for all that differ in their numbers alone; None where it names no goods: most rows of a
        supplier's catalogue are of the goods of others, and these are not taken apart."""
        shape, plain = self._shapes.of(text), FREE not in text
        if plain and shape in self._forms:
            return self._forms[shape]
        form, shared = None, True
        if not self._beginnings.isdisjoint(_LETTERS.findall(text.lower())):
            form, shared = form_of(text, shape, self._lexicon)
        if plain and shared:
            if len(self._forms) >= _KEPT:
                self._forms.clear()
            self._forms[shape] = form
        return form

    @cached_property
    def _shapes(self) -> Shapes:
        stock = self._lexicon.stock
        return Shapes((*stock.phrases, *stock.after_number, *stock.after_unit))

    @cached_property
    def _beginnings(self) -> frozenset[str]:
        """The first letters of every name of goods: what has none of them names none."""
        names = (
            phrase for phrase, (terminal, _) in self._lexicon.stock.phrases.items() if "subject" in terminal.split()
        )
        return frozenset(word[0] for name in names if (word := _LETTERS.search(name)) is not None)

    def _measured(self, text: str) -> tuple[Meant, ...]:
        """What a run of numbers measures: a length, two sides, or two sides and how thick, as merchants write it: `4x8x1/2`, `4x8 1/2 in`,
        `12.5 x 1200 x 2400`. Nothing where that cannot be told."""
        if self._bare == "ft" and (thick := _THICK_BEHIND.fullmatch(text)) is not None:
            text = f"{thick['sides']} x {thick['thin']}"
        parts = _BETWEEN.split(text)
        if len(parts) != 3:
            said = self._measure(text)
            return (said,) if said is not None else ()
        for thin, sides in ((parts[2], parts[:2]), (parts[0], parts[1:])):
            amount = _amount(thin) or _amount(f"{thin} {'in' if self._bare == 'ft' else self._bare}")
            size = self._size(" x ".join(sides))
            if amount is None or size is None or amount.unit.dimension != LENGTH:
                continue
            if all(amount.size < Fraction(side) for side in size[1].split(" by ")):
                return (_meant(amount), size)
        return ()

    def _package(self, text: str) -> Package | None:
        """The package that a cell names, or None: `64 lb pail`, `box of 1,000`, `sheet`, `5 gal`, `each`, `per 1,000 sq ft`,
        `pallet of 60 sheets`."""
        text = " ".join(text.split())[:_LONGEST]
        low = text.lower()
        if low in _SINGLY:
            return Package(None, singly=True)
        if not self._loads.isdisjoint(_LETTERS.findall(low)):
            return self._loaded(low)
        per = low.startswith("per ")
        tags = [t for t in self._lexicon.tags(text) if t.name != "PER"]
        if self._lexicon.strangers(tags, text):
            return None
        containers = [t.value for t in tags if t.name == "CONTAINER"]
        numbers = [t for t in tags if t.name == "NUMBER" and t.number is not None and t.number > 0]
        units = [t for t in tags if t.name in MEASURES]
        others = [
            t
            for t in tags
            if t not in numbers and t not in units and t.name not in ("CONTAINER", "OF", "COMMA", "STOP")
        ]
        if others or len(containers) > 1 or len(numbers) > 1 or len(units) > 1 or (units and not (numbers or per)):
            return None
        content = None
        if numbers and numbers[0].number is not None:
            content = Amount.of(numbers[0].number, units[0].unit if units and units[0].unit is not None else "each")
        elif per and units and units[0].unit is not None:
            content = Amount.of(1, units[0].unit)
        if content is None and not containers:
            return None
        return Package(content, containers[0] if containers else "", per=per and not containers)

    @cached_property
    def _loads(self) -> frozenset[str]:
        return self._lexicon.words_of("loads")

    def _loaded(self, low: str) -> Package | None:
        """So many packages that are sold together; None where it does not say how many, or of what."""
        said = _LOAD.fullmatch(low)
        one = self.package(said["one"]) if said is not None and said["load"] in self._loads else None
        if said is None or one is None or not one.container or one.load:
            return None
        return evolve(one, many=int(said["many"].replace(",", "")), load=said["load"])


def meets(asked: Meant, said: Meant) -> bool:
    """Whether what a list says is what is ordered: the same, or as much where the order asks for so much at least."""
    if asked[0] != "at least" or said[0] != "amount":
        return asked == said
    (what, least), (measured, size) = asked[1].rsplit(" ", 1), said[1].rsplit(" ", 1)
    return what == measured and Fraction(size) >= Fraction(least)


def _amount(text: str) -> Amount | None:
    try:
        return Amount.read(text)
    except UnitError:
        return None


def _meant(amount: Amount) -> Meant:
    return ("amount", f"{amount.unit.dimension} {amount.size}")


def contained(package: Amount) -> tuple[Amount, str]:
    """What one package of an order holds, and what it is called: of 64 lb/pail, 64 lb and `pail`."""
    over, under = package.unit.over_parts, package.unit.under
    unit = over[0] if over and over[0].dimension else UNITS["each"]
    return Amount.of(package.value, unit), under[0].name if under else ""
