"""What a bout meant: possession, exposure and load, from the log alone.

counts_of_bout(game, log)  the numbers of one bout: small, picklable, added up over a session by `session_of`
summarise(game, ...)       from sessions to the rows of the answer
tables(game, logs)         tidy tables at six fixed levels
"""
