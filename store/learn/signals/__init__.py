"""What changed, and where the book is wrong: whatever luck hardly explains, and nothing else."""
