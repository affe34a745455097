"""The bay: a technician's home."""
