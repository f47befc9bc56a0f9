"""Weeks and pre-seasons: which games on which evening, for a dose and an aim, and what that is for every player."""
