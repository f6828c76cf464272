"""`ferrule house`: every house rule with its default."""

from __future__ import annotations

from ferrule.check.house import house_toml
from ferrule.cli.arguments import parser_for


def run(words: list[str]) -> int:
    """Print house.toml with every rule commented out. Returns the exit code."""
    parser_for("house", "Keep it as house.toml in the workspace and change what you want otherwise.").parse_args(words)
    print(house_toml().rstrip())
    return 0
