"""What is in the bottle? Properties of solutions, heats of mixing, and what labels say of them."""
