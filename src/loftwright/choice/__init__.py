"""Which springs, in which holes, and with what odds."""
