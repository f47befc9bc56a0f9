"""Files of devices: any table with a row a player and drill, read by a layout that is written down once, screened row by row."""
