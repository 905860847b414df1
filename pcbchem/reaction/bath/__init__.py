"""How does the bath run? From bottles in a tray to the time when the board is clear, with its doubt."""
