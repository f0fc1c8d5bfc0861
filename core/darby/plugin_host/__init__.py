"""The door plugins come through.

Entry points and plugin files come in; readers, words, trades and documents go out, looked over, tried and called one by
one. A plugin that fails costs its own lines and is named.

What a guest may not change is guarded in five places: its trade's name (`registry`), words and products (`word_ownership`), what is
read (`guarded_reader`), Darby's own state (`sandbox`), and the rules and the job it is given (`trade_runner`).
"""
