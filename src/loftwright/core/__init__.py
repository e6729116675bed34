"""Words that every room uses: quantities, wording, motion, checks, errors."""
