"""What does every room stand on? Limits, doubt as an axis, tables, units, and numbers in words."""
