"""Workshop floors of which every parameter is known: the judge of forecast dates.

An event simulation of lifts, people and a foreman; nothing in it follows the learner's model.
"""
