"""What work really takes here: learned from finished phases, said with ranges."""
