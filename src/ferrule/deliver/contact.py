"""How a runner reaches the coach: in words, and as a link where the contact can be one."""

from __future__ import annotations

import re
from urllib.parse import quote

from ferrule.deliver.plain import clean
from ferrule.model.house import House

_MAIL = re.compile(r"[A-Za-z0-9._%+\-]+@[A-Za-z0-9\-]+(?:\.[A-Za-z0-9\-]+)+")
_PHONE = re.compile(r"\+?\d[\d\s().\-/]{4,}\d")


def reach(house: House) -> str:
    """`Reach your coach: The coach, coach@example.org`; asks to be told when the house has no contact."""
    said = ", ".join(p for p in (clean(house.coach), clean(house.contact)) if p)
    return f"Reach your coach: {said}" if clean(house.contact) else "Reach your coach the way you usually do."


def link(house: House, subject: str) -> str:
    """A `mailto:` or `sms:` address for the contact, `subject` filled in; empty when it is neither."""
    contact = clean(house.contact)
    mail = _MAIL.search(contact)
    if mail is not None:
        return f"mailto:{mail.group()}?subject={quote(subject)}"
    phone = _PHONE.search(contact)
    if phone is None:
        return ""
    digits = re.sub(r"[^\d+]", "", phone.group())
    return f"sms:{digits}?body={quote(subject)}"
