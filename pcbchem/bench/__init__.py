"""What do I do? A plan with its verdict: what to pour and when to look, or why not to, and the hazards behind both."""
