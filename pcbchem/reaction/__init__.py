"""What happens in the tray? Reactions and their heat, the rate at the copper, and the bath in time."""
