"""Parts of the panes that are dear to make, each asked for when it is opened: most never are."""

from __future__ import annotations

from urllib.parse import urlencode

from attrs import field, frozen
from jinja2 import Environment
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, PlainTextResponse, Response

from darby.bid.model import Bid
from darby.bid.prices.own_list import own_prices
from darby.desk.deeds import Deeds
from darby.desk.files.folder import RefusedError
from darby.desk.guard import Keys
from darby.desk.kept import Since
from darby.desk.panes.bid import LISTED, OWN_PRICES, bid_view, typed_view
from darby.desk.panes.clauses import Clause, clause_at
from darby.desk.panes.otherwise import otherwise_view
from darby.desk.views import Asked, View, books_of
from darby.estimate.model import Estimate
from darby.quantities.gc_pause import in_bulk
from darby.saved.model import Saved
from darby.text.diagnostics import Diagnostic

_DEAR = ("since", "bid", "otherwise")
"""What is made here, once for each state of the job, and not by its books."""


@frozen(eq=False)
class Parts:
    """The parts, over one folder."""

    deeds: Deeds
    keys: Keys
    templates: Environment
    _since: list[tuple[Saved, str, Since | None]] = field(factory=list, init=False)
    """What was worked out last, with the kept order and the state of the job that it is of."""
    _made: dict[str, tuple[str, View]] = field(factory=dict, init=False)
    """The bid and its alternates as they were made last, each with the state of the job that it is of."""

    async def working(self, request: Request) -> Response:
        """The working of one line of the order, alone: most are never opened."""
        return await self._part(request, "working")

    async def worth(self, request: Request) -> Response:
        """What the answers to one question change, where that is dear to work out."""
        return await self._part(request, "worth")

    async def since(self, request: Request) -> Response:
        """What moved since the order was kept, and why."""
        return await self._part(request, "since")

    async def asks(self, request: Request) -> Response:
        """What the letter may ask, and what it does."""
        return await self._part(request, "asks")

    async def bid(self, request: Request) -> Response:
        """The bid of the order as it is now: most of its cost is the hours, which are worked out beside the order."""
        return await self._part(request, "bid")

    async def otherwise(self, request: Request) -> Response:
        """What alternates of the documents and other ways of doing the work add or take: each is a bid of its own."""
        return await self._part(request, "otherwise")

    async def clause(self, request: Request) -> Response:
        """The whole clause around a mark, and the lines by which none of it is ordered."""
        query = request.query_params
        found = await run_in_threadpool(self._clause_at, query.get("document", ""), query.get("mark", ""))
        if found is None:
            return PlainTextResponse("There is nothing of that name in the documents as they are now.\n", 404)
        return JSONResponse({"words": found.words, "none": list(found.none), "there": found.there, "at": found.at})

    def _clause_at(self, document: str, mark: str) -> Clause | None:
        now = self.deeds.bench.look().estimate
        shown = books_of(now, None).documents.get(document) if now is not None else None
        if now is None or shown is None:
            return None
        return clause_at(now, shown, mark, lambda line: self.deeds.look(line, now.job).rules)

    async def _part(self, request: Request, name: str) -> Response:
        """A part of a pane: alone for the script, else as a page."""
        query = request.query_params
        asked = Asked(query.get("document", ""), query.get("table", "rooms"), number_in(query.get("from", "")))
        alone = request.headers.get("x-panes") == "1"
        made = await run_in_threadpool(self._part_made, name, query.get("of", ""), asked, alone)
        if made is None:
            return PlainTextResponse("There is nothing of that name in the order as it is now.\n", 404)
        return HTMLResponse(made[0], headers={"x-stamp": made[1]})

    def _moved_since(self, kept: Saved, stamp: str) -> Since | None:
        """What moved since an order was kept, worked out once for each state of the job: the causes are dear to find."""
        known = next((found for one, at, found in self._since if one is kept and at == stamp), None)
        if known is None and self.deeds.keeping is not None:
            known = self.deeds.keeping.since(kept)
            if self.deeds.bench.stamp() == stamp:  # no file was changed while it was worked out
                self._since[:] = [(kept, stamp, known)]
        return known

    def _bid_of(self, now: Estimate, stamp: str, name: str) -> View | None:
        """The bid, or what it is otherwise, made once for each state of the job; no bid where the job states no terms."""
        bench = self.deeds.bench
        at, known = self._made.get(name, ("", None))
        make = bench.bid if name == "bid" else bench.otherwise
        if (known is None or at != stamp) and make is not None:
            bid, found = make(now)
            if bid is None and not found:
                return None
            known = (
                self._bid_view(bid, found) if name == "bid" else otherwise_view(bid, found, books_of(now, None).shelf)
            )
            if bench.stamp() == stamp:  # no file was changed while it was made
                self._made[name] = stamp, known
        return known

    def _bid_view(self, bid: Bid | None, found: tuple[Diagnostic, ...]) -> View:
        """The bid, and what can be typed for it."""
        shown = {**bid_view(bid, found), "form": None, "lists": []}
        try:
            folder, job = self.deeds.bench.folder, self.deeds.job_text()
            typed = own_prices(folder.text(OWN_PRICES)) if OWN_PRICES in job.items("bid", "prices") else []
        except RefusedError:  # a file cannot be read as it is now, and nothing can be written into it
            return shown
        lists = [(key, what, job.items("bid", key)) for key, what in LISTED.items()]
        return {
            **shown,
            "form": typed_view(bid, typed, job.rows("bid.wages")) if bid is not None else None,
            "lists": lists,
        }

    @in_bulk()
    def _part_made(self, name: str, of: str, asked: Asked, alone: bool) -> tuple[str, str] | None:
        """The part, and the stamp of the state of the job that it is of: shown beside another, it would be of other numbers."""
        state = self.deeds.bench.look()
        now = state.estimate
        books = books_of(now, state.prices) if now is not None else None
        found: object = getattr(books, name)(of) if books is not None and name not in _DEAR else None
        if name in ("bid", "otherwise") and now is not None:
            found = self._bid_of(now, state.stamp, name)
            if found is None and state.stale and name == "bid":  # its terms were written after the last order
                found = {"waits": True}
        if name == "since" and (kept := self.deeds.kept()) is not None:
            found = self._moved_since(kept, state.stamp)
        if found is None:
            return None
        template = self.templates.get_template(f"{name}.html.j2" if alone else "part.html.j2")
        at = {"documents": {"open": asked.document}, "measures": {"table": asked.table, "first": asked.first}}
        made = template.render(part=name, found=found, where=home_of(asked), key=self.keys.form, **at)
        return made, state.stamp


def home_of(asked: Asked) -> str:
    """The address of a page as it was asked for."""
    first = {"from": asked.first} if asked.first else {}
    return f"/?{urlencode({'document': asked.document, 'table': asked.table, **first})}"


def number_in(said: str) -> int:
    """The number of a row, as an address or a form says it; the first where it says none."""
    return int(said) if said.isascii() and said.isdigit() and len(said) < 8 else 0
