"""What is said on paper and in a page to keep: sheets and the roof page."""
