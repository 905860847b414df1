"""A page run and written as one HTML file."""
