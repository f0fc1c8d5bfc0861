"""Damage undone before reading: markup, entities, odd marks, lost ligatures, letters for digits. Places stay the user's."""

from __future__ import annotations

import html
import re
from collections.abc import Callable, Iterator

from darby.text.spans import Source, View

_SAME_LENGTH = str.maketrans({
    "“": '"', "”": '"', "„": '"', "″": '"', "‟": '"', "‘": "'", "’": "'", "′": "'", "ʼ": "'", "`": "'", "´": "'",
    "\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u202f": " ", "\u200a": " ", "\u2002": " ", "\u2003": " ",
    "‐": "-", "‑": "-", "‒": "-", "−": "-", "⁄": "/", "∕": "/", "×": "x", "º": "°", "µ": "u", "μ": "u", "\x0c": "\n",
    "\u2028": "\n", "\u2029": "\n", "\x0b": "\n", "\x85": "\n",
})  # fmt: skip
_LONGER = {
    "ﬁ": "fi",
    "ﬂ": "fl",
    "ﬀ": "ff",
    "ﬃ": "ffi",
    "ﬄ": "ffl",
    "…": "...",
    "\ufeff": "",
    "\u200b": "",
    "\u00ad": "",
}
_LONG_SIGN = re.compile("[" + "".join(_LONGER) + "]")

_MARKUP = re.compile(
    r"~~[^~\n]{1,300}~~|<(?:del|s|strike)>[^<]{0,500}</(?:del|s|strike)>|<!--(?:[^-]|-(?!->)){0,2000}-->|<(?:script|style)\b[^>]{0,300}>[^<]{0,5000}</(?:script|style)\s{0,3}>"
    r"|</?([a-zA-Z][a-zA-Z0-9]{0,12})\b[^<>]{0,500}>|&(?:#[0-9]{1,7}|#[xX][0-9a-fA-F]{1,6}|[a-zA-Z][a-zA-Z0-9]{1,30});"
)
_LOOKS_LIKE_MARKUP = re.compile(
    r"~~[^~\n]{1,300}~~|</?(?:html|body|p|del|ins|s|strike|br|div|span|li|ul|ol|table|tr|td|th|b|i|u|em|strong|h[1-6]|font|sup|sub|a|img)\b[^<>]{0,300}>"
    r"|&(?:nbsp|quot|amp|frac[0-9]{2}|#[0-9]{2,5}|[rl]dquo|[rl]squo|[nm]dash|times|deg);",
    re.IGNORECASE,
)
_NEW_LINE = {
    "p",
    "br",
    "div",
    "li",
    "ul",
    "ol",
    "table",
    "tr",
    "h1",
    "h2",
    "h3",
    "h4",
    "h5",
    "h6",
    "body",
    "section",
    "dt",
    "dd",
    "hr",
}
_CELL = {"td", "th"}
_HEADING = {"h1", "h2", "h3", "h4", "h5", "h6"}

_STRESSED = re.compile(
    r"(?:^|(?<=[\s|(]))(?P<mark>\*\*|__)(?![*_\s])(?P<words>[^*_\n]{1,120})(?<!\s)(?P=mark)(?![A-Za-z0-9*_])"
    r"|(?:^|(?<=[\s|(]))(?P<sign>[*_`])(?P<code>[A-Z]{1,4}[-. ]?[0-9]{1,3}[A-Za-z]?:?)(?P=sign)(?![A-Za-z0-9*_])",
    re.MULTILINE,
)
"""Words between signs that only make them bold, or a code that stands out: `**WC-1**`, `*WC-1*`."""
_SCANNED_WORD = re.compile(
    r"(?<![A-Za-z0-9/.])(?=[A-Za-z0-9]{0,20}[a-zA-Z])(?=[A-Za-z0-9]{0,20}[01I])[A-Za-z0-9]{3,20}(?![A-Za-z0-9/])"
)
_PLAIN_WORD = re.compile(r"(?<![A-Za-z0-9])[A-Za-z]{4,20}(?![A-Za-z0-9])")
_LETTER_APART = re.compile(r"(?<![A-Za-z])([A-Z]) ([a-z]{3,12})(?![A-Za-z])")


_PARAGRAPH = re.compile(r"\(?[A-Za-z0-9]{1,3}[.)]|[0-9]{1,3}(?:\.[0-9]{1,3}){1,5}|[-–•*]")
"""What stands before a tab where it is a paragraph's number, and the tab no column's edge."""


