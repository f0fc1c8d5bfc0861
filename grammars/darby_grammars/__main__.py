"""Make the grammar's tables anew: `python -m darby_grammars`, after every change of facts.lark."""

from __future__ import annotations

from pathlib import Path

from darby.api import tables_of

HERE = Path(__file__).parent

if __name__ == "__main__":
    made = tables_of((HERE / "facts.lark").read_text(encoding="utf-8"))
    (HERE / "facts.tables").write_bytes(made)
    print(f"facts.tables: {len(made):,} bytes")
