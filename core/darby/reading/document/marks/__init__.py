"""Marks of a document: how codes are spelled, and by what shapes of clauses it defines them (`PT-1: ..`, a legend, a heading)."""
