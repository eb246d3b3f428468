"""Why not: exclusions and cautions in words a customer understands."""
