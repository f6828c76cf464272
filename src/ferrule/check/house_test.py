"""House rules: what is read, what is told, and that nothing makes the reader fall."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ferrule.check.house import changes, house_toml, read_house
from ferrule.check.rules import RULES
from ferrule.model.finding import in_order
from ferrule.model.house import THRESHOLDS, House


def test_reads_what_is_written() -> None:
    text = b'coach = "C. Example"\ncontact = "by message"\noff = ["pair-clash"]\n\n[thresholds]\nkey-run-gap-h = 36\n'
    house, findings = read_house(text, "house.toml")
    assert findings == ()
    assert (house.coach, house.contact) == ("C. Example", "by message")
    assert house.switched_off == {"pair-clash"}
    assert house.value("key-run-gap-h") == 36
    assert house.value("race-gap-h") == 48
    assert [t.key for t, _ in changes(house)] == ["key-run-gap-h"]


@pytest.mark.parametrize(
    ("text", "code", "line", "fix"),
    [
        ("[thresholds]\n\nkey-run-gap = 30\n", "house-unknown-threshold", 3, "key-run-gap-h"),
        ("[thresholds]\nhysteresis = 9\n", "house-out-of-range", 2, "0.5 stays"),
        ("[thresholds]\nhysteresis = nan\n", "house-out-of-range", 2, "0.5 stays"),
        ('[thresholds]\nhysteresis = "half"\n', "house-wrong-type", 2, "a number"),
        ("[thresholds]\nhysteresis = true\n", "house-wrong-type", 2, "a number"),
        ("coach = 7\n", "house-wrong-type", 1, "words in quotes"),
        ('\ncoatch = "x"\n', "house-unknown-key", 2, "coach"),
        ("hysteresis = 1\n", "house-unknown-key", 1, "under [thresholds]"),
        ("pair-clash = false\n", "house-unknown-key", 1, "off = ["),
        ('off = ["pair-clsh"]\n', "house-unknown-rule", 1, "pair-clash"),
        ('off = ["pain-line"]\n', "house-error-rule", 1, "Take it out"),
        ('off = "pair-clash"\n', "house-wrong-type", 1, "a list"),
        ("thresholds = 3\n", "house-wrong-type", 1, "[thresholds]"),
    ],
)
def test_a_fault_is_told_with_its_line(text: str, code: str, line: int, fix: str) -> None:
    house, findings = read_house(text.encode(), "house.toml")
    assert [(f.code, f.span.line if f.span else 0) for f in findings] == [(code, line)]
    assert fix in findings[0].fix
    assert house.changed == {}


def test_a_broken_line_does_not_stop_the_rest() -> None:
    text = 'coach = "C. Example\n[thresholds]\nkey-run-gap-h = twenty\nrace-gap-h = 60\n'
    house, findings = read_house(text.encode(), "house.toml")
    assert house.value("race-gap-h") == 60
    assert [f.span.line for f in findings if f.span] == [1, 3]


def test_not_utf8_is_told_and_read() -> None:
    house, findings = read_house(b'coach = "J\xf6rg"\n[thresholds]\nhysteresis = 1\n', "house.toml")
    assert [f.code for f in findings] == ["house-encoding"]
    assert house.value("hysteresis") == 1


def test_the_commented_defaults_read_back() -> None:
    text = house_toml()
    assert read_house(text.encode(), "house.toml") == (House(), ())
    bare = "\n".join(x.removeprefix("# ") if " = " in x else x for x in text.splitlines())
    house, findings = read_house(bare.encode(), "house.toml")
    assert findings == ()
    assert dict(house.changed) == {t.key: t.default for t in THRESHOLDS}
    assert tomllib.loads(text)["thresholds"] == {}


def test_every_threshold_is_inside_its_own_range_and_sourced() -> None:
    assert len({t.key for t in THRESHOLDS}) == len(THRESHOLDS)
    for t in THRESHOLDS:
        assert t.low <= t.default <= t.high, t.key
        assert t.unit, t.key
        assert any(word in t.source for word in ("seen", "from memory", "no source", "trial")), t.key


def test_every_threshold_of_a_rule_is_listed() -> None:
    keys = {t.key for t in THRESHOLDS}
    for rule in RULES:
        assert set(rule.thresholds) <= keys, rule.name


@settings(max_examples=150, derandomize=True, deadline=None)
@given(st.one_of(st.binary(max_size=200), st.text(max_size=200).map(lambda t: t.encode("utf-8", "surrogatepass"))))
def test_never_falls(data: bytes) -> None:
    house, findings = read_house(data, "house.toml")
    limits = {t.key: t for t in THRESHOLDS}
    assert all(limits[key].low <= value <= limits[key].high for key, value in house.changed.items())
    assert findings == in_order(findings)
    assert all(f.span is not None and f.fix and f.what for f in findings)


@settings(max_examples=100, derandomize=True, deadline=None)
@given(
    st.lists(
        st.sampled_from(
            [
                "[thresholds]",
                "hysteresis = 1",
                "hysteresis = 2",
                'coach = "x"',
                "off = [",
                "]",
                "= 3",
                "[[a]]",
                '"""',
                "a.b = 1",
            ]
        ),
        max_size=12,
    )
)
def test_never_falls_on_nearly_right_files(lines: list[str]) -> None:
    _, findings = read_house("\n".join(lines).encode(), "house.toml")
    assert len(findings) <= 2 * len(lines) + 2
