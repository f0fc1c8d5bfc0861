"""Mark-ups: what is put on top of the cost, in the order in which it is written, each once and each shown with what it is taken of.

`Sales tax: 8.25 % of material.` `Lift: 640.` `Overhead: 10 % of everything above.` `Bond: 12 per 1,000 of everything above.` A line may
take its share of any line above it by its name. What stands above all of them: material, deliveries, labor, allowances.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from fractions import Fraction

from attrs import frozen

from darby.bid.prices.money import Currency, money_of, spelled
from darby.bid.terms import Said
from darby.documents.words import listed
from darby.job.rows.sheet import shown
from darby.quantities.numerals import value_of
from darby.text.diagnostics import Diagnostic, Label, problem
from darby.text.files import nearest
from darby.text.spans import Span

MATERIAL, DELIVERIES, LABOR, ALLOWANCES = "material", "deliveries", "labor", "allowances"
DIRECT = (MATERIAL, DELIVERIES, LABOR, ALLOWANCES)
"""The cost itself, which stands above every mark-up."""
MINIMUM = "minimum charge"
_ABOVE = frozenset({"everything above", "all above", "the above", "the sum above", "all of the above"})
_SHARE = re.compile(
    r"\s{0,4}(?P<number>[0-9][0-9.,]{0,14})\s{0,4}(?:(?P<percent>%|percent|per cent)|per\s{1,3}(?P<per>[0-9][0-9,]{0,14}))\s{1,4}(?:of|on)"
    r"\s{1,4}(?P<base>[^.]{1,200}?)\s*\.?\s*",
    re.IGNORECASE,
)
_BETWEEN = re.compile(r"\s*,\s*(?:and\s+)?|\s+and\s+|\s*\+\s*", re.IGNORECASE)
_HOW = 'Write it as "Overhead: 10 % of everything above." or "Lift: 640."'


@frozen(eq=False)
class Markup:
    """One line: a share of what it is taken of, or a sum."""

    label: str
    span: Span
    share: Fraction | None = None
    of: tuple[str, ...] = ()
    """The lines that it is a share of; empty where it is of everything above."""
    sum: Fraction = Fraction(0)


@frozen(eq=False)
class Added:
    """A mark-up worked out: its line, what it was taken of, and what came of it."""

    label: str
    said: str
    """How it was reckoned, in a few words: `10 % of 12,450.00`."""
    sum: Decimal
    base: Decimal | None = None
    share: Fraction | None = None
    of: tuple[str, ...] = ()
    """The lines it was taken of, by name."""
    span: Span | None = None


def read_markups(lines: Iterable[Said]) -> tuple[tuple[Markup, ...], tuple[Diagnostic, ...]]:
    """The mark-ups of a bid, in order. A line that is not understood, or stands twice, is an error."""
    found: dict[str, Markup] = {}
    wrong: list[Diagnostic] = []
    for text, span in lines:
        label, _, said = (part.strip() for part in text.partition(":"))
        key = label.casefold()
        if not label or not said:
            wrong.append(problem("markup-line", f"{shown(text) or 'an empty line'} is no mark-up", span, help=_HOW))
        elif key in found or key in DIRECT or key == MINIMUM:
            more = [Label(found[key].span, "the first one")] if key in found else []
            help_ = "Each is put on once; where two are meant, give each its name."
            wrong.append(
                problem("markup-line", f"{shown(label)} stands in the bid already", span, help=help_, more=more)
            )
        elif isinstance(made := _markup(label, said, span, found), Diagnostic):
            wrong.append(made)
        else:
            found[key] = made
    return tuple(found.values()), tuple(wrong)


def _markup(label: str, said: str, span: Span, above: Mapping[str, Markup]) -> Markup | Diagnostic:
    match = _SHARE.fullmatch(said)
    if match is None:
        money = money_of(said.rstrip(" ."))
        if money is None or money[0] <= 0:
            return problem(
                "markup-line", f"{shown(said)} is neither a share of something nor a sum above zero", span, help=_HOW
            )
        return Markup(label, span, sum=money[0])
    number, per = value_of(match["number"]), value_of(match["per"]) if match["per"] else Fraction(100)
    if number is None or not per or number <= 0:
        return problem("markup-line", f"{shown(said)} is no share above zero", span, help=_HOW)
    if match["base"].casefold() in _ABOVE:
        return Markup(label, span, number / per)
    names = [part.casefold() for part in _BETWEEN.split(match["base"].strip()) if part]
    known = (*DIRECT, *above)
    for name in names:
        if name not in known:
            near = nearest(name, known)
            help_ = (
                f"Did you mean {near}? " if near else ""
            ) + f"It is taken of everything above, or of: {', '.join(known)}."
            return problem("markup-line", f"nothing above {shown(label)} is called {shown(name)}", span, help=help_)
    if len(set(names)) < len(names):
        return problem("markup-line", f"{shown(label)} is taken of one thing twice", span, help="Name each once.")
    return Markup(label, span, number / per, tuple(names))


def put_on(
    direct: Mapping[str, Decimal], markups: Sequence[Markup], minimum: Fraction, currency: Currency
) -> tuple[Added, ...]:
    """Every mark-up in its order, each rounded once; then what is missing to the minimum charge, where anything is."""
    sums = dict(direct)
    out: list[Added] = []
    for one in markups:
        if one.share is None:
            added = Added(one.label, "a sum", currency.rounded(one.sum), span=one.span)
        else:
            of = one.of or tuple(sums)
            base = currency.total(sums[name] for name in of)
            said = f"{spelled(one.share * 100)} % of {listed(one.of) if one.of else 'everything above'}, {currency.shown(base)}"
            added = Added(one.label, said, currency.rounded(one.share * Fraction(base)), base, one.share, of, one.span)
        sums[one.label.casefold()] = added.sum
        out.append(added)
    so_far = currency.total(sums.values())
    least = currency.rounded(minimum)
    if minimum and so_far < least:
        out.append(Added(MINIMUM.capitalize(), f"up to {currency.shown(least)}", least - so_far))
    return tuple(out)


def read_allowances(lines: Iterable[Said]) -> tuple[tuple[tuple[str, Fraction, Span], ...], tuple[Diagnostic, ...]]:
    """Sums that are set aside for what cannot be measured yet: `Patching old ceilings: 1,500.` Each a label and a sum."""
    found: dict[str, tuple[str, Fraction, Span]] = {}
    wrong: list[Diagnostic] = []
    for text, span in lines:
        label, _, said = text.rpartition(":")
        money = money_of(said.rstrip(" ."))
        label = label.strip()
        if not label or money is None or money[0] <= 0:
            help_ = 'Write it as "Patching old ceilings: 1,500."'
            wrong.append(
                problem("markup-line", f"{shown(text) or 'an empty line'} is no allowance above zero", span, help=help_)
            )
        elif label.casefold() in found:
            wrong.append(
                problem(
                    "markup-line", f"the allowance {shown(label)} stands twice", span, help="Put both into one sum."
                )
            )
        else:
            found[label.casefold()] = (label, money[0], span)
    return tuple(found.values()), tuple(wrong)
