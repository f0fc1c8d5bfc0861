"""Which kind of fact a number is.

A fact whose kind the grammar left open comes in; its kind goes out, by the words around it or by the sort of measure, or the
reason why it has none.
"""
