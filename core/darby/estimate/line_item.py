"""Line items: what one trade orders, why, and in which packages."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from fractions import Fraction
from functools import cached_property

from attrs import field, frozen

from darby.estimate.attachments import Attachment, none
from darby.quantities.amounts import Amount, leaves
from darby.rules.rule import Rule, Scope


def _scope(value: object) -> Scope:
    return value if isinstance(value, Scope) else Scope(value)  # type: ignore[arg-type]


def dashed(text: str) -> str:
    """A text as ids have it, so that what differs in capitals and hyphens alone is bought together: `type-x`."""
    return "-".join(text.lower().split())


class Aside(str):
    """A note that explains a line and asks for nothing: a terminal shows its word alone until notes are asked for."""

    word: str
    """What it is about, in a word or two."""

    def __new__(cls, word: str, text: str) -> Aside:
        """A note that opens with its word: `Weight: 12 bags, 600 lb.`"""
        made = super().__new__(cls, f"{word}: {text}")
        made.word = word
        return made

    def __reduce__(self) -> tuple[type[Aside], tuple[str, str]]:
        """Word and text, by which another process makes it again."""
        return Aside, (self.word, self.removeprefix(f"{self.word}: "))


@frozen(eq=False, slots=False)
class LineItem:
    """One product to order. `need` is exact; `order` is whole packages, rounded up once.

    `pool` holds what keeps this product apart from others of its name (thickness, sheen, color): items of one product
    and one pool are bought together. `package` is the content of one package as a rate in the measure of `need`
    (64 lb/pail, 32 sq ft/sheet), as `Rule.rate` of a package rule gives it; None where nobody says and the need alone
    is known. `rules` shaped the item beyond the numbers in its working, as a sheet size chosen by its thickness.
    """

    product: str
    """What is ordered, by its canonical name."""
    need: Amount
    pool: Scope = field(factory=Scope, converter=_scope)
    package: Amount | None = None
    trade: str = ""
    """Filled in by the core."""
    rules: tuple[Rule, ...] = ()
    notes: tuple[str, ...] = ()
    """What whoever checks the item should know, one sentence each; an `Aside` where it only explains."""
    attachments: Callable[[], Iterable[Attachment]] = field(default=none, repr=False)
    """Tables and drawings that go with it; made only where a document shows them, and the same each time."""

    @cached_property
    def numbers(self) -> tuple[Amount, ...]:
        """The numbers that somebody said of which the need is made, then those of the package, in order of first use. Of a large job
        there are many, and what a line rests on is asked again and again.
        """
        return (*leaves(self.need), *(leaves(self.package) if self.package is not None else ()))

    @property
    def container(self) -> str:
        """What a package is, as `pail`; nothing where the package is unknown."""
        return self.package.unit.under[0].name if self.package is not None and self.package.unit.under else ""

    @property
    def id(self) -> str:
        """A stable name within the estimate: trade, product and pool."""
        parts = [self.trade, self.product, *(str(v) for v in self.pool.values())]
        return ":".join(dashed(p) for p in parts if p)

    @property
    def order(self) -> Amount | None:
        """Whole packages, with the working that ends in the one rounding; None where the package is unknown."""
        if self.package is None:
            return None
        return (self.need / self.package).round_up().named("order")

    @property
    def count(self) -> int | None:
        """Number of packages to order."""
        order = self.order
        return None if order is None else int(Fraction(order.value))
