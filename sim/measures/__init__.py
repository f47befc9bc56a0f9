"""What a bout meant: possession, exposure and load, from the log alone."""
