"""The screens in a browser."""
