"""Intake: what it takes, before anything is promised."""
