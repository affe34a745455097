"""Who does what next: everybody's list of work, given and put in order."""
