"""What happens in the tray? What reacts, how the bath runs, and what is left under the resist."""
