"""A club's own values learned from its tallies, with the population as the prior: simulation-based inference on counts."""
