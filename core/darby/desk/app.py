"""The pages of the desk and what may be sent to it: addresses to views and deeds."""

from __future__ import annotations

from collections.abc import Mapping
from importlib.resources import files

from attrs import evolve
from jinja2 import Environment, PackageLoader, StrictUndefined
from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, PlainTextResponse, RedirectResponse, Response
from starlette.routing import Route

from darby.desk.bench import Bench
from darby.desk.deeds import Deeds
from darby.desk.files.folder import RefusedError
from darby.desk.guard import Guard, Keys
from darby.desk.kept import Keeping
from darby.desk.panes.own_line import Looked, choices, today
from darby.desk.parts import Parts, home_of, number_in
from darby.desk.views import BIDS, Asked, View, found_row, page, papers
from darby.documents.catalogue import document_named
from darby.documents.words import harmless, one_line
from darby.quantities.gc_pause import in_bulk

PANES = ("top", "documents", "measures", "order", "points")
_STATIC = {
    "style.css": ("darby.documents", "templates/style.css", "text/css"),
    "desk.css": ("darby.desk", "templates/desk.css", "text/css"),
    "desk.js": ("darby.desk", "templates/desk.js", "text/javascript"),
}
_ALONE = (
    b"sandbox allow-scripts allow-modals; default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'"
)
"""The policy of a paper that is looked at: it is a page of its own that reaches nothing, and brings a stricter policy besides."""
_KINDS = {"html": "text/html", "csv": "text/csv", "json": "application/json", "md": "text/plain"}
_FIELDS = 200
_ROOMS = 1_000
"""Rooms of a job by which lines are completed."""
_LAST = 9_999_999
"""A row behind all others: of a table the end is shown."""


def app(bench: Bench, look: Looked, keys: Keys, port: int, keeping: Keeping | None = None) -> Guard:
    """The desk over one folder, behind its door."""
    desk = _Desk(bench, look, keys, keeping)
    routes = [
        Route("/", desk.home),
        Route("/state", desk.state),
        Route("/working", desk.parts.working),
        Route("/worth", desk.parts.worth),
        Route("/since", desk.parts.since),
        Route("/asks", desk.parts.asks),
        Route("/bid", desk.parts.bid),
        Route("/otherwise", desk.parts.otherwise),
        Route("/clause", desk.parts.clause),
        Route("/words", desk.words),
        Route("/papers", desk.papers),
        Route("/paper/{name}", desk.paper),
        Route("/static/{name}", desk.static),
        Route("/favicon.ico", desk.picture),
        Route("/check", desk.check, methods=["POST"]),
        Route("/preview", desk.preview, methods=["POST"]),
        Route("/upload", desk.upload, methods=["POST"]),
        Route("/do/{deed}", desk.do, methods=["POST"]),
    ]
    return Guard(Starlette(routes=routes), keys, port)


