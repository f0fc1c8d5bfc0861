"""What was found to rules: one for each product, place and system that a finding is said of."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import product

from attrs import frozen

from darby.quantities.amounts import Amount, Origin
from darby.quantities.own_units import among
from darby.quantities.units import EACH
from darby.reading.binding.site.finding import Finding, Word
from darby.reading.layout.clause import Clause
from darby.reading.parsing.fact_parser import Quantity
from darby.rules.rule import Kind, Layer, Rule
from darby.text.spans import Span

_ONE = Quantity(Fraction(1), EACH)
"""What a choice counts: itself."""


@frozen(eq=False)
class RuleMaker:
    """Makes the rules of one document."""

    kinds: Mapping[str, Kind]
    layer: Layer

    def rules(self, finding: Finding, kind: Kind, span: Span, clause: Clause, cited: str) -> list[Rule] | None:
        """The rules of a finding; None where its units do not fit what it is said of."""
        quantity, per = finding.amount or _ONE, finding.per
        fits = among(quantity.unit.dimension, kind.amount) and (per is not None) == bool(kind.per)
        if not fits or (per is not None and not among(per.unit.dimension, kind.per)):
            return None
        places = finding.places or [("", surface) for surface in finding.surfaces] or [("", None)]
        apart = [("", surface, False) for surface in dict.fromkeys(s for _, s in places)] if finding.apart else []
        held = [*apart, *((room, surface, finding.apart) for room, surface in places)]
        return [
            self._rule(
                finding, kind, subject, surface,
                {"room": room, "mark": mark, "sheen": look, **({"where": ""} if there else {})}, span, clause, cited,
            )
            for subject, (room, surface, there), mark, look in product(
                finding.subjects, held, finding.marks or [""], finding.looks or [""]
            )
        ]  # fmt: skip

    def _rule(
        self, finding: Finding, kind: Kind, subject: Word, surface: Word | None, where: Mapping[str, str],
        span: Span, clause: Clause, cited: str,
    ) -> Rule:  # fmt: skip
        quantity, per, by = finding.amount or _ONE, finding.per, finding.fact.by
        scope = {**finding.scope, **{key: said for key, said in where.items() if said}}
        if where.get("where") == "":
            del scope["where"]
        if kind.per and subject is not finding.subjects[0]:
            scope.pop("coat", None)  # only the first is called after its coat
        how = [("subject", subject.how)]
        if surface is not None:
            scope["surface"] = surface.value
            how.append(("surface", surface.how))
        note = self.layer.name + (f", {cited}" if cited else "")
        key = f"{span} {kind.name} {surface.value if surface is not None else ''}".strip()
        origin = Origin(key, clause.view.whole.text.strip(), span, note)
        return Rule(
            kind, subject.value, scope, _amount(quantity, origin), self.layer, span,
            per=_amount(per, origin) if per else None,
            upper=Amount.of(quantity.high, quantity.unit, origin) if quantity.high is not None else None,
            by=_amount(by, origin) if by else None,
            bound=finding.bound, cited=cited, bound_by=(*how, *finding.how), choice=finding.choice, confirm=finding.confirm,
        )  # fmt: skip


def _amount(quantity: Quantity, origin: Origin) -> Amount:
    return Amount.of(quantity.low, quantity.unit, origin)
