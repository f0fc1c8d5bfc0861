"""The door plugins come through.

Entry points and plugin files come in; readers, words, trades and documents go out, looked over, tried and called one by
one. A plugin that fails costs its own lines and is named.
"""
