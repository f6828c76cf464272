"""Every key of the front matter that a check looks at stands in docs/notation.md, and is offered where keys are written."""

from __future__ import annotations

import re
from pathlib import Path

from ferrule.check.rules import key_run_gap, race_week
from ferrule.check.words import WHO_KEYS
from ferrule.programme.front import KEPT, KNOWN

PAGE = (Path(__file__).parents[1] / "docs" / "notation.md").read_text(encoding="utf-8")
LISTS = (key_run_gap._KEYS, race_week._KEYS, WHO_KEYS)


def test_the_page_names_every_key_that_a_check_looks_at() -> None:
    part = PAGE[PAGE.index("\n## Front matter\n") : PAGE.index("\n## Structure\n")]
    said = set(re.findall(r"`([^`\n]+)`", part))
    assert [key for keys in LISTS for key in keys if key not in said] == []


def test_of_each_list_a_key_is_offered() -> None:
    assert all(set(keys) & {*KNOWN, *KEPT} for keys in LISTS)
    assert set(KEPT) <= {key for keys in LISTS for key in keys}
