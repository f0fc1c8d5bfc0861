"""What the panes of the desk show, as plain values for their templates."""
