"""A game as data: short form, resolved form, loader, changes and the shipped games."""
