"""Rules made by hand, for tests of what comes after the reader."""

from __future__ import annotations

from darby.quantities.amounts import Amount, Origin
from darby.rules.rule import SPECIFICATION, Layer, Rule
from darby.text.spans import Source, Span
from darby_grammars.kinds import KINDS


def rule(
    kind: str,
    subject: str,
    amount: str | Amount,
    per: str = "",
    *,
    layer: Layer = SPECIFICATION,
    by: str = "",
    upper: str = "",
    of_layer: str = "",
    file: str = "spec.txt",
    **scope: str,
) -> Rule:
    """A rule as the reader would make it: `rule("coverage", "primer", "250 sq ft", "1 gal", surface="wall")`.

    A bare number ("2") counts; `of_layer` is the scope's `layer`, the face or the base.
    """
    text = f"{subject}: {kind} {amount} {per}"
    if of_layer:
        scope["layer"] = of_layer
    span: Span = Source(file, text).span(0, len(text))
    origin = Origin(f"{file} {kind} {subject}", text, span, layer.name)

    def made(said: str) -> Amount:
        return Amount.of(int(said), "each", origin) if said.isdigit() else Amount.read(said, origin)

    return Rule(
        KINDS[kind], subject, scope, made(amount) if isinstance(amount, str) else amount, layer, span,
        per=made(per) if per else None, by=made(by) if by else None, upper=made(upper) if upper else None,
    )  # fmt: skip
