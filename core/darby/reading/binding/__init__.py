"""Facts bound to what they are said of.

A fact and the words around it come in; its kind, subject, surface, scope and bound go out, each with the rule that found
it, or the reason why it is no rule. It reads no text: tags and facts are all it sees.
"""
