"""The first run: a shop is set up, or the demo looked at."""
