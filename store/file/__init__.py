"""The shop file: one SQLite database with its ledger and the tables derived from it."""
