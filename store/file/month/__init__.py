"""Facts of the file that a month is reckoned from."""
