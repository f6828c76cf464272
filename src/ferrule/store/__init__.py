"""What is kept: sent weeks, clearances."""
