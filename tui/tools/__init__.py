"""Special tools: every kit on a time line, what is to be done about it, and its forms."""
