"""Tables of finished jobs in plain text, and the rates that come of them."""

from __future__ import annotations

from bids import lexicon, meanings, plugins
from darby.bid.history.finished_jobs import read_finished
from darby.bid.history.own_rates import OwnRate, own_rates
from darby.bid.tasks import operations_of
from darby.labor.rate_lines import vocabulary
from darby.reading.parsing.lexicon import Lexicon
from darby.reading.read import Language
from darby.text.spans import Source

HEAD = "job,product,measured,used,hours,coats,surface,level,method,thickness,leave out,finished\n"


def found(text: str) -> tuple[OwnRate, ...]:
    words = Lexicon.of((vocabulary(), *lexicon().vocabularies))
    rows, told = read_finished([Source("jobs.csv", HEAD + text)], meanings(), operations_of(plugins()), words)
    assert not told
    return own_rates(rows, operations_of(plugins()), words, Language.of(plugins().readers, plugins().vocabularies))


def rate(text: str) -> OwnRate:
    (one,) = found(text)
    return one


def hung(*hours: float | str, area: str = "1000 sq ft") -> str:
    return "".join(f"job {n},hang gypsum board,{area},,{h},,wall,,,,,\n" for n, h in enumerate(hours))
