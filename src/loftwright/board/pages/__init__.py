"""The pages of the drawing board, one module each."""
