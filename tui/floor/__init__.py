"""The floor: every lift at a glance."""
