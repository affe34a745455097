"""Acts with kits and hires."""
