"""What is on the page? Inputs in the lab's units, results in words and tables, and pictures of results."""
