"""Families of exercises, one TOML file each, and their reader."""
