"""`2 No. varnish`, `1 nr oil`: a number of goods that are put on in coats is so many coats of them, and no count of pieces."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from attrs import evolve

from darby.reading.parsing.tagging.tag import Tag

_PIECES = ("FOREIGN", "a number of pieces")
_DESCRIBES = re.compile(r"\.?\s(?:[A-Za-z][A-Za-z-]{1,15}\s){0,3}")
"""What may stand between the number and the goods: `2 No. quick drying varnish`."""


def with_coats_by_number(tags: Sequence[Tag], text: str, coated: Callable[[Tag], bool]) -> list[Tag]:
    """The tags, with a coat for each word of a number of pieces that goods follow which are put on in coats."""
    out: list[Tag] = []
    for n, tag in enumerate(tags):
        if (
            out
            and tag.name == "STOP"
            and out[-1].name == "COAT"
            and out[-1].end == tag.start
            and tags[n - 1].name == "FOREIGN"
        ):
            continue  # `nr.`
        behind = next((t for t in tags[n + 1 : n + 3] if t.name != "STOP"), None)
        counts = (tag.name, tag.value) == _PIECES and n > 0 and tags[n - 1].name == "NUMBER" and behind is not None
        if counts and behind is not None and (behind.name == "sheen" or (behind.name == "subject" and coated(behind))):
            described = _DESCRIBES.fullmatch(text, tag.end, behind.start)
            out.append(evolve(tag, name="COAT", value="") if described else tag)
        else:
            out.append(tag)
    return out
