"""From a measured need to what is ordered: waste added, and packages chosen from the sizes on offer, whatever the goods.

The rounding up to whole packages itself is `LineItem.order`."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from attrs import evolve, frozen

from darby.estimate.line_item import LineItem
from darby.job.model import Price
from darby.quantities.amounts import Amount, total
from darby.quantities.package_mix import mix
from darby.quantities.plurals import plural
from darby.quantities.units import AREA, NUMBER_ONLY
from darby.rules.answer import Answer
from darby.rules.consultation import Consultation
from darby.rules.name_matching import plain
from darby.rules.rule import Rule
from darby.rules.systems import SYSTEM

SINGLY = Amount.of(1)
"""The package of goods that are counted one by one."""


@frozen(eq=False)
class Packing:
    """The package a need is ordered in, as a rate (64 lb/pail), with the rules behind it and what should be known of it.

    `package` is None where nobody says, or where every package said is in another measure than the need. `part` is the
    share of the need that goes into this package; None where all of it does.
    """

    package: Amount | None
    rules: tuple[Rule, ...] = ()
    notes: tuple[str, ...] = ()
    part: Amount | None = None


def with_waste(need: Amount, waste: Answer | None, label: str, name: str = "waste") -> Amount:
    """The need, called `label`, with a share for waste added as steps of its own where an answer gives one above zero.

    `name` is what the share is called in the working. The unit of the need stays.
    """
    if waste is None or not waste.amount:
        return need.named(label)
    net = need.named(f"{label}, before {name}")
    return (net + (net * waste.amount).named(f"{name} on {label}")).named(label)


def pack(
    need: Amount, product: str, book: Consultation, about: Mapping[str, str] | None = None, *, take: Iterable[str] = ()
) -> Packing:
    """The one package size for a need of `product`.

    Of several sizes the one that leaves least over, then the one that needs fewest packages. A count that nobody packs is
    ordered singly. A silence, and a package that cannot be told in the measure of the need, raise the question; the packing
    then has no `package`.
    """
    offers = book.book.all("package", product, about, take=take)
    fitting = [o for o in offers if o.rule.amount.unit.dimension == need.unit.dimension]
    if not fitting:
        return _unpacked(need, product, book, about, offers)
    best = min(fitting, key=lambda offer: _left_over(need, offer.rate))
    left = (offer.rule for offer in offers if offer is not best)
    book.use(evolve(best, beaten=(*left, *best.beaten)))
    return Packing(best.rate, (best.rule,))


def packs(
    need: Amount,
    product: str,
    book: Consultation,
    about: Mapping[str, str] | None = None,
    *,
    take: Iterable[str] = (),
    prices: Iterable[Price] = (),
) -> tuple[Packing, ...]:
    """The packages for a need of `product`: one size, or a mix of those on offer, the largest first.

    The mix that covers the need at least cost where the price of every size is known, else with least left over; of
    equals the fewest packages. Each packing of a mix takes its `part` of the need, and the parts add up to it. Silences
    are met as by `pack`.
    """
    offers = book.book.all("package", product, about, take=take)
    fitting = [o for o in offers if o.rule.amount.unit.dimension == need.unit.dimension]
    if not fitting:
        return (_unpacked(need, product, book, about, offers),)
    fitting.sort(key=lambda o: o.rate.size, reverse=True)
    if not need:
        return (pack(need, product, book, about, take=take),)
    costs = costs_of(product, fitting, prices)
    counts = mix(need.size, [o.rate.size for o in fitting], costs)
    taken = [(offer, count) for offer, count in zip(fitting, counts, strict=True) if count]
    left = [o.rule for o in offers if all(o is not offer for offer, _ in taken)]
    notes: tuple[str, ...] = ()
    if costs:
        notes = (f"Sizes of {product} are chosen by the prices of the job.",)
    elif any(_priced(p, product) for p in prices):
        notes = (f"Not every size of {product} has a price in the job: sizes are chosen by what is left over.",)
    found: list[Packing] = []
    rest = need
    for number, (offer, count) in enumerate(taken):
        book.use(evolve(offer, beaten=(*left, *offer.beaten)))
        rate = offer.rate
        if len(taken) == 1:
            return (Packing(rate, (offer.rule,), notes),)
        if number < len(taken) - 1:
            full = rate * Amount.settled(count, rate.unit.under[0], label="packages, filled")
            part = full.to(need.unit).named(f"in {_size(rate)}s")
            rest = rest - part
        else:
            part = rest.named(f"left for {_size(rate)}s")
        found.append(Packing(rate, (offer.rule,), notes, part))
    return tuple(found)


def ordered(
    product: str,
    need: Amount,
    book: Consultation,
    pool: Mapping[str, str],
    *,
    about: Mapping[str, str] | None = None,
    take: Iterable[str] = (),
    rules: Iterable[Rule] = (),
    notes: Iterable[str] = (),
    prices: Iterable[Price] = (),
) -> Iterator[LineItem]:
    """A need as line items: one, or one for each size of a mix, told apart by `package` in the pool.

    The package is asked for under `about`, else under `pool`; `take` are keys that describe it. `rules` and `notes` go with
    every item, each once. Sizes are chosen as by `packs`.
    """
    packings = packs(need, product, book, pool if about is None else about, take=take, prices=prices)
    rules, notes = tuple(rules), tuple(notes)
    for packing in packings:
        apart = {} if packing.part is None or packing.package is None else {"package": _size(packing.package)}
        yield LineItem(
            product, need if packing.part is None else packing.part, {**pool, **apart}, packing.package,
            rules=tuple(dict.fromkeys((*rules, *packing.rules))), notes=tuple(dict.fromkeys((*notes, *packing.notes))),
        )  # fmt: skip


def costs_of(product: str, offers: Sequence[Answer], prices: Iterable[Price]) -> list[Fraction] | None:
    """The price of each package on offer, also of goods that are not simply packed; None where the job does not price them all."""
    known = {p.package: p.price.value for p in prices if _priced(p, product)}
    costs = [known.get(offer.rule.amount) for offer in offers]
    return None if None in costs else [cost for cost in costs if cost is not None]


def _priced(price: Price, product: str) -> bool:
    return price.product.casefold() == product.casefold()


SPARE = "spare"
"""The kind of rules that leave goods with the owner, beside what the work takes; of a mock-up its `note` says so."""
USE = "use"
"""The key of a pool that keeps what is left apart from what the work takes."""
_NOT_SORTS = ("package", "measure", "surface")
"""What keeps lines apart and is no sort of goods."""


def spare_lines(
    product: str,
    items: Iterable[LineItem],
    book: Consultation,
    on: Callable[[LineItem], Collection[str]] | None = None,
    *,
    over: Callable[[Sequence[LineItem]], Amount] | None = None,
    along: str = "",
) -> Iterator[LineItem]:
    """What documents want to have left of a product, whole packages and a line for each sort of it, from the lines that order it.

    `10 extra sheets of each type` are ten of each, `5 %` a share of each, `1 gal of each color` the package that leaves least over. A mock-up is
    built once, of the sort of which most is ordered. `on` says on which kinds of surface the goods of a
    line go, as what is left may be of one kind alone. `over` says over what area some lines go, where their need is none: a mock-up of an area
    then takes as much of them as the lines take of it; `along` names goods in whose mock-up they are used.
    """
    sorts: dict[tuple[tuple[str, str], ...], list[LineItem]] = {}
    for item in items:
        if item.product == product:
            sort = tuple((key, said) for key, said in item.pool.items() if key not in _NOT_SORTS)
            sorts.setdefault(sort, []).append(item)
    most = max(sorts, key=lambda sort: sum(item.need.size for item in sorts[sort]), default=None)
    for sort, lines in sorts.items():
        about = {key: said for key, said in sort if key != "length"}
        kinds = sorted({kind for line in lines for kind in on(line)}) if on is not None else [""]
        answers: dict[tuple[object, ...], Answer] = {}
        for kind in kinds:
            for answer in book.book.all(SPARE, product, {**about, "surface": kind}, take=("note",)):
                answers.setdefault(
                    (answer.rule.span.start, answer.amount), answer
                )  # one clause may mean it by several looks
        for answer in book.book.all(SPARE, along, about, take=("note",)) if along else ():
            if answer["note"]:
                answers.setdefault((answer.rule.span.start, answer.amount), answer)
        for answer in answers.values():
            once = bool(answer["note"])
            if (once and sort != most) or not _of_system(answer.rule, lines):
                continue
            book.use(answer)
            purpose = {USE: answer["note"] or "spare stock"}
            need, package = _spare(answer, lines, product, book, about, over)
            if need is not None:
                only = ": of a mock-up, what its clause names is ordered, and what that is put up with" if once else ""
                at = answer.rule.span
                clause = f"{at.source.name}, {at.where}, asks for it{only}."
                yield LineItem(product, need, {**dict(sort), **purpose}, package, rules=(answer.rule,), notes=(clause,))


def _of_system(spare: Rule, lines: Iterable[LineItem]) -> bool:
    """Whether what is left is of a system, by its mark, that some of the lines come from; or of none."""
    mark = spare.scope.get(SYSTEM, "")
    marks = {plain(rule.scope.get(SYSTEM, "")) for line in lines for rule in line.rules} if mark else ()
    return not mark or plain(mark) in marks


def _spare(
    answer: Answer,
    lines: Sequence[LineItem],
    product: str,
    book: Consultation,
    about: Mapping[str, str],
    over: Callable[[Sequence[LineItem]], Amount] | None = None,
) -> tuple[Amount | None, Amount | None]:
    """How much is left of one sort, and in which package; None where what is asked for cannot be told in its measure."""
    amount, unit = answer.amount, lines[0].need.unit
    offers = [line.package for line in lines if line.package is not None and line.container == amount.unit.name]
    if amount.unit.dimension == unit.dimension and amount.unit.name != "%":
        need = amount.to(unit).named(SPARE)
    elif amount.unit.name == "%":
        parts = [line.need for line in lines]
        whole = parts[0] if len(parts) == 1 else sum(parts[1:], start=parts[0])
        need = (whole * amount).to(unit).named(SPARE)
    elif amount.unit.dimension == AREA and (taken := _taken(amount, lines, over)) is not None:
        need = taken
    elif offers:
        return (amount * offers[0]).to(unit).named(SPARE), offers[0]
    else:
        book.miss("package", product, about)
        return None, None
    if len(lines) == 1 and lines[0].package is not None:
        return need, lines[0].package
    return need, pack(need, product, book, about).package


def _taken(
    area: Amount, lines: Sequence[LineItem], over: Callable[[Sequence[LineItem]], Amount] | None
) -> Amount | None:
    """What an area takes of one sort, as much as its lines take on the average; None where it is not known over what these go."""
    alike = [line for line in lines if line.need.unit.dimension == lines[0].need.unit.dimension]
    whole = over(alike) if over is not None else None
    if not whole:
        return None
    each = (total((line.need for line in alike), "all of it") / whole).named("what an area takes")
    return (area * each).to(alike[0].need.unit).named(SPARE)


def _size(package: Amount) -> str:
    """`5 gal pail`."""
    content = Amount.of(package.value, package.unit.over[0] if package.unit.over else "each").exact()
    return f"{content} {package.unit.under[0].name}"


def _unpacked(
    need: Amount, product: str, book: Consultation, about: Mapping[str, str] | None, offers: Sequence[Answer]
) -> Packing:
    """What is left to do where no package fits: goods that are counted come singly, others not at all."""
    book.miss("package", product, about)
    rules = tuple(offer.rule for offer in offers)
    notes = tuple(
        f"A package of {product} is given as {rule.says()} and the need in {need.unit}: the two cannot be converted."
        for rule in rules
    )
    if need.unit.dimension == NUMBER_ONLY:
        return Packing(
            SINGLY, rules, (*notes, f"No package size is given for {plural(product)}: they are ordered by the piece.")
        )
    return Packing(None, rules, notes)


def _left_over(need: Amount, package: Amount) -> tuple[Amount, Fraction]:
    """What is left over, then the number of packages, whatever they are called."""
    count = (need / package).round_up()
    return count * package - need, count.value
