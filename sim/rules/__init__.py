"""The rules of a game in force: events, guards, consequences, restarts and rotation."""
