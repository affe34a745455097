"""A day entered from paper: a row for each clock, typed with what changes only."""
