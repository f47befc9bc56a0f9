"""People as they come: a file from the coach's numbers, which games hold so many, and a game set up anew for who turned up."""
