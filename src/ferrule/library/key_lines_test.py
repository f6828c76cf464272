"""Lines of keys in a TOML text."""

from __future__ import annotations

from ferrule.library.key_lines import key_lines

TEXT = '''id = "a"

[shared]
pattern = "step"

[[variant]]
name = "One"
"also" = { push = 0.2 }
cues = [
  "x = y.",
]
setup = """
name = "no key"
"""

[[variant]]
# name = "no"
  name = "Two"
hold.trunk = 3
[variant.other]
trunk = 4
'''


def test_each_key_has_its_line() -> None:
    lines = key_lines(TEXT)
    assert lines.of("", "id") == 1
    assert lines.of("shared", "pattern") == 4
    assert lines.of("0") == 6
    assert lines.of("0", "name") == 7
    assert lines.of("0", "also") == 8
    assert lines.of("0", "setup") == 12
    assert lines.of("1") == 16
    assert lines.of("1", "name") == 18
    assert lines.of("1", "hold") == 19
    assert lines.of("1", "other") == 20


def test_a_key_that_is_not_there_falls_back_to_its_part() -> None:
    lines = key_lines(TEXT)
    assert lines.of("1", "cues") == 16
    assert lines.of("7", "name") == 1
