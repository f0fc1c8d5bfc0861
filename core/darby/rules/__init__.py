"""What a clause says, and which clause holds.

Rules of all layers come in; the cascade answers what holds for a subject, a kind and a place, with its conflicts, and
notes who asked for what. It never reads text and knows no kind by name.
"""
