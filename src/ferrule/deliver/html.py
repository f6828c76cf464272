"""What every HTML page of ours shares: one template environment that escapes, the paper style, and content hashes."""

from __future__ import annotations

import base64
import hashlib
from functools import lru_cache
from importlib.resources import files

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup


@lru_cache(maxsize=16)
def part(name: str) -> str:
    """The text of a file that ships beside this module."""
    return files("ferrule.deliver").joinpath(name).read_text(encoding="utf-8")


@lru_cache(maxsize=1)
def environment() -> Environment:
    """Everything is escaped unless we drew it ourselves; a name the template does not get is an error."""
    names = ("document.html", "explain.html", "head.html", "page.html", "summary.html", "written.html")
    pages = DictLoader({name: part(name) for name in names})
    return Environment(loader=pages, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)


def inline(*names: str, more: str = "") -> tuple[Markup, str]:
    """Files joined for one inline element, what this page adds, and the hash the content policy names it by.

    Indents and lines of comment are left out: nothing we ship has a text that runs over lines.
    """
    lines = (line.strip() for name in names for line in part(name).splitlines())
    text = "\n".join((*(line for line in lines if line and not line.startswith("//")), *([more] if more else [])))
    digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
    return Markup(text), f"sha256-{digest}"
