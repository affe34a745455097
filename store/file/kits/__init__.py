"""Where each kit is, what lacks, on which terms it is hired."""
