"""Who must do what, what helps most, what waits for what; and how each act is done by keys."""
