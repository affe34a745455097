"""What is to be done in the months after: its list, and what is done there."""
