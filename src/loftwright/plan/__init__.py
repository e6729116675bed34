"""Before building: whether it is worth starting, and what it costs."""
