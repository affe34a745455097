"""Numbers in, numbers out."""
