"""The record of a job that the customer takes home."""
