"""The cloth walls: rims, flat panels, sewing, windows, water, metres, warmth and the fold."""
