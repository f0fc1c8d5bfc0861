"""How far a reading can be believed: what speaks against a rule though nothing refuses it, in a sentence.

Measured on text that nobody had tuned the reader to: most wrong rules stand among words that no list knows, take their subject
from far away, or say what is out of the ordinary. Such a rule is kept, and waits to be confirmed.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import pairwise, takewhile
from operator import itemgetter

from darby.reading.binding.belief.which_is_meant import of_a_list, of_one_kind, points_back
from darby.reading.binding.site.conditions import GOODS, RATES
from darby.reading.binding.site.finding import Finding
from darby.reading.parsing.exceptions import ALL_BUT
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.tagging.tag import Tag
from darby.rules.found_by import FoundBy, code_of

_MANY = 4
"""Words nobody knows in one sentence from which on it is not understood well enough."""
_SOME = 2
_BEFORE, _BEHIND = 60, 40
"""Tags before a fact and behind it that are looked at."""
_REACH = 200
"""Letters behind a fact within which what it goes on stands."""
_FAR = (FoundBy.SENTENCE_BEFORE, FoundBy.FACT_BEFORE, FoundBy.TAIL, FoundBy.SENTENCE)
_FAR_SURFACE = (
    FoundBy.TAIL,
    FoundBy.OPENING,
    FoundBy.LIST_TAIL,
    FoundBy.PHRASE_BEFORE,
)
_NAMED_BESIDE = (FoundBy.PHRASE, FoundBy.AHEAD, FoundBy.LABEL)
"""What stands between the members of a list of places."""
_OTHERS = ("ELSEWHERE", "EVERYWHERE")


def weigh(findings: Sequence[Finding], tags: Sequence[Tag], text: str, lexicon: Lexicon) -> None:
    """Put a sentence on each finding whose evidence is weak."""
    strangers = lexicon.strangers(tags, text) if findings else []
    told = lexicon.told(text) if findings else []
    stated = [f.fact.place for f in findings]
    starts, places = [t.start for t in tags], sorted(stated)
    read = {f.fact.place for f in findings if not f.unread}
    for finding in findings:
        if not finding.stands and not finding.choice:
            continue
        at = finding.fact.place
        near = _near(tags, starts, at)
        ends = [t.start for t in near if t.name == "STOP"]
        opens, closes = near[:1] == tags[:1], near[-1:] == tags[-1:]
        low = max((e for e in ends if e < at), default=-1 if opens else near[0].start - 1)
        high = min((e for e in ends if e > at), default=len(text) if closes else near[-1].end)
        strange = _within(strangers, low, high)
        hedged = [word for _, word in _within(told, low, high)]
        finding.confirm = finding.confirm or (
            _unusual(finding, lexicon)
            or _alone(finding, near)
            or _doubt(finding, [word for _, word in strange], hedged)
            or _place_in_doubt(finding, [word for place, word in strange if place < at])
            or _behind_an_exception(finding, near, low)
            or _of_a_level(finding, near)
            or of_one_kind(finding, near, text, (low, high), read, lexicon.names)
            or _behind_a_number(finding, near, places, text, lexicon)
            or _on_something_else(finding, near, text, _within(strangers, low, finding.fact.over + _REACH))
            or of_a_list(finding, strange, near, text)
            or ("" if _is_placed(finding) else points_back(finding, near, text, (low, high), lexicon))
            or _opened(finding, [t for t in near if t.start < high], ends, places)
            or _on_several(finding)
            or _on_one_of_its_walls(finding)
        )


def _near(tags: Sequence[Tag], starts: Sequence[int], at: int) -> Sequence[Tag]:
    """The tags around a place, so many of them at most that a clause without an end costs no more than others."""
    number = bisect_left(starts, at)
    return tags[max(0, number - _BEFORE) : number + _BEHIND]


def _led(finding: Finding, tags: Sequence[Tag]) -> tuple[Sequence[Tag], Sequence[Tag]]:
    """The tags before a finding, and those of them that stand in its own part of the sentence."""
    led = [t for t in tags if t.start < finding.fact.place]
    since = next((n for n in range(len(led) - 1, -1, -1) if led[n].name in ("STOP", "SEMICOLON")), -1)
    return led, led[since + 1 :]


def _is_placed(finding: Finding) -> bool:
    """Whether a finding is said of a place or of a system."""
    return bool(finding.marks) or any(room for room, _ in finding.places)


def _within(words: Sequence[tuple[int, str]], low: int, high: int) -> Sequence[tuple[int, str]]:
    """The words between two places."""
    return words[bisect_right(words, low, key=itemgetter(0)) : bisect_left(words, high, key=itemgetter(0))]


def weigh_under(findings: Sequence[Finding], above: Sequence[tuple[Sequence[Tag], str]], lexicon: Lexicon) -> None:
    """Have confirmed what holds everywhere below a heading that names a surface beside words that no list knows, or below a lead-in of
    nothing but such words: they may name a place. A short code that a heading opens with, `P1 Plaster walls`, may be the mark of a system
    though nothing uses it."""
    surfaced, led = set[str](), set[str]()
    for tags, text in above if findings else ():
        leads = text.rstrip().endswith(":") and _says_little(tags)
        named = any(t.name == "surface" for t in tags)
        if len(text) < _REACH and (leads or named):
            (led if leads else surfaced).update(word for _, word in lexicon.strangers(tags, text))
        code = _SHORT_CODE.match(text) if tags and tags[0].name != "mark" else None
        if code is not None and (named or len(tags) == 1) and code[0] not in lexicon.words_of("sections"):
            surfaced.add(code[0])
    for finding in findings:
        strange = sorted(surfaced if finding.kind in GOODS else surfaced | led)
        if strange and (finding.stands or finding.choice) and not finding.confirm and not _is_placed(finding):
            finding.confirm = f"words of what it stands under may say where it holds, or of what ({_some(strange)})"


_SHORT_CODE = re.compile(r"[A-Z]{1,2}[0-9]{1,2}[a-z]?(?=[\s:]|\Z)")


def _says_little(tags: Sequence[Tag]) -> bool:
    """Whether a lead-in says nothing that is known but how far it goes: `At the old kiln:`."""
    return all(t.name in ("FOR", "ALL", "AND", "COMMA", "COLON", "condition", "SIGN") for t in tags)


def weigh_others(findings: Sequence[Finding], before: Sequence[Finding], tags: Sequence[Tag]) -> None:
    """Have confirmed what the others have (`Basement: one coat A. Others: two coats B.`) where nothing like it is said of those before:
    then it holds there too, which may not be meant. `before` was found in the clause before."""
    starts = [t.start for t in tags]
    for number, finding in enumerate(findings):
        led, part = _led(finding, _near(tags, starts, finding.fact.place))
        if finding.confirm or not any(t.name == "ELSEWHERE" and t.value for t in part):
            continue
        if finding.choice and not any(t.name == "room" for t in led):
            continue  # what the clause before chooses is not known here
        of = {w.value for w in finding.subjects}
        if not any(
            f.kind == finding.kind and of & {w.value for w in f.subjects} for f in (*findings[:number], *before)
        ):
            finding.confirm = "it is said of all others, and nothing like it of the places before: it holds there too"


def _unusual(finding: Finding, lexicon: Lexicon) -> str:
    """Why a value is not what is usual of its product."""
    if finding.amount is None or not finding.subjects:
        return ""
    subject, type_ = finding.subjects[0].value, finding.scope.get("type", "")
    why = lexicon.unusual(finding.kind, subject, finding.amount, finding.per, type_)
    return f"out of the ordinary: {why}" if why else ""


def _alone(finding: Finding, tags: Sequence[Tag]) -> str:
    """Why a level on a line of its own may be none of finish: `Level 2` over what is done there."""
    subject = finding.subjects[0].how if finding.subjects else ""
    headed = bool(finding.surfaces) and code_of(finding.surfaces[0].how) == FoundBy.COLUMN
    mere = {t.name for t in tags} == {"LEVEL", "NUMBER"} and not headed
    return "a level on a line of its own may be a storey" if mere and subject.startswith(FoundBy.IMPLIED) else ""


def _doubt(finding: Finding, strange: Sequence[str], told: Sequence[str]) -> str:
    subject = finding.subjects[0].how if finding.subjects else ""
    surface = finding.surfaces[0].how if finding.surfaces else ""
    if len(strange) >= _MANY:
        return f"much of its sentence is not understood ({_some(strange)})"
    if len(told) >= _SOME or (told and strange):
        return f"its sentence tells what is usual rather than what is wanted ({_some(told)})"
    if finding.choice and finding.kind in ("sheen", "type") and len(strange) >= _SOME:
        return f"words of its sentence are not understood ({_some(strange)})"
    if subject in _FAR and (strange or subject == FoundBy.TAIL):
        return (
            "what it is said of stands in another sentence"
            if "sentence" in subject
            else "what it is said of stands far from it"
        )
    if subject == FoundBy.SENTENCE_BEFORE and finding.kind == "coats" and any(room for room, _ in finding.places):
        return "what it is said of stands in another sentence"
    if subject.startswith(FoundBy.IMPLIED) and strange:
        return f"nothing near it says what it is of, and words of its sentence are not understood ({_some(strange)})"
    if surface in _FAR_SURFACE and len(strange) >= 1:
        return "the surface that it is said of stands far from it"
    return ""


def _place_in_doubt(finding: Finding, before: Sequence[str]) -> str:
    """Why it is not sure where a finding holds: it hangs on a condition, or words that no list knows stand before it."""
    scope = finding.scope
    if "under a condition" in (scope.get("where"), scope.get("condition")):
        return "it holds under a condition that is not understood"
    if finding.kind in RATES and finding.subjects and finding.subjects[0].how in _NAMED_BESIDE:
        return ""  # it is the same wherever they go
    if len(before) >= _SOME or (before and not _is_placed(finding)):
        return f"words before it may say where it holds, or of what ({_some(before)})"
    return ""


def _behind_an_exception(finding: Finding, tags: Sequence[Tag], low: int) -> str:
    """Why it is not sure where something holds behind an exception that begins its sentence: in the places that it names, or in all
    others."""
    first = next((t for t in tags if t.start > low), None)
    opens = first is not None and first.name == "EXCEPT" and first.value != ALL_BUT
    opens = opens and first is not None and first.end <= finding.fact.place
    if opens and any(t.name == "ELSEWHERE" for t in takewhile(_goes_on, (t for t in tags if t.start > low))):
        return ""  # `Unless a sheet says otherwise: ..`
    return "an exception stands before it: whether it holds there, or everywhere else, is not sure" if opens else ""


def _goes_on(tag: Tag) -> bool:
    return tag.name not in ("COMMA", "COLON")


def _of_a_level(finding: Finding, tags: Sequence[Tag]) -> str:
    """Why it is not sure that a fact behind `Level 2:` holds on every floor."""
    _, part = _led(finding, tags)
    named = [t.name for t in part[:3]] == ["LEVEL", "NUMBER", "COLON"] and finding.kind != "finish level"
    return "the level before it may be a storey" if named and not any(room for room, _ in finding.places) else ""


def _behind_a_number(finding: Finding, tags: Sequence[Tag], stated: Sequence[int], text: str, lexicon: Lexicon) -> str:
    """Why a fact may hold in one room only: its label ends with a number that nothing is read of, `Pass. 110: two coats`."""
    _, part = _led(finding, tags)
    number, colon = next((pair for pair in pairwise(part) if pair[1].name == "COLON"), (None, None))
    if number is None or colon is None or number.name not in _NUMBERS or _is_placed(finding):
        return ""
    used = bisect_left(stated, number.start) < bisect_left(stated, number.end) or text[number.end : colon.start].strip()
    named = _LAST_WORD.search(text[max(0, number.start - _WORD) : number.start])
    called = named is not None and named[1].lower() in lexicon.names.labels  # `Note 4: two coats`
    return "" if used or called else f"the number before it may be that of a room ({text[number.start : number.end]})"


_NUMBERS = ("NUMBER", "CODE", "OTHERS")
_LAST_WORD = re.compile(r"([A-Za-z]+)\.?\s\Z")
_WORD = 24
"""Letters of a word that numbers what it names."""


_ONTO = re.compile(r"\s(?:to|on|onto|for)\s(?:the\s|all\s)?(?P<word>[A-Za-z][A-Za-z'’-]+)")


def _on_something_else(finding: Finding, tags: Sequence[Tag], text: str, strangers: Sequence[tuple[int, str]]) -> str:
    """Why it is not sure that a fact holds on the surface before it: what it goes on stands right behind, in words that no list knows."""
    over = max((t.end for t in tags if finding.fact.place <= t.start < finding.fact.over), default=finding.fact.over)
    look = next((t.end for t in tags if t.start - over in (0, 1) and t.name in ("sheen", "subject", "color")), over)
    behind = _ONTO.match(text, look)
    unknown = behind is not None and any(at == behind.start("word") for at, _ in strangers)
    named = finding.surfaces and finding.surfaces[0].how == FoundBy.PHRASE
    return f"what it goes on is not known ({behind['word']})" if behind is not None and unknown and not named else ""


def _opened(finding: Finding, tags: Sequence[Tag], ends: Sequence[int], stated: Sequence[int]) -> str:
    """Why something may hold in one place only: a sentence before it, `Bathrooms (both).`, names that place and says no more."""
    if _is_placed(finding):
        return ""
    stops = [-1, *(e for e in ends if e < finding.fact.place)]
    if any(t.name in _OTHERS and t.start > stops[-1] for t in tags):
        return ""
    for low, high in pairwise(stops):
        rooms = [t.value for t in tags if t.name == "room" and low < t.start < high]
        if rooms and bisect_right(stated, low) == bisect_left(stated, high):
            return f"a place stands before it, and may be where it holds ({_some(rooms)})"
    return _beside_another(finding, [t for t in tags if stops[-1] < t.start < finding.fact.place])


def _beside_another(finding: Finding, led: Sequence[Tag]) -> str:
    """Why something said of a surface and no place may hold in one place only: `Hall walls two coats; ceiling one coat`, where the part of the
    sentence before it speaks of that place."""
    since = max((t.start for t in led if t.name == "SEMICOLON"), default=-1)
    own = [t for t in led if t.start > since]
    rooms = [t.value for t in led if t.name == "room" and t.start < since and not t.loose]
    general = any(t.name in _OTHERS or t.name == "ALL" for t in own)
    if since < 0 or not finding.surfaces or not rooms or general:
        return ""
    return f"the place before it may be where it holds ({_some(rooms)})"


def _on_several(finding: Finding) -> str:
    """Why a system may not go on all that a heading names: under `Types of walls and ceilings` some are for each."""
    over = len(finding.surfaces) > 1 and code_of(finding.surfaces[0].how) == FoundBy.HEADING
    return (
        "its heading names several surfaces, and does not say which one it goes on"
        if over and (finding.marks or finding.kind in _OF_SYSTEMS)
        else ""
    )


def _on_one_of_its_walls(finding: Finding) -> str:
    """Why it is not sure that what tells one wall from the others is said of all its places: `in the hall and on the north wall of the den`."""
    told = "facing" in finding.scope and len({surface is None for _, surface in finding.places}) > 1
    return "which of its places the wall belongs to is not sure" if told else ""


_OF_SYSTEMS = ("system", "type")


def _some(words: Sequence[str]) -> str:
    shown = list(dict.fromkeys(words))[:4]
    return ", ".join(shown) + (" ..." if len(words) > len(shown) else "")
