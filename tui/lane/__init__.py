"""The lane: one lift along the shop's working time, as pure paint."""
