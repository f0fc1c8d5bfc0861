"""The guide's table of how a fact is bound, made from the code: `python tests/binding_table.py` writes it anew."""

from __future__ import annotations

from pathlib import Path

from darby.documents.words import FOUND_BY

GUIDE = Path(__file__).parent.parent / "DEVELOPERS.md"
BEGIN, END = "<!-- binding: made by tests/binding_table.py -->\n", "<!-- end of binding -->"


def table() -> str:
    """One row a rule of binding."""
    rows = dict.fromkeys(f"| {said} | {example} |" for said, example in FOUND_BY.values())
    return "\n".join(("", "| found by | for example |", "| --- | --- |", *rows, "", ""))


def main() -> None:
    """Write the table into the guide."""
    before, _, rest = GUIDE.read_text(encoding="utf-8").partition(BEGIN)
    after = rest.partition(END)[2]
    GUIDE.write_text(before + BEGIN + table() + END + after, encoding="utf-8")


if __name__ == "__main__":
    main()
