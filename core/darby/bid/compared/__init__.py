"""A bid in; bids of the same job made otherwise, held beside it, out: alternates, ways of doing the work, unit prices, change orders."""
