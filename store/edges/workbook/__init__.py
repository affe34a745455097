"""The work book: read, checked, edited as text, written."""
