"""What fasteners go into: wood, steel, or steel so heavy that it is drilled; and which thread holds in it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache

from attrs import evolve, frozen

from darby.api import DEFAULT, Answer, Consultation, Place, Rule, dashed
from darby_fasteners.counting import BOARD

WOOD, STEEL, HEAVY = "wood", "steel", "heavy steel"
THREADS = {"type w": WOOD, "type s": STEEL, "type s-12": HEAVY}
"""What a thread is made for: ASTM C1002 has type W for wood and type S for steel thinner than 0.033 in; ASTM C954 is for heavier steel, from memory."""

_GAUGE = re.compile(r"\b([0-9]{2})[ -]?(?:gauge|gage|ga)\b", re.IGNORECASE)
_MIL = re.compile(r"\b([0-9]{2,3})[ -]?mils?\b", re.IGNORECASE)
_HEAVIEST_LIGHT_GAUGE = 20
"""Of 18 gauge and heavier is drilled; 20 gauge comes as 30 and as 33 mil. Common practice, ASTM C645 and C955, from memory."""
_LEAST_HEAVY_MIL = 33


@frozen(eq=False)
class Support:
    """What a place's fasteners go into. `said` is the answer that says so; the job's own word has none; without either it is a guess."""

    kind: str
    said: Answer | None = None
    guess: bool = False
    thread: str = ""
    """The thread that documents ask for, as they call it."""
    typed: Answer | None = None
    """What asks for it."""

    @property
    def material(self) -> str:
        """`wood` or `steel`."""
        return WOOD if self.kind == WOOD else STEEL


def usual(places: Iterable[Place], book: Consultation) -> str:
    """What fasteners go into where nobody says: the one thing that documents say of other places, else wood."""
    known = [support("screw", place, place.about, book) for place in places]
    said = {one.kind for one in known if one.said is not None}
    return said.pop() if len(said) == 1 else WOOD


def support(product: str, place: Place, about: Mapping[str, str], book: Consultation, guess: str = WOOD) -> Support:
    """What fasteners go into: as the job says, else as the documents say of the supports, else as the thread is for, else the
    one material that lengths are stated for; else the `guess`.
    """
    known = _known(place, about, book)
    asked = {**about, "note": known.material} if known is not None else about  # `Type W into wood, Type S into steel`
    typed = book.book.ask("type", product, asked) if product == "screw" else None
    thread = typed.rule.choice if typed is not None and typed.layer > DEFAULT else ""
    if typed is not None and thread:
        book.use(typed)
    else:
        typed = None
    if known is not None:
        return evolve(known, thread=thread, typed=typed)
    if thread and dashed(thread).replace("-", " ", 1) in THREADS:
        return Support(THREADS[dashed(thread).replace("-", " ", 1)], typed, False, thread, typed)
    told = [answer for one in (WOOD, STEEL) if (answer := _told_of(product, one, about, book)) is not None]
    if len(told) == 1:  # lengths or distances over one material alone
        scope = told[0].rule.scope
        return Support(scope.get("note") or scope["where"], told[0], False, thread, typed)
    return Support(guess, None, True, thread, typed)


def _known(place: Place, about: Mapping[str, str], book: Consultation) -> Support | None:
    """What supports are of by the job's own word, else by the documents' words of them; None where neither has any."""
    if own := place.first.marks.get("supports", ""):
        return Support(_named(own, STEEL if "metal" in own.casefold() else ""))
    framing = book.book.ask("framing", BOARD, about, take=("where",))
    if framing is not None and framing.layer > DEFAULT and (said := _said_of(framing.rule)):
        return Support(_named(said), framing)
    return None


def _told_of(product: str, into: str, about: Mapping[str, str], book: Consultation) -> Answer | None:
    """What documents say of lengths that go into a material, or of distances apart over it, and of no other."""
    kinds = (("fastener length", "where", _TOLD_APART), ("spacing", "note", ("where", "method", "thick")))
    for kind, key, take in kinds:
        answer = book.book.ask(kind, product, {**about, key: into}, take=take)
        if answer is not None and answer.rule.scope.get(key) == into:
            return answer
    return None


_TOLD_APART = ("layers", "layer", "thick", "type", "note")
"""What lengths may be told apart by besides."""


def _said_of(rule: Rule) -> str:
    """The words that say what the supports of a spacing are: in its clause from the nearest word for a material before it up to the number,
    else in the one sentence of its document that tells it of supports.
    """
    line = rule.span.source.text
    start = max(line.rfind(sign, 0, rule.span.start) for sign in (". ", ";", "\n\n"))
    before = line[max(start, rule.span.start - _FAR, 0) : rule.span.start]
    found = list(_MATERIAL.finditer(before))
    return before[found[-1].start() :] if found else _told_once(line)


@lru_cache(16)
def _told_once(text: str) -> str:
    """What a document says its supports are of, `Framing is wood.`, `Metal stud framing is in place.`; nothing where it names both materials."""
    found = [m[0] for m in _TOLD.finditer(text)]
    kinds = {STEEL if re.search(r"steel|metal", said, re.IGNORECASE) else WOOD for said in found}
    return " ".join(found) if len(kinds) == 1 else ""


_SUPPORTS = r"(?:stud(?:s|work|ding)?|framing|joists?|furring|battens?|trusses)"
_MADE = r"(?:wood(?:en)?|timber|steel|metal)"
_TOLD = re.compile(
    rf"\b{_SUPPORTS}\b[^.;:\n]{{0,40}}(?:\b(?:is|are)\b|:)[^.;:\n]{{0,30}}?\b{_MADE}\b|\b{_MADE}\s(?:(?:wall|ceiling|stud)\s)?{_SUPPORTS}\b",
    re.IGNORECASE,
)


_MATERIAL = re.compile(r"\b(?:wood|timber|steel|metal|hat channels?|furring channels?)\b", re.IGNORECASE)
_FAR = 120
"""Letters before a spacing that may speak of its supports."""


def _named(text: str, usual: str = "") -> str:
    """The kind of support that words name, with its gauge where they have one."""
    low = text.casefold()
    kind = usual or (STEEL if any(word in low for word in ("steel", "metal", "channel")) else WOOD)
    if kind == WOOD:
        return WOOD
    gauge, mil = _GAUGE.search(low), _MIL.search(low)
    heavy = "heavy" in low or "structural" in low
    heavy = heavy or (gauge is not None and int(gauge[1]) < _HEAVIEST_LIGHT_GAUGE)
    heavy = heavy or (mil is not None and int(mil[1]) >= _LEAST_HEAVY_MIL)
    return HEAVY if heavy else STEEL
