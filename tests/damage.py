"""Saved estimates harmed in the ways in which files are."""

from __future__ import annotations

import json
import random
from typing import Any

from darby.saved.writer import laid_out

VALUES = (None, True, -1, 10**40, 1.5, "", "x", "1/0", [], {}, [[]], {"value": "1"})


def damaged(text: str, chance: random.Random) -> str:
    """A saved text harmed in one of the ways in which files are."""
    way = chance.randrange(5)
    if way == 0:
        return text[: chance.randrange(len(text))]
    if way == 1:
        data = bytearray(text.encode())
        for _ in range(chance.randint(1, 3)):
            data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
        return data.decode("utf-8", "replace")
    data = json.loads(text)
    del data["checks"]
    where: Any = data
    key: Any = chance.choice(sorted(where))
    for _ in range(chance.randrange(6)):
        inner = where[key]
        if not isinstance(inner, list | dict) or not inner:
            break
        where, key = inner, chance.choice(sorted(inner)) if isinstance(inner, dict) else chance.randrange(len(inner))
    if way == 2:
        where[key] = chance.choice(VALUES)
    elif way == 3:
        deep: Any = "x"
        for _ in range(chance.choice((3, 300))):
            deep = [deep] if chance.random() < 0.5 else {"value": deep}
        where[key] = deep
    else:
        where[key] = chance.choice((10 ** chance.randrange(400), f"{10**3999}/7", "9" * 5000, "-0/0"))
    sound = laid_out(data)  # with checks that hold, so that nothing but the shape can give it away
    return sound if chance.random() < 0.8 else sound[: -chance.randint(2, 9)]
