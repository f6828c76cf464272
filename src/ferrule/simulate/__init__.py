"""Simulated runners: hidden bodies that differ from the model on purpose, and what they tell about their sets."""
