"""What is open to somebody now, read from the tables: see `acts.py`."""
