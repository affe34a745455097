"""Signing in by badge."""
