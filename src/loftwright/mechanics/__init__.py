"""How a lifting roof weighs, moves and feels: pure functions on arrays."""
