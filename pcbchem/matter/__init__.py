"""What is in the bottle? Units and strengths, published tables, properties of solutions, and mixing them."""
