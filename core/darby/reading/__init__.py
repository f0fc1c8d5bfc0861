"""A document to rules.

A `Source` and a `Language` come in; rules in order of place, an account of every number and what could not be decided go
out. Addenda are carried out here. It knows no job and no trade: words and grammars are handed in.
"""
