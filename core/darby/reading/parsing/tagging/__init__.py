"""Letters to tags.

A text and the phrases of a language come in; its known words, numbers, signs and codes go out as tags, in order, each with
its place. What tags mean together is never asked here, and no text is rewritten.
"""
