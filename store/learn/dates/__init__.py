"""When a job will be finished: what keeps it from going on, learned and walked by simulation."""
