"""What several tests share: baths, plans, second readings, and how words are judged."""
