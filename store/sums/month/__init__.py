"""Sums of a month."""
