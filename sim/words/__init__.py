"""Every sentence for people, so that terminal, sheet and report agree."""
