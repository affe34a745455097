"""Pure yes and no: what may be done, by whom, in which order."""
