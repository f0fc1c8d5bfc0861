"""Blocks of lines: the places that a label or a row names, what one line of a block says of where the others hold, and the sheets of records."""
