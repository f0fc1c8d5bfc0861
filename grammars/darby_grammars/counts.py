"""How many coats or layers, in numbers, ordinals and words that count by themselves."""

from __future__ import annotations

from fractions import Fraction

from attrs import evolve

from darby.api import EACH, Fact, Quantity, Tag
from darby_grammars.parts import ONE, Parts, counted_fact, first_of, number_in


class Counts:
    """One method for each rule of the grammar that counts coats or layers."""

    def adjective(self, parts: Parts) -> dict[str, str]:
        """Words between the number and its noun, as in `two finish coats`."""
        return {part.name: part.value for part in parts}

    def coats(self, parts: Parts) -> Fact:
        """`two coats`."""
        return counted_fact(parts, "coats")

    def coats_or(self, parts: Parts) -> Fact:
        """`one coat or two`: nobody has chosen."""
        return _either(parts, "coats")

    def layers_or(self, parts: Parts) -> Fact:
        """`one layer or two`."""
        return _either(parts, "layers")

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

    def coats_of(self, parts: Parts) -> list[Fact] | None:
        """`one tinted primer and two finish over shop prime`: a number right before what it counts, and no more behind but what that goes over."""
        (low, high, doubt), *_, noun, _ = parts
        if high is not None or doubt or low not in (1, 2, 3, 4):
            return None
        subject = noun.value if noun.name == "subject" else ""
        scope = _coat_of(noun) if subject else (("sheen", noun.value),)
        return [Fact("coats", Quantity(low, EACH), subject=subject, scope=scope, end=-1)]

    def one_before_others(self, parts: Parts) -> list[Fact] | None:
        """`primer coat plus two finish coats`: of a coat in the singular there is one."""
        noun = parts[-2]
        subject = next((p.value for p in parts if p.name == "subject"), noun.value)
        if not subject or ("count", "one") not in noun.also:
            return None
        return [Fact("coats", Quantity(ONE, EACH), subject=subject, scope=_coat_of(noun), end=-1)]

    def coats_behind(self, parts: Parts) -> list[Fact] | None:
        """`undercoat, one; finish, two.`: a number in words behind what it counts, and no more behind it."""
        noun, number = parts[0], parts[-2]
        if not (number.value.isalpha() and noun.value and number_in(number) in (1, 2, 3, 4)):
            return None
        return [Fact("coats", Quantity(number_in(number), EACH), subject=noun.value, scope=_coat_of(noun), end=-1)]

    def a_layer(self, parts: Parts) -> Fact:
        """`a single layer`, `double-layer gypsum board`: the word says how many."""
        subject = next((p.value for p in parts if p.name == "subject"), "")
        return Fact("layers", Quantity(Fraction(parts[0].value), EACH), subject=subject)

    def layers(self, parts: Parts) -> Fact:
        """`two layers`."""
        return counted_fact(parts, "layers")


def _either(parts: Parts, kind: str) -> Fact:
    """A count with another behind `or`."""
    first = next(n for n, p in enumerate(parts) if isinstance(p, Tag) and p.name == "EITHER")
    return evolve(counted_fact(parts[:first], kind), doubt="a choice that nobody has made")


def _coat_of(noun: Tag) -> tuple[tuple[str, str], ...]:
    """Which coat a noun says it is: `undercoat`."""
    return tuple((key, value) for key, value in noun.also if key in ("coat", "sheen"))
