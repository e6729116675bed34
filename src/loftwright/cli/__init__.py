"""The terminal: it reads what was typed, calls the answers and shows them."""
