"""Ferrule: one written strength programme, fitted to each runner of a squad."""

__version__ = "0.1.0"
