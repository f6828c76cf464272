"""Fitting one week: candidates, constraints, objective, solve, verify, read-back."""
