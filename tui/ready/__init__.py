"""Parts and kits of a job: the list, and what its keys do."""
