"""The owner's month on the screen: what it says, what to change, and every figure down to its
entries."""
