"""Whether a sentence of an addendum is plainly a change: no word beside it denies, conditions or limits what it tells.

A change that is carried out wider than it was meant is worse than a question.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from darby.reading.addenda.instructions import Instruction
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.parsing.vocabulary import Vocabulary, strings
from darby.rules.name_matching import stems
from darby.rules.rule import Rule

_ASKED = r"\?|(?<![\w.])(?<![0-9] )[QA]:"
"""Signs of a question or its answer."""
_QUOTED = re.compile(r"[\"“][^\"“”]{0,400}[\"”]")
_CODE = re.compile(r"(?<![\w.])[A-Z]{0,2}-?[0-9]{2,4}[A-Z]?(?![\w.])|(?<![\w.])[A-Z]{1,2}-?[0-9]{1,4}(?![\w.])")
_REACH = 40
"""Letters before the name of a room in which its number stands."""
_DENIES_THE_OLD = re.compile(r"\W*(?:and\s+)?\bnot\s+(?:the\s+)?$", re.IGNORECASE)
_LIMITS = ("room", "surface", "where")


def doubt(one: Instruction, rules: Sequence[Rule], lexicon: Lexicon, around: str = "") -> str:
    """The word beside a change that denies it, conditions it, or says where it holds though the changed rules do not; else nothing.

    `around` is the clause in which the old words stand, with what it stands under: a room that it names too (`G3 Dining room`) limits nothing.
    """
    rest = beside = _rest(one)
    if '"' in one.span.text or "“" in one.span.text:  # only then can what stands around be told from what changes
        headings = " ".join(c.text for c in one.clause.parents if c.text.upper().startswith("ALTERNATE"))
        beside = f"{headings} {rest} {_QUOTED.sub(' ', one.clause.text)}"
    if found := doubted_by(lexicon.vocabularies).search(beside):
        return found[0]
    for tag in lexicon.tags(rest):
        if tag.name in _LIMITS and rules and not any(tag.value in rule.scope.values() for rule in rules):
            codes = _CODE.findall(rest, max(0, tag.start - _REACH), tag.start)
            named = {stem for name in (tag.value, *codes) for stem in stems(name)}
            if tag.name == "room" and around and named <= set(stems(around)):
                continue
            return rest[tag.start : tag.end]
    return ""


@lru_cache(maxsize=8)
def doubted_by(vocabularies: tuple[Vocabulary, ...]) -> re.Pattern[str]:
    """What denies, conditions or limits a change, by the words that vocabularies list for it."""
    tables = [v.tables.get("doubted_change", {}) for v in vocabularies]
    words, harmless = (
        "|".join(re.escape(w).replace(r"\ ", r"\s+") for t in tables for w in strings(t.get(key))) or "(?!)"
        for key in ("words", "harmless")
    )
    return re.compile(rf"\b(?!(?:{harmless})\b)(?:{words})\b|{_ASKED}", re.IGNORECASE)


def _rest(one: Instruction) -> str:
    """The sentence without the paragraph, the old words and the new."""
    text = one.span.text
    for part in (one.at, one.old, one.new):
        if part is not None and part.source is one.span.source:
            start, end = part.start - one.span.start, part.end - one.span.start
            text = text[:start] + " " * (end - start) + text[end:]
    if (
        one.old is not None and one.new is not None and one.old.source is one.new.source
    ):  # `three, not two` denies nothing but the old words
        low, high = sorted((one.old, one.new), key=lambda part: part.start)
        between = text[low.end - one.span.start : high.start - one.span.start]
        if low is one.new and (denies := _DENIES_THE_OLD.search(between)):
            start = low.end - one.span.start + denies.start()
            text = text[:start] + " " * len(denies[0]) + text[high.start - one.span.start :]
    return text
