"""Make the tables of grammar and words anew: `python -m darby_grammars`, after every change of facts.lark or lexicon.toml."""

from __future__ import annotations

from pathlib import Path

from darby.api import made_of, tables_of

HERE = Path(__file__).parent

if __name__ == "__main__":
    for name, make in (("facts.lark", tables_of), ("lexicon.toml", made_of)):
        made = make((HERE / name).read_text(encoding="utf-8"))
        path = (HERE / name).with_suffix(".tables")
        path.write_bytes(made)
        print(f"{path.name}: {len(made):,} bytes")
