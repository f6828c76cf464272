"""The text that an own exercise starts from: `ferrule library new NAME --like ID`."""

from __future__ import annotations

import json

from ferrule.library.variant_text import slug
from ferrule.model.exercise import Library, Variant


def start_text(name: str, like: Variant, library: Library) -> str:
    """TOML that places `name` right after `like`, with the neighbour's kit, and what may be added as comments.

    It can be used as it is. Texts are written as JSON strings, which TOML reads alike.
    """
    harder = _next(like, library)
    lines = [
        f"# {name}: an own exercise. A line that begins with # is an example; take the # away and change it.",
        "# What is not written comes from the two neighbours and is marked as inferred.",
        f"name = {_text(name)}",
        f"harder_than = {_text(like.name)}",
    ]
    if harder is not None:
        lines.append(f"easier_than = {_text(harder.name)}")
    lines += [
        f"needs = {_list(like.kit)}",
        "",
        f"# setup = {_text(like.setup)}",
        f"# cues = {_list(like.cues[:3])}",
        *(f"# faults = [{{ seen = {_text(f.seen)}, mend = {_text(f.mend)} }}]" for f in like.faults[:1]),
        f"# loading = {_list(like.loading or ('hands',))}",
        f"# muscles = {_list(like.muscles)}",
        *([f"# balance_help = {_text(like.balance_help)}"] if like.balance_help else []),
        f"# cautions = {_list(like.cautions or ('Stop if it hurts.',))}",
        f"# rep_s = {like.rep_s:g}",
        f"# setup_s = {like.setup_s:g}",
    ]
    if like.shot is not None:
        lines.append(f"# shot = {{ view = {_text(like.shot.view)}, see = {_text(like.shot.see)} }}")
    return "\n".join(lines) + "\n"


def _next(like: Variant, library: Library) -> Variant | None:
    """The nearest harder one of the family that works the same group and asks at least as much."""
    ids = library.families[like.family].variant_ids
    for variant in (library.variants[i] for i in ids[ids.index(like.id) + 1 :]):
        a, b = like.main, variant.main
        if (a is None and b is None) or (a and b and a.group == b.group and a.base <= b.base):
            return variant
    return None


def file_name(name: str) -> str:
    """`Fence step` -> `fence-step.toml`; a name without letters or digits is `exercise.toml`."""
    return f"{slug(name)[:60].strip('-') or 'exercise'}.toml"


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _list(texts: tuple[str, ...]) -> str:
    return json.dumps(list(texts), ensure_ascii=False)
