"""Asking questions of many bouts."""
