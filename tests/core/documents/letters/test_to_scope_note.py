"""What is in the order, what is out, and what was assumed."""

from __future__ import annotations

import handed
from desk import estimated, item


def test_the_scope_note_tells_what_is_in_what_is_out_and_what_was_assumed() -> None:
    text = handed.text("scope")
    parts = ["Included", "Excluded", "Assumed", "Cautions"]
    assert sorted(parts, key=lambda p: text.index(f"\n{p}\n---")) == parts
    included, excluded, assumed, cautions = (text.split(f"\n{p}\n---")[1] for p in parts)
    for one in handed.demo_json()["items"]:
        assert one["product"] in included
    assert "“1,200” in 09 29 00, 1.04 A" in " ".join(excluded.split())
    assert "labor, equipment, delivery and prices" in excluded
    assert "“Do not deduct openings”, which the documents do not say (our default)" in " ".join(assumed.split())
    for caution in handed.demo_json()["cautions"]:
        assert caution["topic"] in cautions


def test_what_no_trade_took_up_is_excluded_by_name() -> None:
    made_of = estimated(
        "trades = ['board', 'coatings']\n[[walls]]\nname = 'w'\nlength = '10 ft'\nheight = '8 ft'\nfaces = 1\n",
        "Door trim: two coats satin finish paint.\n",
    )
    assert item(made_of, "gypsum board").count
    out = handed.text("scope", made_of).split("\nExcluded\n---")[1].split("\nAssumed\n---")[0]
    assert "what no line here takes up: two coats" in out
