"""Settings of trades: a line of a firm, a default line and the job choose, the nearest to the job wins, and slips are told at their line."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from darby.estimate.line_item import LineItem
from darby.estimate.model import Estimate
from darby.job.loader import load
from darby.job.model import Job
from darby.job.rows.declared import Key
from darby.pipeline import estimate
from darby.plugin_host.loader import load_plugins
from darby.plugin_host.model import Plugins
from darby.quantities.amounts import Amount
from darby.rules.consultation import Consultation
from darby.rules.rule import HOUSE
from darby.text.spans import Source
from outsiders import own
from rogues import lines

KEYS = (
    Key("side", "length", least="6 in", most="5 ft"),
    Key("laid", "word", words=("straight", "diagonal")),
    Key("spare_rows", "count"),
    Key("edge_trim", "flag"),
)
DEFAULTS = {u: Source(f"mat {u}", "Mat: side = 2 ft. [common practice]\n") for u in ("us", "metric")}
FLAGGED = {"us": Source("mat us", "Mat: side = 2 ft. [common practice]\nMat: edge trim = yes. [our practice]\n")}
ROOM = 'name = "j"\nunits = "us"\n[[ceilings]]\nname = "c"\narea = "100 sq ft"\n'


def lay(job: Job, book: Consultation) -> Iterator[LineItem]:
    side, laid, rows, trim = (book.ask("setting", f"mat {key}") for key in ("side", "laid", "spare rows", "edge trim"))
    if side is not None:
        pool = {
            "side": side.amount.exact(),
            "laid": laid.rule.choice if laid else "",
            "trim": trim.rule.choice if trim else "",
        }
        yield LineItem("mat", (rows.amount if rows else Amount.of(1)).named("rows"), pool, rules=(side.rule,))


@pytest.fixture(scope="module", params=[False, True], ids=["apart", "here"])
def plugins(request: pytest.FixtureRequest) -> Plugins:
    return load_plugins(entries=[lines(lay, "mat", settings=KEYS, defaults=DEFAULTS), *own()], here=request.param)


def made(plugins: Plugins, job: str = ROOM, house: str = "") -> Estimate:
    read, found = load(Source("job.toml", job), plugins.marks)
    assert read is not None, [(d.code, d.message, d.help) for d in found]
    return estimate(read, [(Source("house.txt", house), HOUSE)] if house else [], plugins)


def pool(done: Estimate) -> dict[str, str]:
    (item,) = (i for i in done.items if i.trade == "mat")
    return {**item.pool, "rows": item.need.exact()}


def test_a_default_line_sets_it_and_a_house_line_and_the_job_beat_that(plugins: Plugins) -> None:
    plain = made(plugins)
    assert (pool(plain)["side"], plain.missing) == ("2 ft", ())
    house = "# ours\nmat: Side = 18 in [our practice]\nMat: laid = Diagonal.\nMat: spare rows = 3.\nMat: edge-trim = yes\nPrimer: one coat.\n"
    ours = made(plugins, house=house)
    assert pool(ours) == {"side": "18 in", "laid": "diagonal", "trim": "yes", "rows": "3"}
    (rule,) = (r for r in ours.rules if r.subject == "mat side" and r.layer == HOUSE)
    assert (rule.cited, str(rule.span).partition(":")[0]) == ("our practice", "house.txt")
    assert not [n for n in ours.unread if n[0].source.name == "house.txt"]
    job = made(plugins, ROOM + '[settings.mat]\nside = "3 ft"\nedge_trim = false\nspare_rows = 2\n', house)
    assert pool(job) == {"side": "3 ft", "laid": "diagonal", "trim": "no", "rows": "2"}
    line = made(plugins, ROOM.replace("[[", 'rules = ["Mat: side = 4 ft."]\n[[', 1), house)
    assert pool(line)["side"] == "4 ft"


def test_what_nobody_set_is_asked(plugins: Plugins) -> None:
    asked = [q.text for q in made(plugins).questions if "mat " in q.text]
    assert "What mat laid? The documents do not say, and nothing was assumed." in asked
    assert "What mat side? The documents do not say; 2 ft was assumed (default line)." in asked
    asked = [
        q.text
        for q in made(load_plugins(entries=[lines(lay, "mat", settings=KEYS, defaults=FLAGGED), *own()])).questions
    ]
    assert "What mat edge trim? The documents do not say; yes was assumed (default line)." in asked


@pytest.mark.parametrize(
    ("line", "message", "help"),
    [
        ("Mat: sied = 2 ft.", 'the trade mat has no key "sied"', "Did you mean side?"),
        ("Mat: laid = diagonl.", 'laid of the trade mat is "diagonl"', "Did you mean diagonal?"),
        ("Mat: side = 9 ft.", "side of the trade mat is 9 ft; it is 6 in to 5 ft", "Look for"),
        ("Mat: side = .", "side of the trade mat", ""),
        ("Mat: spare rows = many.", "spare_rows of the trade mat", "2"),
    ],
)
def test_a_slip_in_a_line_is_told_there(plugins: Plugins, line: str, message: str, help: str) -> None:
    done = made(plugins, house=f"Primer: one coat.\n{line}\n")
    told = [d for d in done.diagnostics if message in d.message and help in d.help]
    assert told, [(d.message, d.help) for d in done.diagnostics]
    assert str(told[0].span).startswith("house.txt:2")


def test_a_slip_in_the_job_is_told_there_and_the_keys_are_listed(plugins: Plugins) -> None:
    for text, said in (
        ('[settings.mat]\nsied = "2 ft"\n', '[settings.mat] has no key "sied"'),
        ('[settings.matt]\nside = "2 ft"\n', '[settings] has no key "matt"'),
        ("[settings.mat]\nside = 2\n", "is 2 without a unit"),
    ):
        read, found = load(Source("job.toml", ROOM + text), plugins.marks)
        assert read is None
        assert said in found[0].message
        assert found[0].span is not None
    (mat,) = (one for one in plugins.taken if one.name == "mat")
    assert mat.job[0] == "[settings.mat] side: a length from 6 in to 5 ft"


def test_without_the_trade_such_a_line_is_like_any_that_nobody_understands() -> None:
    done = made(load_plugins(entries=own()), house="Mat: laid = diagonal.\n")
    assert "line-not-understood" in {d.code for d in done.diagnostics}
    refused = load_plugins(entries=[lines(lay, "mat", settings=(Key("Side"),)), *own()])
    assert "whose key 'Side' is no name" in refused.diagnostics[0].message
