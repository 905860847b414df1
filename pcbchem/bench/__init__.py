"""What do I do? How strong a bottle is, what must not be mixed, what to pour, and when to look."""
