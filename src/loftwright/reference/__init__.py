"""Tables with their sources."""
