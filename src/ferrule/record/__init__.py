"""What was told, read: which entries stand, and the files they come in."""
