"""Special tools: kits, hires, and what they are wanted for."""
