"""The game as play: who runs where, who passes to whom, who wins the ball."""
