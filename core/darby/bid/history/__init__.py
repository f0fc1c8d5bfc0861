"""Tables of finished jobs in; a firm's own rates out, proposed as plain lines with their source, and never taken by themselves."""
