"""Drawn roofs whose true values are known to the benchmark alone, and what each way of choosing makes of them."""
