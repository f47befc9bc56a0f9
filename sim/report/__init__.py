"""Pages and sheets to look at: replays, the assistant's sheet, reports."""
