"""How to reach the coach, in words and as a link."""

import pytest

from ferrule.deliver.contact import link, reach
from ferrule.model.house import House


@pytest.mark.parametrize(
    ("contact", "address"),
    [
        ("coach@example.org", "mailto:coach@example.org?subject=Hello%20%26%20you"),
        ("phone +386 40 123 456", "sms:+38640123456?body=Hello%20%26%20you"),
        ("mail coach@example.org or 040 123 456", "mailto:coach@example.org?subject=Hello%20%26%20you"),
        ("after training, at the track", ""),
        ("", ""),
        ('javascript:alert(1)"', ""),
    ],
)
def test_links(contact: str, address: str) -> None:
    assert link(House(contact=contact), "Hello & you") == address


def test_words() -> None:
    assert reach(House(coach="The coach", contact="at the track")) == "Reach your coach: The coach, at the track"
    assert reach(House()) == "Reach your coach the way you usually do."
