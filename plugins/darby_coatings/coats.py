"""How many coats of a product a place takes, and by which answer they are described."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from darby.api import DEFAULT, HOUSE, Answer, Consultation, Rule
from darby_coatings.applying import FINISH

LOOK = ("class", "sheen", "color")
"""What keeps two paints of one name apart: a can left over from one is never poured into another."""


GROUNDS = {"wood": ("door", "trim"), "drywall": ("wall", "ceiling")}
"""Classes that say what a product goes on, and not what it is made of, with the surfaces that are of it. What is said of none is none of these;
but what is said of one is said of its surfaces."""


WIDER = {"acrylic": "latex", "acrylic enamel": "enamel"}
"""Classes that are of a wider one: acrylic latex is latex. What nobody says of the one is that of the other."""


UNDERCOAT, MIST = "undercoat", "mist"
BETWEEN = ("intermediate", MIST, UNDERCOAT)
"""Coats that are of neither the first nor the last, and come on top of those that are counted without them."""


def ground(surface: str) -> str:
    """The class that says what a surface is of; nothing where none does."""
    return next((name for name, kinds in GROUNDS.items() if surface in kinds), "")


def bought_as(pool: Mapping[str, str], kinds: Iterable[str]) -> Mapping[str, str]:
    """What its package is asked by: what has no class is of the ground that all of its surfaces are of."""
    grounds = set(map(ground, kinds))
    return pool if "class" in pool or len(grounds) > 1 else {**pool, "class": grounds.pop()}


def look_of(coat: str, own: dict[str, str], others: Iterable[Mapping[str, str]]) -> dict[str, str]:
    """The look of a coat among the others of a place: a mist coat is the finish itself, thinned, unless it is said to be of another."""
    alike = (dict(other) for other in others if all(other.get(key, said) == said for key, said in own.items()))
    return next(alike, own) if coat == MIST else own


def _misted(about: Mapping[str, str], book: Consultation) -> bool:
    """Whether documents put a mist coat of the finish on a place, which stands in for a primer that nobody asks for."""
    mist = book.book.ask("coats", FINISH, {**about, "coat": MIST}, take=LOOK)
    return mist is not None and mist["coat"] == MIST and mist.layer > HOUSE


def coats_of(product: str, about: Mapping[str, str], book: Consultation) -> list[Answer]:
    """How many coats, in one answer; or one answer a coat where documents give them one by one and state no number.

    A number stated in documents holds beside its parts: "two coats; second coat gloss" is two coats, not three. An
    intermediate coat is no part of the finish coats: it comes on top of them, as an undercoat comes on top of the primer.
    """
    take = (*LOOK, "method")
    whole = book.book.ask("coats", product, about, take=take)
    if product != FINISH and (whole is None or whole.layer <= HOUSE) and _misted(about, book):
        return []
    said = [r for a in book.book.all("coats", product, about, take=(*take, "coat")) for r in a.heard]
    names = dict.fromkeys(r.scope["coat"] for r in said if "coat" in r.scope)
    found = [book.book.ask("coats", product, {**about, "coat": name}, take=take) for name in names]
    single = [a for a in found if a and a["coat"]]
    if whole is None or whole.layer in (DEFAULT, HOUSE):
        parts = [a for a in single if whole is None or a.layer > whole.layer]
        if any(a["coat"] != "intermediate" for a in parts):
            return parts
    between = [a for a in single if a["coat"] in BETWEEN and (whole is None or a.layer >= whole.layer)]
    if whole is None:
        book.miss("coats", product, about)
    return [*([whole] if whole else []), *between]


def described(coats: Answer) -> Answer | None:
    """Of what is said of coats besides, the strongest that describes them, where the answer is a mere number: `three coats instead`."""
    if coats["coat"] or any(coats[key] for key in LOOK):
        return None
    rule = next((r for r in coats.heard if any(key in r.scope for key in LOOK) and "coat" not in r.scope), None)
    return Answer(coats.asked, rule) if rule is not None else None


_COLOR = re.compile(r"\bcolou?rs?\b", re.IGNORECASE)


def colors_unread(product: str, pool: Mapping[str, str], said: Iterable[Rule]) -> Iterator[str]:
    """A warning where clauses that each name a color, which is not read, would share their cans."""
    if "color" in pool or product != FINISH:
        return
    clauses: dict[str, Rule] = {}
    for rule in said:
        origin = rule.amount.step.origin
        if origin is not None and _COLOR.search(origin.text):
            clauses.setdefault(origin.text, rule)
    if len(clauses) > 1:
        places = " and ".join(str(rule.span) for rule in clauses.values())
        yield (
            f"{places} speak of colors, which are not read: all of it is ordered as one color. Where there are several, give "
            'each wall or room of the job its own, as color = "Fog".'
        )
