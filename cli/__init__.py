"""The command line: one thin file a command; everything it says comes from `sim.words`."""
