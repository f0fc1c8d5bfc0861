"""A text in letters of one size, letter for letter, so that every place in it holds."""

from __future__ import annotations

from functools import lru_cache


@lru_cache(64)
def capitals_of(text: str) -> str:
    """A text as codes are looked for in it: in capitals, letter for letter, where it has none of its own."""
    if not text.islower():
        return text
    high = text.upper()
    return high if len(high) == len(text) else "".join(c.upper() if len(c.upper()) == 1 else c for c in text)


def small_letters_of(text: str) -> str:
    """Lower case, letter for letter: the few letters whose lower case is longer stay as they are; a small text itself."""
    low = text if text.islower() else text.lower()
    return low if len(low) == len(text) else "".join(c.lower() if len(c.lower()) == 1 else c for c in text)
