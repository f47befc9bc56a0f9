"""The comparison with what real players did: published measurements, agreed directions, and how far we are from them.

`measurements.csv` holds the published figures with their mark (*input*: a constant was set from it; *fitted*: the
calibration sees it; *predicted*: neither).  Marks were given before the first run, whole studies at a time, and never
change.  `plan.csv` says for each measurement which game is played, by whom, how often, and which size counts;
`directions.csv` does the same for what is only known as more or less.  `games/` states what the sources state, and
one policy for everything else.
"""
