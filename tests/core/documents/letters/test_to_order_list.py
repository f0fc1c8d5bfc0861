"""The order list for whoever sells: packages and no working."""

from __future__ import annotations

import handed
import made


def test_the_order_list_names_each_package_of_the_json_and_no_working() -> None:
    text = handed.text("order")
    for one in handed.demo_json()["items"]:
        (line,) = (x for x in text.splitlines() if x.startswith(one["product"] + " ") and all(v in x for v in one["pool"].values()) and str(one["order"]["count"]) in x)  # fmt: skip
        assert one["order"]["container"] in line
    assert "÷" not in text
    assert "sq ft per" not in text


def test_goods_without_a_package_are_asked_for() -> None:
    text = handed.text("order", made.estimate())
    assert "clip: 6 needed" in text.partition("Please tell us the packages you have")[2]
