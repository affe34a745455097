"""The only readers: one call for each thing a person looks at."""
