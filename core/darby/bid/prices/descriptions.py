"""What the words of a description say of goods, read once for all descriptions that differ in their numbers alone."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from attrs import frozen

from darby.bid.prices.shapes import FREE, share_tags
from darby.estimate.line_item import dashed
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag

Meant = tuple[str, str]
"""What a property comes to, whatever its spelling: sort (`amount`, `at least`, `size` or `word`) and value, a text that is one for equals."""
Place = tuple[int, int]
Said = tuple[str, Mapping[str, Meant], tuple[Meant, ...], tuple[str, ...]]
"""The product, what is said of it by its key, sizes without one, and strange words."""

MEASURES = frozenset("LENGTH_UNIT AREA_UNIT VOLUME_UNIT MASS_UNIT THIN_UNIT".split())
_FILLING = frozenset("COMMA OF STOP EACH THICK LONG WIDE DASH OPEN CLOSE".split())
_BEGINNINGS = ("NUMBER", "FEET_INCHES")
_IN_RUNS = MEASURES.union(_BEGINNINGS, ("BY_X", "BY"))


@frozen(eq=False)
class Form:
    """A description as its tags have it, whatever the numbers in it are."""

    product: str
    named: Mapping[str, Meant]
    coded: Mapping[str, Place]
    """Of what is named that which is itself a code of the text: where that stands."""
    unknown: tuple[str, ...]
    """Words that stand in no list."""
    pieces: tuple[tuple[Place | None, tuple[Place, ...]], ...]
    """In order, each run of numbers and units, and what is strange where it measures nothing; what is strange anyway has no run."""

    def read(self, text: str, measures: Callable[[str], tuple[Meant, ...]]) -> Said:
        """What a description of this form says. `measures` tells what a run of numbers comes to."""
        sizes: list[Meant] = []
        strange = list(self.unknown)
        for run, places in self.pieces:
            if run is not None and (said := measures(text[run[0] : run[1]])):
                sizes += said
            else:
                strange += [text[start:end] for start, end in places]
        named = self.named
        if self.coded:
            named = {**named, **{key: _word(text[start:end]) for key, (start, end) in self.coded.items()}}
        return self.product, named, tuple(sizes), tuple(strange)


def form_of(text: str, shape: str, lexicon: Lexicon) -> tuple[Form, bool]:
    """The form of a description, and whether all descriptions of its shape have it: no word that names something has a free number in it,
    but a code, which is taken from each as it stands there."""
    tags = lexicon.tags(text)
    subjects = {tag.value for tag in tags if tag.name == "subject"}
    named: dict[str, Meant] = {}
    coded: dict[str, Place] = {}
    shared = share_tags(tags)
    for tag in tags:
        for key, value in (*tag.also, *([(tag.name, tag.value)] if describes(tag) else [])):
            named[key] = _word(value)
            coded.pop(key, None)
            if tag.name == "CODE" and named[key] == _word(text[tag.start : tag.end]):
                coded[key] = (tag.start, tag.end)
            elif FREE in shape[tag.start : tag.end]:
                shared = False
    unknown = tuple(word for _, word in lexicon.strangers(tags, text))
    return Form(subjects.pop() if len(subjects) == 1 else "", named, coded, unknown, tuple(_pieces(tags))), shared


def _pieces(tags: Sequence[Tag]) -> list[tuple[Place | None, tuple[Place, ...]]]:
    found: list[tuple[Place | None, tuple[Place, ...]]] = []
    at = 0
    while at < len(tags):
        end = at
        while end < len(tags) and tags[end].name in _IN_RUNS:
            end += 1
        run = (tags[at].start, tags[end - 1].end) if end > at and tags[at].name in _BEGINNINGS else None
        end = max(end, at + 1)
        strange = tuple((t.start, t.end) for t in tags[at:end] if not t.name.islower() and t.name not in _FILLING)
        if strange:
            found.append((run, strange))
        at = end
    return found


def describes(tag: Tag) -> bool:
    """Whether a tag is the value of a scope key, as a sheen is."""
    return tag.name.islower() and tag.name != "subject"


def _word(text: str) -> Meant:
    return ("word", dashed(text))
