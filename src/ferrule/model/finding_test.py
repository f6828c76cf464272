from __future__ import annotations

from itertools import permutations

from ferrule.model.finding import Finding, Span, has_errors, in_order


def found(code: str, span: Span | None, level: str = "advice") -> Finding:
    return Finding(code, "error" if level == "error" else "advice", "what", "why", "fix", span)


def test_order_is_by_place_then_level_then_code_and_each_once() -> None:
    """Spans with and without an end at one place are told apart too."""
    ordered = (
        found("z", Span("a.md", 1)),
        found("b", Span("a.md", 1, 1, 9), "error"),
        found("a", Span("a.md", 1, 1, 9)),
        found("a", Span("a.md", 2)),
        found("a", Span("b.md", 1)),
        found("a", None),
    )
    for several in permutations(ordered):
        assert in_order([*several, several[0]]) == ordered


def test_errors_are_seen() -> None:
    assert has_errors([found("a", None), found("a", None, "error")])
    assert not has_errors([found("a", None)])
