"""Text from outside: controls and direction overrides go, letters stay."""

import unicodedata

from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.deliver.plain import clean, cut, padded, sentence, width
from ferrule.deliver.sample import HOSTILE


def test_overrides_and_controls_go_and_letters_stay() -> None:
    said = clean(HOSTILE)
    assert "\u202e" not in said
    assert "\x07" not in said
    assert "Zoë" in said
    assert "مرحبا" in said
    assert "🏃" in said


def test_a_terminal_escape_cannot_pass() -> None:
    assert clean("\x1b[31mred\x1b[0m\r\nnext") == "[31mred[0m next"


def test_decomposed_letters_are_composed() -> None:
    assert clean("Zoe\u0308") == "Zoë"


def test_joiners_that_spell_stay() -> None:
    assert clean("می\u200cخواهم") == "می\u200cخواهم"


def test_sentences_end_once() -> None:
    assert sentence("push through the foot") == "Push through the foot."
    assert sentence("why?") == "Why?"
    assert sentence("  ") == ""


def test_wide_letters_count_two() -> None:
    assert width("日本") == 4
    assert cut("日本日本日本", 7) == "日本..."
    assert padded("abc", 5) == "abc  "


@settings(derandomize=True, max_examples=200)
@given(st.text())
def test_cleaned_text_is_one_line_and_settled(text: str) -> None:
    said = clean(text)
    assert clean(said) == said
    assert not any(unicodedata.category(c) in ("Cc", "Cs", "Zl", "Zp", "Co", "Cn") for c in said)
    said.encode("utf-8")


@settings(derandomize=True, max_examples=200)
@given(st.text(), st.integers(4, 40))
def test_padding_is_exact(text: str, columns: int) -> None:
    assert width(padded(text, columns)) == columns
