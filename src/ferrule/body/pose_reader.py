"""TOML table -> Movement.

Two spellings: nested (`hold = {...}`, `other = {...}`, `contact = [...]`, `other_contact = [...]`, `demand`) and flat
(the pose's keys beside the rest, `easy = {...}` with its own `contact`, `scale`). `other` names only what differs from
`hold`. A fault becomes a finding that names the key; the rest is still read.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, get_args

from ferrule.body.angles import number_of
from ferrule.model.finding import Finding, Span
from ferrule.model.pose import Angle, Contact, Limb, Movement, Pose, Prop, Support

LEG_KEYS = ("thigh", "shin", "foot", "spread", "out")
ARM_KEYS = ("arm", "forearm", "spread")
LIMBS: Mapping[str, tuple[str, ...]] = {
    "legs": LEG_KEYS,
    "lead": LEG_KEYS,
    "rear": LEG_KEYS,
    "arms": ARM_KEYS,
    "lead_arm": ARM_KEYS,
    "rear_arm": ARM_KEYS,
}
TRUNK_KEYS = ("trunk", "line", "head", "back")
POSE_KEYS = (*TRUNK_KEYS, *LIMBS)
WORDS: Mapping[str, tuple[str, ...]] = {
    "arm": ("square", "along"),
    "forearm": ("out",),
    "thigh": ("out",),
    "shin": ("out",),
}
CONTACTS = (
    "hand", "elbow", "forearm", "foot", "ball", "heel", "ankle", "midshin", "knee", "upper back", "seat", "lying", "air",
)  # fmt: skip
CONTACT_KEYS = ("at", "limb", "on", "height", "cop", "share", "source")
PROPS = ("box", "step", "chair", "bench", "wall", "mat", "band", "towel", "bar", "sofa", "ball", "rope")
PROP_KEYS = ("kind", "under", "height")
RESTS = ("head", "arms")
MOVEMENT_KEYS = (
    "hold", "other", "contact", "other_contact", "demand", "view", "down", "reach", "other_reach", "rests", "props",
    "arms_as_drawn", "starts", "steps",
)  # fmt: skip
FLAT_KEYS = (*POSE_KEYS, "easy", "scale", *(k for k in MOVEMENT_KEYS if k not in ("hold", "other")))


class _Reader:
    """Collects findings while it reads one table."""

    def __init__(self, where: str, span: Span | None) -> None:
        self.where = where
        self.span = span
        self.findings: list[Finding] = []

    def fault(self, code: str, what: str, fix: str) -> None:
        why = "without it the figure and the demand of this exercise cannot be worked out"
        self.findings.append(Finding(f"pose-{code}", "error", f"{self.where}: {what}", why, fix, self.span))

    def table(self, value: Any, key: str, allowed: Sequence[str]) -> dict[str, Any]:
        """The table's known keys; unknown ones and non-tables become findings."""
        if not isinstance(value, Mapping):
            self.fault("not-a-table", f"`{key}` is {value!r}, not a table", f"write `{key} = {{ ... }}`")
            return {}
        for name in value:
            if name not in allowed:
                self.fault("unknown-key", f"`{key}` has `{name}`, which is not known", f"use {', '.join(allowed)}")
        return {k: v for k, v in value.items() if k in allowed}

    def angle(self, value: Any, key: str) -> Angle | None:
        words = WORDS.get(key.split(".")[-1], ())
        plain = isinstance(value, int | float) and not isinstance(value, bool)
        text = isinstance(value, str) and (value in words or (value.startswith("~") and number_of(value) is not None))
        if plain or text:
            return value  # type: ignore[no-any-return]
        can = 'degrees, or "~30" to have it solved' + "".join(f', or "{w}"' for w in words)
        self.fault("bad-angle", f"`{key}` is {value!r}", f"write {can}")
        return None

    def pose(self, table: Mapping[str, Any], key: str) -> Pose:
        angles: dict[str, Angle | None] = {k: self.angle(table[k], f"{key}{k}") for k in TRUNK_KEYS if k in table}
        limbs: dict[str, Limb] = {}
        for name, allowed in LIMBS.items():
            if name not in table:
                continue
            given = self.table(table[name], f"{key}{name}", allowed)
            read = {k: self.angle(v, f"{key}{name}.{k}") for k, v in given.items()}
            limbs[name] = {k: v for k, v in read.items() if v is not None}
        return Pose(**angles, **limbs)  # type: ignore[arg-type]

    def word(self, value: Any, key: str, allowed: Sequence[str], default: str) -> str:
        if value in allowed:
            return str(value)
        self.fault("bad-word", f"`{key}` is {value!r}", f"use one of {', '.join(w or 'nothing' for w in allowed)}")
        return default

    def number(self, value: Any, key: str, low: float, high: float) -> float | None:
        if isinstance(value, int | float) and not isinstance(value, bool) and low <= value <= high:
            return float(value)
        self.fault("bad-number", f"`{key}` is {value!r}", f"write a number from {low:g} to {high:g}")
        return None

    def contacts(self, value: Any, key: str) -> tuple[Contact, ...]:
        if not isinstance(value, Sequence) or isinstance(value, str) or not value:
            self.fault("no-contact", f"`{key}` is {value!r}", "say where the body meets the ground: [ { at = ... } ]")
            return ()
        return tuple(c for i, one in enumerate(value) if (c := self.contact(one, f"{key}[{i + 1}]")) is not None)

    def contact(self, value: Any, key: str) -> Contact | None:
        table = self.table(value, key, CONTACT_KEYS)
        if table.get("at") not in CONTACTS:
            self.fault("bad-contact", f"`{key}.at` is {table.get('at')!r}", f"use one of {', '.join(CONTACTS)}")
            return None
        limb = self.word(table.get("limb", "both"), f"{key}.limb", ("lead", "rear", "both"), "both")
        on = self.word(table.get("on", "floor"), f"{key}.on", get_args(Support), "floor")
        height = self.number(table.get("height", 0.0), f"{key}.height", 0.0, 3.0) or 0.0
        cop = self.number(table["cop"], f"{key}.cop", 0.0, 1.0) if "cop" in table else None
        share = self.number(table["share"], f"{key}.share", 0.0, 1.0) if "share" in table else None
        source = table.get("source", "")
        if share is not None and share < 1.0 and not source:
            self.fault(
                "share-without-source", f"`{key}.share` has no source", "add `source = ...` with who measured it"
            )
            return None
        return Contact(table["at"], limb, on, height, cop, share, str(source))  # type: ignore[arg-type]

    def props(self, value: Any) -> tuple[Prop, ...]:
        found = []
        for i, one in enumerate(value if isinstance(value, Sequence) and not isinstance(value, str) else ()):
            table = self.table(one, f"props[{i + 1}]", PROP_KEYS)
            kind = self.word(table.get("kind"), f"props[{i + 1}].kind", PROPS, "")
            height = self.number(table.get("height", 0.0), f"props[{i + 1}].height", 0.0, 3.0) or 0.0
            if kind:
                found.append(Prop(kind, str(table.get("under", "")), height))
        return tuple(found)


