"""Lines in columns to grids: what parts their cells, where columns lie, which lines are heads, which cells go on, what
each column holds. What comes out has one thing to a row, whichever way it lay on the page."""
