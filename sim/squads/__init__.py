"""The people of a club: who they are, who is there on which day, what they must not do and who says so, and groups of them."""
