"""The desk: calls, quotes, and what was agreed."""