def mend(source: Source, known: Callable[[str], bool]) -> View:
    """A view of the source as its writer meant it. `known` tells whether a lower-case word is one of the language's."""
    view = View.of(source)
    if _LOOKS_LIKE_MARKUP.search(source.text):
        view = view.replace(list(_without_markup(view.text)))
    if _STRESSED.search(view.text):
        view = view.replace(list(_unstressed(view.text)))
    text = view.text
    flat = _without_tabs(text.translate(_SAME_LENGTH))
    if "\r" in flat:
        flat = flat.replace("\r\n", " \n").replace("\r", "\n")
    edits = [(m.start(), m.end(), _LONGER[m[0]]) for m in _LONG_SIGN.finditer(flat)]
    taken = {start for start, _, _ in edits}
    edits += (
        [(i, i + 1, new) for i, (old, new) in enumerate(zip(text, flat, strict=True)) if old != new and i not in taken]
        if flat != text
        else []
    )
    edits.sort()
    if edits:
        view = view.replace(_grouped(edits))
    repairs: list[tuple[int, int, str]] = []
    for repair in sorted(_scanned_words(view.text, known)):
        if not repairs or repair[0] >= repairs[-1][1]:
            repairs.append(repair)
    if not repairs:
        return view
    view = view.replace(repairs)
    # where a scanner took one letter for another it did so more than once
    return view.replace(list(_taken_for_l(view.text, known)))


def _unstressed(text: str) -> Iterator[tuple[int, int, str]]:
    """Edits that take away the signs around words that stand out."""
    for match in _STRESSED.finditer(text):
        start, end = match.span("words" if match["words"] is not None else "code")
        yield match.start(), start, ""
        yield end, match.end(), ""


def _without_tabs(text: str) -> str:
    """Tabs as blanks, but where lines that follow each other are parted by them: those are the rows of a sheet."""
    if "\t" not in text:
        return text
    lines = text.split("\n")
    filled = [n for n, line in enumerate(lines) if line.strip()]
    tabbed = [False, *(_has_columns(lines[n]) for n in filled), False]
    rows = {n for at, n in enumerate(filled, 1) if tabbed[at] and (tabbed[at - 1] or tabbed[at + 1])}
    return "\n".join(line if n in rows else line.replace("\t", " ") for n, line in enumerate(lines))


def _has_columns(line: str) -> bool:
    cells = line.strip().split("\t")
    return len(cells) > 1 and not (len(cells) == 2 and _PARAGRAPH.fullmatch(cells[0].strip()))


def _grouped(edits: list[tuple[int, int, str]]) -> Iterator[tuple[int, int, str]]:
    """Single-letter edits that touch, joined into one, letter for letter."""
    start, end, text = edits[0]
    for s, e, t in edits[1:]:
        if s == end and len(text) == end - start and len(t) == e - s:
            end, text = e, text + t
        else:
            yield start, end, text
            start, end, text = s, e, t
    yield start, end, text


def _without_markup(text: str) -> Iterator[tuple[int, int, str]]:
    """Edits that turn markup into the layout it stands for: new lines, bullets, cells."""
    for match in _MARKUP.finditer(text):
        said = match[0]
        if said.startswith("&"):
            meant = html.unescape(said)
            if meant != said:
                yield match.start(), match.end(), meant
            continue
        if said.startswith("~~") or re.match(r"<(?:del|s|strike)>", said):
            yield match.start(), match.end(), ""  # struck out
            continue
        tag = (match[1] or "").lower()
        closing = said.startswith("</")
        if tag == "li" and not closing:
            new = "\n- "
        elif tag in _HEADING:
            new = "\n\n" if closing else "\n\n# "
        elif tag in _CELL:
            new = " " if closing else " | "
        elif tag in _NEW_LINE:
            # a line break inside a sentence is only a wrapped line where one follows anyway
            new = "" if tag == "br" and text[match.end() : match.end() + 1] in ("\n", "\r") else "\n"
        else:
            new = ""
        yield match.start(), match.end(), new


def _taken_for_l(text: str, known: Callable[[str], bool]) -> Iterator[tuple[int, int, str]]:
    for match in _PLAIN_WORD.finditer(text):
        word = match[0]
        if known(word.lower()):
            continue
        if "rn" in word and known(word.lower().replace("rn", "m")):
            yield match.start(), match.end(), word.replace("rn", "m")
            continue
        if "i" not in word:
            continue
        for at in (n for n, c in enumerate(word) if c == "i"):
            new = word[:at] + "l" + word[at + 1 :]
            if known(new.lower()):
                yield match.start(), match.end(), new
                break


_CODE = re.compile(r"[A-Z]{1,3}[01]{1,3}")
"""What is a code rather than a word that a scanner spoiled: `C01`."""


def _scanned_words(text: str, known: Callable[[str], bool]) -> Iterator[tuple[int, int, str]]:
    """Words in which a scanner took a letter for a digit, or `l` for `I`, where exactly a known word results."""
    for match in _SCANNED_WORD.finditer(text):
        word = match[0]
        if known(word.lower()) or _CODE.fullmatch(word):
            continue
        for swap in (str.maketrans("1I0", "llo"), str.maketrans("1I0", "iio"), str.maketrans("1I0", "LIO")):
            new = word.translate(swap)
            if new != word and known(new.lower()):
                yield match.start(), match.end(), new
                break
    for match in _LETTER_APART.finditer(text):
        joined = match[1] + match[2]
        if match[1] not in "AI" and known(joined.lower()) and not known(match[2]):
            yield match.start(), match.end(), joined
