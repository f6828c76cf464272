"""A value is worked out once for each owner, and equals what the function gives."""

from __future__ import annotations

from dataclasses import dataclass

from ferrule.check.once import once

ASKED: list[int] = []


@dataclass(frozen=True)
class Owner:
    number: int

    @once
    def doubled(self) -> int:
        """Twice the number."""
        ASKED.append(self.number)
        return 2 * self.number


def test_worked_out_once_for_each_owner() -> None:
    ASKED.clear()
    three, four = Owner(3), Owner(4)
    assert [three.doubled, three.doubled, four.doubled] == [6, 6, 8]
    assert ASKED == [3, 4]


def test_equality_does_not_ask() -> None:
    first, second = Owner(3), Owner(3)
    assert first.doubled == 6
    assert first == second
    assert isinstance(Owner.doubled, once)
