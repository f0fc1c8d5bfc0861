"""Price lists and the goods of an order in; what each supplier asks for each line, and who is bought from, out."""
