"""Guards of the house rules, and two scripts that make stored pictures and pages again."""
