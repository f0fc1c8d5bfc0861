"""Labor: the work that trades say there is, and plain lines of production rates in; hours with their working out."""
