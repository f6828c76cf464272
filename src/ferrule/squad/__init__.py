"""The squad file: runners, kit, place and anchor, running week, limits."""
