"""The readers of ordinary finishes specifications: lexicon, grammars, kinds."""
