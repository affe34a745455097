"""What was learned from the ledger: kept beside it, read by views, made anew by the learner."""
