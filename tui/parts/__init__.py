"""Widgets and helpers that two or more screens use."""
