"""Saved estimates as tests of a firm's own repository: the pytest plugin, and pytest-regressions beside it."""

from __future__ import annotations

from pathlib import Path

from firms import pytested


def test_regression_files_are_compared_by_what_they_order_and_renewed_on_request(firm: Path) -> None:
    (firm / "test_jobs.py").write_text(
        "from pathlib import Path\n"
        "from darby.testing.saved import again, same_order\n\n"
        "def test_the_shed(file_regression):\n"
        '    saved = Path("estimates/shed.json").resolve()\n'
        '    text = again(saved, [Path("house.txt")])\n'
        '    file_regression.check(text, fullpath=saved, encoding="utf-8", check_fn=same_order)\n'
    )
    house = firm / "house.txt"
    house.write_text(house.read_text().replace("13 lb", "26 lb"))
    moved = pytested(firm, "test_jobs.py")
    assert moved.returncode == 1
    assert "13 to 26 lb per 100 sq ft, house.txt, line 2" in " ".join(moved.stdout.split())
    assert (
        pytested(firm, "test_jobs.py", "--force-regen").returncode == 1
    )  # as pytest-regressions has it: renewed, look at it
    assert pytested(firm, "test_jobs.py").returncode == 0