def merged(hold: Pose, other: Pose) -> Pose:
    """The other end in full: `hold` with what `other` gives, limb table by limb table.

    A limb's table in `other` replaces that limb's table of `hold` whole; `legs` also replaces `lead` and `rear`, `arms`
    both single arms; a `line` replaces the trunk.
    """

    def limb(name: str, shared: str) -> Limb:
        mine: Limb = getattr(other, name)
        replaced = mine or (name != shared and getattr(other, shared))
        return mine if replaced else getattr(hold, name)

    trunk = other.trunk if other.trunk is not None else (None if other.line is not None else hold.trunk)
    return Pose(
        trunk=trunk,
        line=other.line if other.line is not None else hold.line,
        head=other.head if other.head is not None else hold.head,
        legs=limb("legs", "legs"),
        lead=limb("lead", "legs"),
        rear=limb("rear", "legs"),
        arms=limb("arms", "arms"),
        lead_arm=limb("lead_arm", "arms"),
        rear_arm=limb("rear_arm", "arms"),
        back=other.back if other.back is not None else hold.back,
    )


def read_movement(
    table: Mapping[str, Any], where: str = "pose", *, span: Span | None = None, also: Sequence[str] = ()
) -> tuple[Movement | None, tuple[Finding, ...]]:
    """The movement in a table, or None when it cannot be used, and what is wrong with it, key by key.

    where  what the findings call this table (the variant's name)
    also   keys of the table that are somebody else's
    """
    r = _Reader(where, span)
    nested = "hold" in table
    known = MOVEMENT_KEYS if nested else FLAT_KEYS
    t = r.table({k: v for k, v in table.items() if k not in also}, where, known)
    if nested:
        hold = r.pose(r.table(t["hold"], "hold", POSE_KEYS), "hold.")
        easy, easy_key, easy_contact = t.get("other"), "other", t.get("other_contact")
        allowed: tuple[str, ...] = POSE_KEYS
    else:
        hold = r.pose({k: t[k] for k in POSE_KEYS if k in t}, "")
        easy, easy_key = t.get("easy"), "easy"
        easy_contact = t.get("other_contact", easy.get("contact") if isinstance(easy, Mapping) else None)
        allowed = (*POSE_KEYS, "contact")
    other = None if easy is None else merged(hold, r.pose(r.table(easy, easy_key, allowed), f"{easy_key}."))
    rests = t.get("rests", ())
    if not isinstance(rests, Sequence) or any(part not in RESTS for part in rests):
        r.fault("bad-word", f"`rests` is {rests!r}", f"use {', '.join(RESTS)}")
        rests = ()
    flags = {k: t.get(k, False) for k in ("reach", "other_reach", "arms_as_drawn")}
    for key, value in flags.items():
        if not isinstance(value, bool):
            r.fault("bad-word", f"`{key}` is {value!r}", "write true or false")
    demand = t.get("demand", t.get("scale", ""))
    movement = Movement(
        hold=hold,
        contacts=r.contacts(t.get("contact"), "contact"),
        demand=demand if isinstance(demand, str) else "",
        view=r.word(t.get("view", "side"), "view", ("side", "front"), "side"),  # type: ignore[arg-type]
        down=r.word(t.get("down", ""), "down", ("lead", "rear", ""), ""),  # type: ignore[arg-type]
        other=other,
        other_contacts=None if easy_contact is None else r.contacts(easy_contact, "other_contact"),
        reach=flags["reach"] is True,
        other_reach=flags["other_reach"] is True,
        rests=tuple(rests),
        props=r.props(t.get("props", ())),
        arms_as_drawn=flags["arms_as_drawn"] is True,
        starts=r.word(t.get("starts", ""), "starts", ("hold", "other", ""), ""),  # type: ignore[arg-type]
        steps=r.word(t.get("steps", ""), "steps", ("lead", "rear", ""), ""),  # type: ignore[arg-type]
    )
    return (None if r.findings else movement), tuple(r.findings)
