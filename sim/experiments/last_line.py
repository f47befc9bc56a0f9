"""The caution that every answer ends with."""

LINE = "An estimate, not advice: medical staff decide; local heat and youth rules first."
