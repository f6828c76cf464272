"""docs/rules.md and docs/house.md, written from the rules and the thresholds themselves.

python -m ferrule.check.docs rules > docs/rules.md
python -m ferrule.check.docs house > docs/house.md
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping

from ferrule.check.minutes import BETWEEN_S, CONTACT_S, PACE_M_PER_S, REP_S, REST_S, SETUP_S, SIDE_S, WALK_S
from ferrule.check.rules import RULES
from ferrule.model.house import THRESHOLDS
from ferrule.model.next_thresholds import NEXT
from ferrule.model.notice_thresholds import NOTICE
from ferrule.model.quantity import number

_RULES_HEAD = """\
# The checks

Written from the rules themselves by `python -m ferrule.check.docs rules`; do not edit by hand.

A check reads the programme week by week, with every by-week table applied, and tells each thing once with its weeks.
An **error** is for what cannot be done or is unsafe. **Advice** is the coach's to take or to set aside:

- for one block, session or cycle: `<!-- allow rule-name: why -->` on a line of its own before its head;
- for the whole programme: the same line above the first cycle;
- for every programme: `off = ["rule-name"]` in `house.toml`.

What is set aside by an `allow` stays in the list as a note with its reason. Errors cannot be set aside.
Numbers in *italics* are house rules; `house.toml` changes them (see [house.md](house.md)).
"Checked" means these rules found what they look for. It does not mean safe.
"""

_HOUSE_HEAD = """\
# House rules

Written from the thresholds themselves by `python -m ferrule.check.docs house`; do not edit by hand.

`house.toml` lies beside the programme. All of it may be left out; a key that is not written keeps its default.

```toml
coach = "..."          # who signs; printed on the sheet
contact = "..."        # how runners reach the coach
off = ["pair-clash"]   # checks that are not wanted, by the names in rules.md; never errors

[thresholds]
key-run-gap-h = 36
contacts-step = "off"
```

`"off"` makes one number ask nothing, where the table says it may be; a name in `off = [...]` silences a whole check.
`ferrule house WORKSPACE` prints what is in force and what differs from the defaults.

A misspelt key, a value of the wrong type or one outside its range is told with its line, and the default stays in
force. The source says where a default comes from: *seen* was read in the source or a public copy of it, *from memory*
was not read again, and *common practice, no source* is the custom of the trade.
"""


def rules_md() -> str:
    """docs/rules.md."""
    defaults = {t.key: t for t in THRESHOLDS}
    out = [_RULES_HEAD, "| rule | level | in short |", "|---|---|---|"]
    out += [f"| [{r.name}](#{r.name}) | {r.level} | {r.says} |" for r in RULES]
    for r in RULES:
        out += [
            "",
            f"## {r.name}",
            "",
            f"{r.level.capitalize()}. {r.says}",
            "",
            f"- Why: {r.why}",
            f"- Source: {r.source}",
        ]
        out.append(f"- Strength of evidence: {r.strength}")
        used = [f"*{k}* {number(defaults[k].default)} {defaults[k].unit}" for k in r.thresholds]
        if r.mends:
            out.append("- `ferrule check --fix` mends it, where nothing else has to be decided.")
        if used:
            out.append(f"- House rules: {', '.join(used)}")
    out += ["", _timing()]
    return "\n".join(out)


def _timing() -> str:
    rests = ", ".join(f"{kind} {number(s)} s" for kind, s in REST_S.items())
    betweens = ", ".join(f"{kind} {number(s)} s" for kind, s in BETWEEN_S.items())
    return f"""\
## How minutes are counted

One function counts for the checks, the fit and the sheet; of every written range it takes the middle.

- A set: sides x (repetitions x seconds a repetition, or the hold) and {number(SIDE_S)} s to change sides, unless a
  `side rest` is written. The tempo and the pause give the seconds a repetition; without them the exercise's own, or
  {number(REP_S)} s. Metres count at {number(PACE_M_PER_S)} m a second, a contact {number(CONTACT_S)} s unless the exercise says otherwise.
- Straight sets: setting up ({number(SETUP_S)} s unless the exercise says otherwise), the sets, and the rests between them.
- Pair, circuit, warm-up: setting up each exercise once, then rounds x (all sets and the times between), and the rests
  between rounds.
- A rest that is not written counts: {rests}.
- From one exercise to the next, when no `between` is written: {betweens}.
- From one block to the next: {number(WALK_S)} s.

All of these are common practice, no source; the rest of straight sets is the middle of Grgic 2018's 60-120 s (seen).
"""


def house_md() -> str:
    """docs/house.md."""
    used_by = {t.key: [r.name for r in RULES if t.key in r.thresholds] for t in THRESHOLDS}
    out = [_HOUSE_HEAD, "| key | default | range | unit | may be off | what | used by | source |"]
    out.append("|---|---|---|---|---|---|---|---|")
    for t in THRESHOLDS:
        users = ", ".join(f"[{n}](rules.md#{n})" for n in used_by[t.key]) or _BY_PART.get(t.key, "the fit")
        span = f"{number(t.low)} to {number(t.high)}"
        off = "no" if t.off is None else "yes"
        out.append(f"| `{t.key}` | {number(t.default)} | {span} | {t.unit} | {off} | {t.what} | {users} | {t.source} |")
    return "\n".join(out) + "\n"


_BY_PART = {
    **{t.key: "[the list and the runs](notice.md)" for t in NOTICE},
    **{t.key: "[next week](next.md)" for t in NEXT},
}
"""Thresholds that neither a check nor the fit reads."""

PAGES: Mapping[str, Callable[[], str]] = {"rules": rules_md, "house": house_md}

if __name__ == "__main__":
    sys.stdout.write(PAGES[sys.argv[1] if len(sys.argv) > 1 else "rules"]())
