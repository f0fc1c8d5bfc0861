"""How many coats or layers, in numbers, ordinals and words that count by themselves."""

from __future__ import annotations

from fractions import Fraction

from darby.api import EACH, Fact, Quantity, Tag
from darby_grammars.parts import ONE, Parts, counted_fact, first_of


class Counts:
    """One method for each rule of the grammar that counts coats or layers."""

    def adjective(self, parts: Parts) -> dict[str, str]:
        """Words between the number and its noun, as in `two finish coats`."""
        return {part.name: part.value for part in parts}

    def coats(self, parts: Parts) -> Fact:
        """`two coats`."""
        return counted_fact(parts, "coats")

    def ordinal_coat(self, parts: Parts) -> Fact:
        """`second coat`: one coat, and which."""
        ordinal = first_of(parts, Tag, "ORDINAL")
        words: dict[str, str] = next((p for p in parts if isinstance(p, dict)), {})
        noun = next((p.value for p in parts if isinstance(p, Tag) and p.name == "COAT"), "")
        subject = words.get("subject", noun)
        return Fact("coats", Quantity(ONE, EACH), scope=(("coat", ordinal.value),), subject=subject)

    def ordinal_coats(self, parts: Parts) -> Fact:
        """`second and third coats`: two, and which."""
        return Fact("coats", Quantity(Fraction(2), EACH), scope=(("coat", f"{parts[0].value} and {parts[2].value}"),))

    def coat_after(self, parts: Parts) -> Fact:
        """`Second coat: 4 hours`: when it may follow."""
        return Fact("", why=parts[-1].value)

    def ordinal_row(self, parts: Parts) -> Fact:
        """`First`, alone: the key of a row of coats, or a word of running text."""
        return Fact("ordinal", Quantity(ONE, EACH), scope=(("coat", parts[0].value),))

    def a_coat(self, _parts: Parts) -> Fact:
        """`a coat of`."""
        return Fact("coats", Quantity(ONE, EACH))

    def done(self, parts: Parts) -> Tag:
        """What is put on, as a noun or a verb: `prime`, `painted`."""
        return parts[0]  # type: ignore[no-any-return]

    def coats_times(self, parts: Parts) -> Fact:
        """`prime once`, `paint walls twice`."""
        applied, times = parts[0], parts[-1]
        subject = applied.value if applied.name in ("subject", "APPLIED") else ""
        return Fact("coats", Quantity(Fraction(times.value), EACH), subject=subject)

    def a_layer(self, parts: Parts) -> Fact:
        """`a single layer`, `double-layer gypsum board`: the word says how many."""
        subject = next((p.value for p in parts if p.name == "subject"), "")
        return Fact("layers", Quantity(Fraction(parts[0].value), EACH), subject=subject)

    def layers(self, parts: Parts) -> Fact:
        """`two layers`."""
        return counted_fact(parts, "layers")
