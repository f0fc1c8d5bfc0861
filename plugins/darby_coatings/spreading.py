"""How much paint a surface takes: from a stated rate, else from the wet film, else from the dry film and the solids."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from attrs import evolve, frozen

from darby.api import DEFAULT, HOUSE, VOLUME, Amount, Answer, Consultation, Rule, bought_in, by_area, rules_of
from darby_coatings.coats import GROUNDS, WIDER, ground

THEORETICAL, PRACTICAL = "theoretical", "practical"
_TAKE = ("basis", "method", "class")


@frozen(eq=False)
class Spread:
    """How a volume and an area go together, and what was heard on the way.

    `answer` is a coverage, a consumption or a film; `solids` the share of a film that stays when it dries.
    """

    answer: Answer
    solids: Answer | None = None
    notes: tuple[str, ...] = ()

    @property
    def basis(self) -> str:
        """Whether losses are in the rate (`practical`) or not (`theoretical`): a film knows of none."""
        if self.answer.rule.kind.name == "film":
            return THEORETICAL
        return self.answer["basis"] or PRACTICAL

    @property
    def rules(self) -> tuple[Rule, ...]:
        """The rules behind it."""
        return rules_of(self.answer, self.solids)

    def volume(self, area: Amount, units: str) -> Amount:
        """What an area of coats takes."""
        kind = self.answer.rule.kind.name
        rule = self.answer.rule
        if kind == "coverage" and rule.per is not None:
            return (area / self.answer.rate).to(bought_in(rule.per.unit))
        if kind == "consumption":
            return (area * self.answer.rate).to(bought_in(rule.amount.unit))
        wet = area * self.answer.amount
        return (wet / self.solids.amount if self.solids else wet).in_system(units)


def spread(product: str, about: Mapping[str, str], book: Consultation) -> Spread | None:
    """What holds for a product on a place; a silence, and a film that gives no rate, become a question.

    The later layer wins, as everywhere. Within one layer a stated rate is trusted before a wet film and that before a dry
    film with solids; of a coverage and a consumption the one that buys more is followed.
    """
    found, notes = _heard(product, about, book)
    if about.get("class") and all(s.answer.layer <= HOUSE for s in found):
        # a rate of `acrylic` is better than none for what is called `latex`: nobody says another
        wider, told = _heard(product, {**about, "class": ""}, book)
        if any(s.answer.layer > HOUSE for s in wider):
            found, notes = wider, told
    wide = WIDER.get(about.get("class", ""), "")
    if wide and all(s.answer.layer <= DEFAULT for s in found):
        wider, told = _heard(product, {**about, "class": wide}, book)
        if own := [s for s in wider if s.answer["class"] == wide]:
            found, notes = own, [*told, f"Nobody gives a rate of {about['class']} {product}: that of {wide} is used."]
    if not found:
        if not any("dry film" in note for note in notes):
            book.ask("coverage", product, about, take=_TAKE)
        return None
    used = max(found, key=lambda s: s.answer.layer)  # of equals the first, the most trusted
    left = [s for s in found if s is not used]
    stronger = [s for s in left if s.answer.layer == used.answer.layer]
    if used.answer.rule.kind.name == "film" or any(s.answer.layer != used.answer.layer for s in left) or stronger:
        notes += [_why(used, other) for other in left]
    book.use(evolve(used.answer, beaten=(*(s.answer.rule for s in left), *used.answer.beaten)))
    if used.solids is not None:
        book.use(used.solids)
    if used.answer.rule.kind.name == "film":
        notes.append(f"The spread is worked out from {_called(used)}; it holds no loss but what a waste rule adds.")
    return evolve(used, notes=tuple(notes))


def _heard(product: str, about: Mapping[str, str], book: Consultation) -> tuple[list[Spread], list[str]]:
    """The ways to a rate, and the sentences on those that lead nowhere."""
    found = list(_candidates(product, about, book))
    return [s for s in found if not isinstance(s, str)], [s for s in found if isinstance(s, str)]


def _candidates(product: str, about: Mapping[str, str], book: Consultation) -> Iterator[Spread | str]:
    """Every way to a rate in the order of trust, and sentences on those that lead nowhere."""
    coverage = _said("coverage", product, about, book)
    usage = _said("consumption", product, about, book)
    if usage is not None and not by_area(usage.rule, {VOLUME}):
        yield f"The {_called(Spread(usage))} gives no volume for an area and could not be used."
        usage = None
    if coverage and usage and usage.layer == coverage.layer and usage.rate > Amount.of(1) / coverage.rate:
        yield Spread(usage)
        usage = None
    for answer in (coverage, usage):
        if answer is not None:
            yield Spread(answer)
    wet = _told("film", product, {**about, "film": "wet"}, book)
    if wet is not None and wet["film"] == "wet":
        yield Spread(wet)
    dry = _told("film", product, {**about, "film": "dry"}, book)
    if dry is not None and dry["film"] == "dry":
        solids = _told("solids", product, about, book)
        if solids is not None:
            yield Spread(dry, solids)
        else:
            book.miss("solids", product, about)
            yield f"The dry film of {dry.rule.says()} alone gives no rate: what share of {product} is solids is not said."


def _told(kind: str, product: str, about: Mapping[str, str], book: Consultation) -> Answer | None:
    """What is said, where no class is known rather of all than of one: beside `Finish paint: ..` a line of epoxy is of epoxy alone."""
    found = book.book.ask(kind, product, about, take=_TAKE)
    if found is None or about.get("class") or not any("class" in rule.scope for rule in found.heard):
        return found
    plain = book.book.ask(kind, product, about, take=[key for key in _TAKE if key != "class"])
    return plain if plain is not None and plain.layer == found.layer else found


def _said(kind: str, product: str, about: Mapping[str, str], book: Consultation) -> Answer | None:
    """A rate, but none of what goes on another ground: that of wood primer says nothing of walls."""
    found = _told(kind, product, about, book)
    own = ground(about.get("surface", ""))
    if found is None or about.get("class") or found["class"] not in GROUNDS or found["class"] == own:
        return found
    return book.book.ask(kind, product, {**about, "class": own}, take=_TAKE)


def _why(used: Spread, left: Spread) -> str:
    """Why one way was followed and not another."""
    if used.answer.layer != left.answer.layer:
        why = "is said with more weight"
    elif used.answer.rule.kind.name in ("coverage", "consumption") and left.answer.rule.kind.name == "film":
        why = "is trusted before a film"
    elif left.answer.rule.kind.name == "film":
        why = "a wet film is trusted before a dry one" if used.solids is None else "is said first"
    else:
        why = "buys more"
    if why.startswith("a wet"):
        return f"The {_called(used)} is followed and not the {_called(left)}: {why}."
    return f"The {_called(used)} is followed: it {why} than the {_called(left)}." if not why.startswith("is trusted") else (
        f"The {_called(used)} is followed: it {why}, here the {_called(left)}."
    )  # fmt: skip


def _called(spread: Spread) -> str:
    answer = spread.answer
    if answer.rule.kind.name != "film":
        return f"{answer.rule.kind.name} of {answer.rule.says()}"
    with_solids = f" with {spread.solids.rule.says()} solids" if spread.solids else ""
    return f"{answer['film']} film of {answer.rule.says()}{with_solids}"
