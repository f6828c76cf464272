"""The built-in library worked out beforehand: `families/computed.json`, used while nothing it depends on has changed."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from importlib.resources import files
from importlib.resources.abc import Traversable

import msgspec

from ferrule.library.build import Built, build
from ferrule.model.exercise import Family, Variant
from ferrule.model.finding import Finding

STORED = "computed.json"
CODE: Mapping[str, tuple[str, ...]] = {
    "ferrule.body": (
        "angles", "demand", "loads", "newton", "path", "pose_reader", "posture", "segments", "skeleton", "statics",
    ),
    "ferrule.library": (
        "asks", "build", "draft", "family_text", "fields", "key_lines", "muscles", "shot", "variant_text",
    ),
    "ferrule.model": ("exercise", "pose"),
}  # fmt: skip
"""The modules that the stored values come from."""


def _folder() -> Traversable:
    return files("ferrule.library") / "families"


def built_in_texts() -> dict[str, bytes]:
    """The built-in family files by name."""
    return {f.name: f.read_bytes() for f in _folder().iterdir() if f.name.endswith(".toml")}


def digest(texts: Mapping[str, bytes]) -> str:
    """SHA-256 over the family texts and over the code that the demands come from, line ends evened out."""
    total = hashlib.sha256()
    parts = dict(texts)
    for package, modules in CODE.items():
        for module in modules:
            parts[f"{package}/{module}.py"] = (files(package) / f"{module}.py").read_bytes()
    for name in sorted(parts):
        data = parts[name].replace(b"\r\n", b"\n")
        total.update(f"{name} {len(data)}\n".encode())
        total.update(data)
    return total.hexdigest()


def stored() -> bytes:
    """The stored file as it is; empty when there is none."""
    path = _folder() / STORED
    return path.read_bytes() if path.is_file() else b""


def write(built: Built, of: str) -> bytes:
    """The stored form: one line a variant, so that a change of one exercise is a change of one line."""
    lines = ["{", f'"digest": "{of}",', '"families": [']
    lines += _rows(built.families)
    lines += ["],", '"variants": [']
    lines += _rows(built.variants)
    return "\n".join([*lines, "]", "}", ""]).encode()


def _rows(values: tuple[Family, ...] | tuple[Variant, ...]) -> list[str]:
    rows = [msgspec.json.encode(v).decode() for v in values]
    return [row + "," for row in rows[:-1]] + rows[-1:]


def read(data: bytes) -> Built:
    """The stored form back. Raises msgspec.MsgspecError when it is damaged."""
    return msgspec.json.decode(data, type=Built)


def fresh_or_stored(texts: Mapping[str, bytes]) -> tuple[Built, tuple[Finding, ...]]:
    """The stored library when its digest fits, else worked out anew (slower, the same values) with its findings."""
    data = stored()
    if f'"digest": "{digest(texts)}"'.encode() in data[:200]:
        try:
            return read(data), ()
        except msgspec.MsgspecError:
            pass
    fresh = build(texts)
    return fresh.built, fresh.findings
