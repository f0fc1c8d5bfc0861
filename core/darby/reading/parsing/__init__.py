"""Words to facts, facts to sentences.

The vocabularies of all plugins and the tags of a clause come in; what the grammars make of them goes out as facts, and
what stands close to a fact as its phrase. The only folder that imports lark. Of what and where a fact is said is not
decided here.
"""
