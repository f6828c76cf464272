"""The demonstration squad and programme, invented, as package data."""
