"""The drawing board: the door in the browser. It parses, calls and shows."""
