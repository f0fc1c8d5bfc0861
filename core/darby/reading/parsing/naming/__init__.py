"""Names that no list holds: of places, of colors, of goods of others.

The tags of a text come in; they go out with what the words between them name added. It makes no rule of a name, and never
takes a word that a list knows for one.
"""
