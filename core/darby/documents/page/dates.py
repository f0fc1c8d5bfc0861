"""What tells one copy of a document from another: the date and the revision that it says of itself near its top, and a checksum."""

from __future__ import annotations

import re
from collections.abc import Iterator
from hashlib import sha256
from pathlib import PurePath

from darby.documents.words import one_line
from darby.estimate.model import Estimate
from darby.text.spans import Source

_LINES = 60
"""Lines from the top in which a document says its date and revision."""
_TITLE = 8
"""Lines from the top that are a title."""
_MONTH = r"(?:jan(?:uary)?|feb(?:ruary)?|mar(?:ch)?|apr(?:il)?|may|june?|july?|aug(?:ust)?|sept?(?:ember)?|oct(?:ober)?|nov(?:ember)?|dec(?:ember)?)\.?"
_DATE = re.compile(
    rf"\b(?:\d{{1,2}}(?:st|nd|rd|th)? {_MONTH},? \d{{4}}|{_MONTH} \d{{1,2}}(?:st|nd|rd|th)?,? \d{{4}}|\d{{4}}-\d{{2}}-\d{{2}}"
    r"|\d{1,2}[/.]\d{1,2}[/.]\d{4})\b",
    re.IGNORECASE,
)
_MONTH_ALONE = re.compile(
    rf"(?:(?<=[,;:(])|(?<=\t)|^|(?<=  )|\bissue|\bissued)[ \t]*\b({_MONTH} \d{{4}})\b", re.IGNORECASE | re.MULTILINE
)
"""A month and a year where a title has them: `Tender issue, March 2026`; in a sentence they may be anything's."""
_REVISION = re.compile(r"\b(?:rev(?:ision)?\.?[ \t]+(?:no\.?[ \t]*)?[0-9A-Z]{1,3}\b|issued? for [a-z]+)", re.IGNORECASE)


def dated(source: Source) -> tuple[str, str]:
    """The date and the revision that a document says of itself near its top; nothing where it says none."""
    top = "\n".join(source.text.split("\n", _LINES)[:_LINES])
    date, revision = _DATE.search(top), _REVISION.search(top)
    month = _MONTH_ALONE.search("\n".join(top.split("\n", _TITLE)[:_TITLE])) if date is None else None
    said = date[0] if date else month[1] if month else ""
    return (" ".join(said.split()), " ".join(revision[0].split()) if revision else "")


def inputs(estimate: Estimate) -> Iterator[dict[str, str]]:
    """The files behind the estimate: `name`, `role`, what each has `said` of its date and revision, and a `checksum`."""
    for source, role in ((estimate.job.source, "job"), *((s, layer.name) for s, layer in estimate.papers)):
        checksum = sha256(source.text.encode("utf-8", "surrogatepass")).hexdigest()[:8]
        said = one_line(", ".join(filter(None, dated(source))))
        yield {"name": one_line(PurePath(source.name).name), "role": role, "said": said, "checksum": checksum}
