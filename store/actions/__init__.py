"""The only writers: one function for each thing a person can mean to do."""
