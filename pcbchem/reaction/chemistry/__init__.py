"""What reacts, how much of it, and how much heat does it make?"""
