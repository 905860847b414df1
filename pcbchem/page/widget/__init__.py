"""What lives in the browser: a panel, a quiz, and their scripts."""
