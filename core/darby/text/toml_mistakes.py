"""What is wrong with a text that is no TOML, in the words of whoever writes job files."""

from __future__ import annotations

import re

from attrs import frozen

from darby.text.spans import Source, Span

PAIR = re.compile(r"([ \t]*[A-Za-z0-9_-]+)[ \t]*=")
"""The beginning of a line that gives a key its value."""
_AT = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)$")


@frozen
class Mistake:
    """Something that is no TOML, and what to write instead."""

    span: Span
    message: str
    help: str = ""


def offset_of(text: str, told: str) -> int:
    """Offset of the place that tomllib tells at the end of a message."""
    found = _AT.search(told)
    if found is None or found[1] is None:
        return max(0, len(text.rstrip()) - 1)
    start = 0
    for _ in range(int(found[1]) - 1):
        start = text.find("\n", start) + 1
    return min(start + int(found[2]) - 1, len(text))


def mistake_at(source: Source, text: str, offset: int, told: str) -> Mistake:
    """The mistake at an offset where tomllib told one."""
    start = text.rfind("\n", 0, offset) + 1
    line = text[start:].split("\n", 1)[0].rstrip()
    span = source.span(min(offset, max(start, start + len(line) - 1)), min(offset + 1, len(text)))
    told = _AT.sub("", told)
    pair = PAIR.match(line)
    key, value = (pair[1].strip(), line[pair.end() :].strip()) if pair else ("", "")
    if "overwrite" in told and pair:
        return Mistake(source.span(start, start + len(line)), f"{_short(key)} is said twice", "Keep one of the two.")
    if "twice" in told or "overwrite" in told or "mutate" in told:
        return Mistake(
            source.span(start, start + len(line)),
            f"{_short(line.strip())} does not fit with what stands above it",
            "Each wall, ceiling, opening, corner and room begins with a line in two brackets of its own: [[walls]].",
        )
    if pair and not value:
        named = source.span(start + pair.end(1) - len(key), start + pair.end(1))
        return Mistake(named, f"{_short(key)} has no value", f'Write {_short(key)} = "..." or take the line out.')
    if pair and value[0] not in "\"'[{":
        return Mistake(
            source.span(start + pair.end() + (len(line[pair.end() :]) - len(value)), start + len(line)),
            f"{_short(value)} stands without quotes",
            f'Write {_short(key)} = "{_short(value)}".'
            if '"' not in value
            else f"Write {_short(key)} = '''{_short(value)}'''.",
        )
    if pair and value[0] == '"' and value.count('"') != 2:
        return Mistake(
            span,
            f"the quotes of {_short(key)} do not pair up",
            'An inch mark between double quotes is written \\" (a backslash before it); or spell inches out: "8 ft 1/2 in".',
        )
    way_out = 'A line reads length = "12 ft"; a wall begins with a line [[walls]].'
    if "array" in told and "declaration" not in told:
        way_out = 'A list reads ["one", "two"]: commas between, a bracket at each end.'
    return Mistake(span, f"this is no TOML: {told[:1].lower()}{_short(told[1:])}", way_out)


def _short(text: str) -> str:
    return text if len(text) <= 60 else text[:60] + "..."
