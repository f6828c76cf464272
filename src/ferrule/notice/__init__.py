"""Who needs a word from the coach, and why."""
