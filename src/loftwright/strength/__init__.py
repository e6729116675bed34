"""Whether it sits and holds: fit, wind, brace, road, the ring round the opening, joints."""
