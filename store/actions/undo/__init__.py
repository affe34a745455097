"""Taking back one's own last entry."""
