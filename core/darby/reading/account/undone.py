"""What a sentence, or a part of a list, leaves undone somewhere without a word of what: `Two coats on walls, none in the attic.`

It is of the goods that stand before it, which is confirmed; where none do it is asked about.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from darby.reading.binding.in_place import IN_PLACE, OMITTED
from darby.reading.binding.site.finding import Finding, Word
from darby.reading.document.undone_places import UNDONE, places_of
from darby.reading.parsing.fact_parser import Fact
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.phrases import COUNTED
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy

_OF_BEFORE = "it names no goods: taken to leave out those that stand before it"
_OF_NOTHING = "says that something is left undone there, and not what"


def undone(
    tags: Sequence[Tag], findings: Sequence[Finding], sibling: Sequence[Finding], lexicon: Lexicon, over: Sequence[str]
) -> Iterator[Finding]:
    """Each of the goods that tags of places left undone speak of, as a finding that makes a rule, or asks. `sibling` is what the clause
    before says, `over` the rooms that the clause stands under."""
    for at, tag in enumerate(tags):
        if tag.name != UNDONE:
            continue
        together = _before(tag, findings, sibling, lexicon)
        own = any(tag.value == word.value for f in findings if f.stands for word in f.subjects)
        named = (
            [tag.value] if tag.value and not own else []
        )  # `two coats of oil on doors, no oil on walls`: nor what goes with it
        goods = named or together
        places = list(_placed(tags, at, over))
        for subject in goods or [""]:
            fact = Fact(IN_PLACE, start=at, end=at + 1, place=tag.start, over=tag.end, subject=subject)
            finding = Finding(fact, IN_PLACE, subjects=[Word(subject, FoundBy.FACT)], choice=OMITTED)
            finding.places = [(room, Word(surface, FoundBy.PHRASE) if surface else None) for room, surface in places]
            if goods and all(room for room, _ in places):
                finding.confirm = "" if tag.value else _OF_BEFORE
            elif findings or sibling or (over and not places_of(tag)):
                finding.doubt = _OF_NOTHING
            else:
                finding.aside = "of goods that no trade here orders"
            yield finding


def _placed(tags: Sequence[Tag], at: int, over: Sequence[str]) -> Iterator[tuple[str, str]]:
    """The places of a tag; surfaces of no room are of those that were named last in its sentence, or of those that its clause stands
    under."""
    low = max((n + 1 for n, t in enumerate(tags[:at]) if t.name == "STOP"), default=0)
    label = next((n for n, t in enumerate(tags[:at]) if t.name in ("COLON", "STOP")), at if low else 0)
    near = [t.value for t in tags[low:at] if t.name == "room"] or [t.value for t in tags[:label] if t.name == "room"]
    for room, surface in places_of(tags[at]) or [("", "")]:
        for one in [room] if room else list(dict.fromkeys(near or over)) or [""]:
            yield one, surface


def _before(tag: Tag, findings: Sequence[Finding], sibling: Sequence[Finding], lexicon: Lexicon) -> list[str]:
    """The goods that are left out together with those that stand before a tag."""
    own = [f for f in findings if f.stands and f.fact.place < tag.start] or [f for f in findings if f.stands]
    counted = [f for f in own or [f for f in sibling if f.stands] if f.kind in COUNTED]
    said = {word.value for f in counted for word in f.subjects}
    trades = [v.tables.get(IN_PLACE, {}) for v in lexicon.vocabularies]
    together = [goods for trade in trades if not said.isdisjoint(trade) for goods in trade]
    return together if len([t for t in trades if not said.isdisjoint(t)]) == 1 else []
