"""What do I do with the rest? What is in it, what it is called, and where it goes."""
