"""How rarely the month is told of a change that is none, and how surely of one that is.

python -m tests.bench.signals [--seeds 20] [--years 2]
"""
