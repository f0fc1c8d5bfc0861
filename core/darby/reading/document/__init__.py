"""What a document makes known for all of its clauses.

Clauses come in; their words go out with the marks that the document defines, the places that siblings tell, and what each clause
stands under and beside. Nothing is bound here.
"""
