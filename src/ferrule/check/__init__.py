"""Checks of a programme, one rule a file, and the house rules."""
