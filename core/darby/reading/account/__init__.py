"""What became of every number and statement of a document, which goods it names, and what it leaves open."""