class _Desk:
    def __init__(self, bench: Bench, look: Looked, keys: Keys, keeping: Keeping | None) -> None:
        self.bench, self.look, self.keys = bench, look, keys
        self.deeds = Deeds(bench, look, keeping)
        self._flash: Asked | None = None
        loader = PackageLoader("darby.desk")
        self.templates = Environment(
            loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True
        )
        self.templates.filters["safe_text"] = harmless
        self.templates.filters["line"] = one_line
        self.parts = Parts(self.deeds, self.keys, self.templates)

    async def home(self, request: Request) -> Response:
        """The whole page."""
        query = request.query_params
        asked, self._flash = self._flash, None
        if asked is None or (query and not asked.refused):
            told = asked.told if asked is not None else ""
            asked = Asked(
                query.get("document", ""), query.get("table", "rooms"), number_in(query.get("from", "")), told,
                new=query.get("name", "")[:200],
            )  # fmt: skip
        if query.get("find"):
            return await run_in_threadpool(self._found, asked, query["find"])
        return HTMLResponse(await run_in_threadpool(self._rendered, asked, "desk"))

    def _found(self, asked: Asked, said: str) -> Response:
        """The way to the row of a table that is called so."""
        at = found_row(self.bench, asked.table, said)
        if at is None:
            self._flash = evolve(asked, refused=f"No row of {one_line(asked.table)} is called “{one_line(said)[:60]}”.")
            return RedirectResponse(home_of(asked), 303)
        return RedirectResponse(f"{home_of(evolve(asked, first=at))}#r-{asked.table}-{at}-row", 303)

    async def state(self, request: Request) -> Response:  # noqa: ARG002
        """What the files hold, as a stamp: another one means that there is something new to show."""
        return JSONResponse({"stamp": await run_in_threadpool(self.deeds.bench.stamp)})

    async def words(self, request: Request) -> Response:  # noqa: ARG002
        """The words by which a line is completed, and the rooms of the job."""
        now = (await run_in_threadpool(self.bench.look)).estimate
        rooms = [one_line(room.name) for room in now.job.rooms[:_ROOMS]] if now is not None else []
        return JSONResponse(list(dict.fromkeys((*self.bench.words(), *rooms))))

    async def papers(self, request: Request) -> Response:  # noqa: ARG002
        """All papers that can be made, with what those that are sent say besides the order."""
        asked, self._flash = self._flash or Asked(), None
        shown = await run_in_threadpool(papers, self.bench, asked, self.keys.form)
        return HTMLResponse(self.templates.get_template("papers.html.j2").render(**shown, today=today()))

    async def paper(self, request: Request) -> Response:
        """One paper, made from the estimate as it is."""
        wanted = document_named(request.path_params["name"])
        state = await run_in_threadpool(self.bench.look)
        now = state.estimate
        if state.stale:
            wrong = "".join(f"{one_line(d.message)}. {one_line(d.help)}\n" for d in state.problems)
            return PlainTextResponse(
                f"The job cannot be worked out as its files are now, so no paper is made.\n{wrong}", 409
            )
        name, write = request.path_params["name"], self.bench.bid_paper
        made: str | bytes | None = None
        if now is not None and name in BIDS and write is not None:
            made = await run_in_threadpool(write, now, name.rpartition(".")[2])
        elif now is not None and wanted is not None:
            name, made = wanted.name, await run_in_threadpool(wanted.make, now)
        if made is None:
            return PlainTextResponse("There is no such paper, or nothing to make it from yet.\n", 404)
        ending = name.rpartition(".")[2]
        kind = _KINDS.get(ending, "text/plain" if isinstance(made, str) else "application/octet-stream")
        heads = {}
        if ending not in ("html", "md") and isinstance(made, bytes | str) and kind != "text/plain":
            heads["content-disposition"] = f'attachment; filename="{_file_name(name)}"'
        response = Response(made, media_type=kind if kind == "application/octet-stream" else f"{kind}; charset=utf-8", headers=heads)  # fmt: skip
        response.raw_headers.append((b"content-security-policy", _ALONE))
        return response

    async def static(self, request: Request) -> Response:
        """The style and script of the desk."""
        found = _STATIC.get(request.path_params["name"])
        if found is None:
            return PlainTextResponse("There is nothing here.\n", 404)
        package, path, kind = found
        return Response((files(package) / path).read_bytes(), media_type=kind)

    async def picture(self, request: Request) -> Response:  # noqa: ARG002
        """What browsers ask for unasked: there is none."""
        return Response(status_code=204)

    async def check(self, request: Request) -> Response:
        """What a line would be read as."""
        form = await self._form(request)
        if form is None:
            return self._stranger()
        now = self.bench.look().estimate
        heard = await run_in_threadpool(self.look, form.get("line", ""), now.job if now is not None else None)
        return JSONResponse({"says": list(heard.says), "wrong": heard.wrong})

    async def preview(self, request: Request) -> Response:
        """What a pasted list would be taken for: for the script alone, else as a page."""
        form = await self._form(request)
        if form is None:
            return self._stranger()
        found = await run_in_threadpool(self.deeds.list_preview, form)
        alone = request.headers.get("x-panes") == "1"
        where = home_of(Asked(form.get("at-document", ""), form.get("at-table", "rooms")))
        template = self.templates.get_template("list.html.j2" if alone else "part.html.j2")
        return HTMLResponse(template.render(part="list", found=found, where=where))

    async def upload(self, request: Request) -> Response:
        """A file taken in as a document."""
        async with request.form(max_files=1, max_fields=20) as sent:
            if sent.get("key") != self.keys.form:
                return self._stranger()
            file = sent.get("file")
            if not isinstance(file, UploadFile):
                return await self._after(request, Asked(refused="No file was chosen."))
            data, name, role = await file.read(), file.filename or "", str(sent.get("role", ""))
        try:
            told = await run_in_threadpool(self.deeds.upload, role, name, data)
        except RefusedError as refused:
            return await self._after(request, Asked(refused=str(refused)))
        return await self._after(request, Asked(told=told, document=self._last_document()))

    async def do(self, request: Request) -> Response:
        """A deed, named in the address; what it did or why not stands on the page that follows."""
        form = await self._form(request)
        if form is None:
            return self._stranger()
        deed = self.deeds.named(request.path_params["deed"])
        if deed is None:
            return PlainTextResponse("There is nothing of that name to do.\n", 404)
        document, table, first = (
            form.get("at-document", ""),
            form.get("at-table", "rooms"),
            number_in(form.get("at-from", "")),
        )
        try:
            told = await run_in_threadpool(deed, form)
        except RefusedError as refused:
            return await self._after(request, Asked(document, table, first, refused=str(refused), typed=form), form)
        if request.path_params["deed"] == "paste":
            document = self._last_document()
        if request.path_params["deed"] == "row-new":
            first = _LAST
        return await self._after(request, Asked(document, table, first, told=told), form)

    async def _form(self, request: Request) -> Mapping[str, str] | None:
        """The fields of a form of ours; None where it does not hold the key that every one has."""
        async with request.form(max_files=0, max_fields=_FIELDS) as sent:
            found = {name: value for name, value in sent.items() if isinstance(value, str)}
        return found if found.get("key") == self.keys.form else None

    async def _after(self, request: Request, asked: Asked, form: Mapping[str, str] | None = None) -> Response:
        """What follows a deed: the panes for the script, or a page of its own, so that loading it again does nothing again."""
        if request.headers.get("x-panes") != "1":
            self._flash = asked
            if form is not None and "paper" in form:
                return RedirectResponse("/papers", 303)
            return RedirectResponse(home_of(asked), 303)
        return JSONResponse(await run_in_threadpool(self._panes, asked))

    @in_bulk()
    def _panes(self, asked: Asked) -> View:
        """The panes as they are now, for the script."""
        shown = self._page(asked)
        panes = {name: self.templates.get_template(f"{name}.html.j2").render(**shown) for name in PANES}
        said = " ".join(filter(None, (asked.refused or asked.told, "" if asked.refused else shown["moved_told"])))
        where = home_of(evolve(asked, first=shown["measures"]["first"]))
        return {
            "panes": panes, "told": said, "refused": bool(asked.refused), "stamp": shown["stamp"], "where": where,
        }  # fmt: skip

    @in_bulk()
    def _rendered(self, asked: Asked, name: str) -> str:
        return self.templates.get_template(f"{name}.html.j2").render(**self._page(asked))

    def _page(self, asked: Asked) -> View:
        shown = page(self.bench, asked, self.keys.form, self.deeds.kept())
        now = shown["estimate"]
        return {**shown, "today": today(), "choices": choices(now, self.look) if now is not None else ()}

    def _last_document(self) -> str:
        named = self.bench.files()
        return self.bench.folder.done[-1].what.removeprefix("the document ") if named and self.bench.folder.done else ""

    @staticmethod
    def _stranger() -> Response:
        return PlainTextResponse(
            "This form is not of the desk as it runs now. Reload the page, and send it again.\n", 403
        )


def _file_name(name: str) -> str:
    """What a paper is called when it is kept: `estimate.xlsx`, `order.csv`."""
    return name if "." in name else f"estimate.{name}"
