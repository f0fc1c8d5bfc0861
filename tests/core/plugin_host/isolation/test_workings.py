"""Lines and their working as rows and back, however deep; forged rows are refused."""

from __future__ import annotations

import json
import sys
from typing import Any

import pytest

from darby.estimate.attachments import Table
from darby.estimate.line_item import Aside, LineItem
from darby.plugin_host.isolation.failures import NonsenseError
from darby.plugin_host.isolation.workings import Reader, Writer, numbered
from darby.quantities.amounts import Amount, Origin, leaves, walk
from darby.text.spans import Source

TEXT = Source("spec.txt", "Hooks: 3 per wall.")


def through(item: LineItem) -> LineItem:
    writer = Writer(lambda rule: 0, lambda source: 0)
    written = json.loads(json.dumps([writer.items([item]), writer.rows]))
    return Reader(written[1], numbered([], "rule"), numbered([TEXT], "text")).items(written[0])[0]


def test_a_line_comes_back_with_its_working_its_notes_and_its_tables() -> None:
    leaf = Amount.of(3, "each", Origin("hooks", "3", TEXT.span(7, 8), "specification"), "hooks")
    need = (leaf * Amount.read("4 lb")).named("hooks needed") + Amount.read("1 kg")
    table = Table("Hooks", ("n",), ((leaf,), (7,), ("x",), (None,)))
    package = Amount.read("2 lb") / Amount.of(1, "box")
    made = LineItem(
        "hook", need, {"size": "3"}, package, notes=("A note.", Aside("Weight", "8 lb.")), attachments=lambda: (table,)
    )
    back = through(made)
    assert (back.product, back.pool, back.need, back.count, back.notes) == (
        "hook",
        made.pool,
        need,
        made.count,
        made.notes,
    )
    assert isinstance(back.notes[1], Aside)
    assert [(a.exact(), a.step.op, a.label, a.step.origin) for a in walk(back.need)] == [
        (a.exact(), a.step.op, a.label, a.step.origin) for a in walk(need)
    ]
    (shown,) = back.attachments()
    assert shown == table


def test_a_working_of_any_depth_comes_back() -> None:
    need = Amount.of(0)
    steps = 10 * sys.getrecursionlimit()
    for _ in range(steps):
        need = need + Amount.of(1)
    back = through(LineItem("hook", need)).need
    assert back.value == steps
    assert sum(1 for _ in leaves(back)) == steps + 1


@pytest.mark.parametrize(
    "row",
    [
        ["1/1", [["lb"], []], "conjure", [0], "", ["", "", None, ""]],
        ["1/1", [["lb"], []], "+", [1], "", ["", "", None, ""]],
        ["1/1", [["lb"], []], "+", [], "", ["", "", None, ""]],
        ["1/1", [["lb"], []], "+", [0], "", ["", "", [0, 3, 999], ""]],
        ["1/1", [["lb"], []], "+", [0], "", ["", "", [9, 0, 1], ""]],
        ["0.5", [["lb"], []], "+", [0], "", ["", "", None, ""]],
        ["1/1", [["lb"], []], "+", [0], 7, ["", "", None, ""]],
        "row",
    ],
)
def test_a_row_that_cannot_be_is_refused(row: Any) -> None:
    good = ["1/1", [["lb"], []], "given", [], "", ["", "", None, ""]]
    with pytest.raises(NonsenseError):
        Reader([good, row], numbered([], "rule"), numbered([TEXT], "text"))
