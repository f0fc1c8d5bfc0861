"""The pytest plugin: saved estimates of a firm's repository are tests."""

from __future__ import annotations

from pathlib import Path

from firms import pytested


def test_each_saved_estimate_is_one_test(firm: Path) -> None:
    (firm / "estimates" / "pier.json").write_bytes((firm / "estimates" / "shed.json").read_bytes())
    done = pytested(firm, "estimates", "-v")
    assert done.returncode == 0, done.stdout
    assert "estimates/shed.json::orders the same PASSED" in done.stdout
    assert "2 passed" in done.stdout


def test_what_moved_and_why_is_the_failure(firm: Path) -> None:
    house = firm / "house.txt"
    house.write_text(house.read_text().replace("13 lb", "26 lb"))
    (firm / "estimates" / "bad.json").write_text((firm / "estimates" / "shed.json").read_text()[:900])
    done = pytested(firm, "estimates")
    assert done.returncode == 1
    said = " ".join(done.stdout.split())
    assert "consumption of joint compound 13 to 26 lb per 100 sq ft, house.txt, line 2 (+" in said
    assert "bad.json breaks off before its end" in said
    assert "Traceback" not in done.stdout
    assert "2 failed" in done.stdout
