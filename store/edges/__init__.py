"""Where outside data comes in: checked once, plain values afterwards."""
