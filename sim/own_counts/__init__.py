"""A club's own counts: read off the assistant's sheet, held against what was forecast, kept, and looked back on."""
