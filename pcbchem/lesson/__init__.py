"""What each page teaches: a folder a page, and what they share: workshop, questions, trust."""
