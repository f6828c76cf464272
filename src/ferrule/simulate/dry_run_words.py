"""A dry run in words and as plain data: what `ferrule dry-run` prints."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from ferrule.simulate.dry_run import DryRun
from ferrule.simulate.dry_run_summary import Band, LineSummary, Summary

MOST_STALLS = 12
NOT_PEOPLE = "Simulated bodies, not people: it shows what the text and the fit do with a squad like this, never what yours will do."


def percent(band: Band, *, spread: bool = True) -> str:
    """`14 % (9-20)`; `-` of nothing."""
    if math.isnan(band.value):
        return "-"
    own = f"{100 * band.value:.0f} %"
    return f"{own} ({100 * band.low:.0f}-{100 * band.high:.0f})" if spread else own


def _number(band: Band) -> str:
    return "-" if math.isnan(band.value) else f"{band.value:.0f} ({band.low:.0f}-{band.high:.0f})"


def told(run: DryRun, summary: Summary) -> str:
    """The whole report as lines of text. In brackets: the middle 80 % over runners drawn again."""
    out = [
        f"{run.programme}: {run.runners} simulated runners, {len(summary.weeks)} weeks, seed {run.seed}"
        + (", fair world" if run.fair else ""),
        NOT_PEOPLE,
        "",
        *_weeks(summary),
        "",
        *_lines(summary.lines),
        "",
        *_stalls(summary, run.runners),
        "",
        *_chances(summary),
        "",
        *_rules(run),
    ]
    if summary.not_sent:
        out += ["", "Not sent", *(f"  {n} runner-weeks {kind}" for kind, n in summary.not_sent)]
    return "\n".join(out)


def _weeks(summary: Summary) -> list[str]:
    head = (
        "week",
        "sent",
        "too easy",
        "right",
        "too hard",
        "sets failed",
        "min a session",
        "contacts",
        "missed",
        "hurt",
    )
    rows = [
        (
            str(w.week), str(w.sent), percent(w.too_easy), percent(w.right), percent(w.too_hard), percent(w.failed),
            _number(w.minutes), _number(w.contacts), f"{100 * w.missed:.0f} %", f"{100 * w.hurt:.0f} %",
        )
        for w in summary.weeks
    ]  # fmt: skip
    return ["Effort of dosed lines, week by week", *_table([head, *rows])]


def _lines(lines: tuple[LineSummary, ...]) -> list[str]:
    out: list[str] = []
    head = ("line", "", "too easy", "right", "too hard", "sets failed", "at the end of the kit")
    for cycle in dict.fromkeys(x.cycle_name for x in lines):
        rows = [
            (
                f"{x.session_key}/{x.item_key}", x.written[:40], percent(x.too_easy), percent(x.right),
                percent(x.too_hard), percent(x.failed), f"{100 * x.outgrown:.0f} %",
            )
            for x in lines
            if x.cycle_name == cycle
        ]  # fmt: skip
        out += ["", *([cycle] if cycle else []), *_table([head, *rows])]
    return out[1:] if out else ["no dosed line was sent"]


def _stalls(summary: Summary, runners: int) -> list[str]:
    who = {s.runner_id for s in summary.stalls}
    out = [
        f"Stalled (three weeks off the band, no step towards it): {len(summary.stalls)} lines of {len(who)} of {runners} runners"
    ]
    by = Counter((s.session_key, s.item_key, s.written[:40], s.way) for s in summary.stalls)
    kit = Counter((s.session_key, s.item_key, s.written[:40], s.way) for s in summary.stalls if s.outgrown)
    for key, n in sorted(by.items(), key=lambda x: (-x[1], x[0]))[:MOST_STALLS]:
        ended = f", {kit[key]} of them at the end of their kit" if kit[key] else ""
        out.append(f"  {key[0]}/{key[1]}  {key[2]}: {n} {key[3]}{ended}")
    return out


def _chances(summary: Summary) -> list[str]:
    out = ["Chance of completing the first set: stated, and what happened (95 % interval)"]
    for s in summary.strata:
        if not s.enough:
            out.append(f"  {s.low:.2f}-{s.high:.2f}  {s.sets:5} sets: too few to say")
            continue
        verdict = "agrees" if s.agrees else "too sure" if s.stated > s.most else "too timid"
        out.append(
            f"  {s.low:.2f}-{s.high:.2f}  {s.sets:5} sets: stated {100 * s.stated:.1f} %, completed {100 * s.happened:.1f} %"
            f" ({100 * s.least:.1f}-{100 * s.most:.1f}), {verdict}"
        )
    return out


def _rules(run: DryRun) -> list[str]:
    weeks = len(run.sent)
    if not run.broken:
        return [f"Safety rules: none broken in {weeks} runner-weeks"]
    kinds = Counter(b.rule for b in run.broken)
    out = [f"Safety rules broken in {weeks} runner-weeks: " + ", ".join(f"{k} {n}" for k, n in sorted(kinds.items()))]
    return out + [f"  {b.rule}: {b.runner_id} week {b.week} {b.where}: {b.what}" for b in run.broken[:MOST_STALLS]]


def _table(rows: Sequence[tuple[str, ...]]) -> list[str]:
    wide = [max(len(r[c]) for r in rows) for c in range(len(rows[0]))]
    return ["  " + "  ".join(f"{cell:<{w}}" for cell, w in zip(r, wide, strict=True)).rstrip() for r in rows]


def as_data(run: DryRun, summary: Summary) -> dict[str, Any]:
    """The same as plain data; what is not known is null."""
    data = {
        "programme": run.programme, "runners": run.runners, "seed": run.seed, "fair": run.fair,
        "runner_weeks": len(run.sent), "not_sent": dict(summary.not_sent), "weeks": [asdict(w) for w in summary.weeks],
        "lines": [asdict(x) for x in summary.lines], "stalled": [asdict(s) for s in summary.stalls],
        "chances": [{**asdict(s), "enough": s.enough} for s in summary.strata], "in_the_band_from": dict(summary.there),
        "broken": [asdict(b) for b in run.broken],
    }  # fmt: skip
    clean: dict[str, Any] = _null(data)
    return clean


def _null(value: Any) -> Any:
    if isinstance(value, dict):
        return {k: _null(v) for k, v in value.items()}
    if isinstance(value, list | tuple):
        return [_null(v) for v in value]
    return None if isinstance(value, float) and math.isnan(value) else value
