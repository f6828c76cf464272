"""The page of a dry run: effort of every line as a picture, the weeks as a table, and everything else as it is printed."""

from __future__ import annotations

from html import escape

from ferrule.deliver.html import inline
from ferrule.deliver.ink import GROUND, HAIR, INK, NOTE, RUST, px, words
from ferrule.deliver.plain import clean
from ferrule.simulate.dry_run import DryRun
from ferrule.simulate.dry_run_summary import LineSummary, Summary
from ferrule.simulate.dry_run_words import NOT_PEOPLE, percent, told

NAME_W, BAR_W, ROW_H, HEAD_H = 300.0, 420.0, 24.0, 40.0
STYLE = (
    "body{max-width:860px}table{border-collapse:collapse;font-size:14px}th,td{text-align:left;padding:3px 10px 3px 0;"
    "border-bottom:1px solid #d9d2c3;vertical-align:top}pre{white-space:pre;overflow-x:auto;font-size:12px;line-height:1.45}"
    ".wide{overflow-x:auto}section{margin-top:28px}"
)


def page(run: DryRun, summary: Summary) -> str:
    """One HTML file with everything in it; no script, no network."""
    style, digest = inline("paper.css", more=STYLE)
    cycles = dict.fromkeys(x.cycle_name for x in summary.lines)
    pictures = "".join(
        f"<section><h2>{_text(cycle or 'Lines')}</h2><div class=wide>"
        f"{picture([x for x in summary.lines if x.cycle_name == cycle])}</div></section>"
        for cycle in cycles
    )
    head = f"{run.runners} simulated runners, {len(summary.weeks)} weeks, seed {run.seed}"
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src '{digest}'\">"
        f"<title>Dry run: {_text(run.programme)}</title><style>{style}</style></head><body>"
        f"<h1>Dry run: {_text(run.programme)}</h1><p>{_text(head)}. {NOT_PEOPLE}</p>"
        "<p class=fade>Where the last set of each line truly lay to the effort the coach meant. In brackets: the middle "
        "80 % over runners drawn again.</p>"
        f"{pictures}<section><h2>Week by week</h2><div class=wide>{_weeks(summary)}</div></section>"
        f"<section><h2>All of it</h2><pre tabindex=0>{_as_printed(told(run, summary))}</pre></section></body></html>\n"
    )


def _text(value: str) -> str:
    return escape("\n".join(clean(x) for x in value.split("\n")))


def _as_printed(text: str) -> str:
    """Columns stay where they are: only what no page can show is taken out."""
    return escape("\n".join("".join(c for c in line if c.isprintable()) for line in text.split("\n")))


def picture(lines: list[LineSummary]) -> str:
    """A row a line: too easy to the left, hatched; right, rust; too hard to the right, ink."""
    height = HEAD_H + ROW_H * len(lines) + 8
    said = "; ".join(
        f"{x.written}: too easy {percent(x.too_easy, spread=False)}, right {percent(x.right, spread=False)}, "
        f"too hard {percent(x.too_hard, spread=False)}"
        for x in lines
    )
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(clean(said))}" '
        f'viewBox="0 0 {px(NAME_W + BAR_W + 20)} {px(height)}" width="{px(NAME_W + BAR_W + 20)}" font-family="system-ui, sans-serif">',
        f'<defs><pattern id="easy" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
        f'<rect width="6" height="6" fill="{GROUND}"/><rect width="2" height="6" fill="{NOTE}"/></pattern></defs>',
        words(NAME_W, 18, "too easy (hatched)", fill=NOTE),
        words(NAME_W + BAR_W / 2, 18, "right", fill=RUST, anchor="middle"),
        words(NAME_W + BAR_W, 18, "too hard (dark)", anchor="end"),
    ]
    for n, x in enumerate(lines):
        y = HEAD_H + n * ROW_H
        out.append(words(0, y + 12, f"{x.session_key}/{x.item_key}  {_cut(x.written)}"))
        at = NAME_W
        for share, fill, ink in (
            (x.too_easy.value, "url(#easy)", INK), (x.right.value, RUST, GROUND), (x.too_hard.value, INK, GROUND),
        ):  # fmt: skip
            wide = BAR_W * share
            out.append(
                f'<rect x="{px(at)}" y="{px(y)}" width="{px(wide)}" height="16" fill="{fill}" stroke="{HAIR}" stroke-width="1"/>'
            )
            if wide >= 34:
                out.append(
                    words(
                        at + wide / 2,
                        y + 12,
                        f"{100 * share:.0f} %",
                        fill=ink,
                        anchor="middle",
                        size=11,
                        halo=ink == INK,
                    )
                )
            at += wide
    return "".join((*out, "</svg>"))


def _cut(text: str) -> str:
    return text if len(text) <= 34 else text[:33] + "…"


def _weeks(summary: Summary) -> str:
    head = ("week", "sent", "too easy", "right", "too hard", "sets failed", "sessions missed", "hurt")
    rows = [
        (str(w.week), str(w.sent), percent(w.too_easy), percent(w.right), percent(w.too_hard), percent(w.failed),
         f"{100 * w.missed:.0f} %", f"{100 * w.hurt:.0f} %")
        for w in summary.weeks
    ]  # fmt: skip
    top = "".join(f"<th scope=col>{h}</th>" for h in head)
    body = "".join("<tr>" + "".join(f"<td>{_text(c)}</td>" for c in row) + "</tr>" for row in rows)
    return f"<table><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"
