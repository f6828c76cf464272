"""`ferrule library --muscles WORKSPACE`: what a programme does for each muscle, week by week."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

from ferrule.check.course import Course, lay_out
from ferrule.cli import workspace as ws
from ferrule.cli.compare import show
from ferrule.cli.findings import terminal_width
from ferrule.cli.reading import indented, read_file
from ferrule.library.muscles import MUSCLES, PLAIN, REGION_OF, sets_of
from ferrule.model.finding import has_errors
from ferrule.model.quantity import number


@dataclass(frozen=True, slots=True)
class Worked:
    """Sets outside the warm-ups for each muscle by week; `left_out` are lines that name no exercise of the library."""

    title: str
    weeks: Mapping[int, Mapping[str, float]]
    left_out: tuple[str, ...]


def run(path: Path, *, as_json: bool) -> int:
    """Print it. Returns 1 when the programme has an error."""
    file = path / ws.PROGRAMME if path.is_dir() else path
    read = read_file(file)
    show(read.findings, read.sources)
    found = worked_in(lay_out(read.programme, read.library, ws.surroundings(file.parent).house))
    print(
        json.dumps(as_data(found), indent=2, ensure_ascii=False)
        if as_json
        else indented(text_of(found), terminal_width())
    )
    return 1 if has_errors(read.findings) else 0


def worked_in(course: Course) -> Worked:
    """Every line outside the warm-ups, as often as its session is done; mobility is no work of a muscle."""
    weeks: dict[int, Mapping[str, float]] = {}
    left_out: dict[str, None] = {}
    for week, lines in course.by_week.items():
        working = [x for x in lines if not x.warm]
        left_out |= dict.fromkeys(f"{x.where}: {x.name}" for x in working if x.variant is None)
        weeks[week] = sets_of(
            (x.variant, x.sets * x.times) for x in working if x.variant and x.variant.pattern != "mobility"
        )
    programme = course.programme
    return Worked(programme.title or programme.file, weeks, tuple(left_out))


def text_of(found: Worked) -> str:
    """One row a muscle, one column for weeks that are alike; then what nothing works."""
    columns = list(_alike(found.weeks))
    trained = [m for m in MUSCLES if any(sums[m] for _, sums in columns)]
    names = {m: f"{m} ({PLAIN[m]})" for m in trained}
    wide = max(map(len, names.values()), default=0)
    heads = [head for head, _ in columns]
    lines = [f"{found.title}: sets a week for each muscle, half where it helps", ""]
    if trained:
        lines.append(f"{'week':<{wide}}  {'  '.join(f'{h:>5}' for h in heads)}")
    for muscle in trained:
        cells = (f"{number(sums[muscle]) if sums[muscle] else '.':>{max(5, len(head))}}" for head, sums in columns)
        lines.append(f"{names[muscle]:<{wide}}  {'  '.join(cells)}")
    none = [m for m in MUSCLES if m not in trained]
    if none:
        lines += ["", "In no week: " + ", ".join(f"{m} ({PLAIN[m]})" for m in none)]
    if found.left_out:
        lines += [
            "",
            "Not counted, because they leave the exercise open or name none of the library:",
            *(f"  {x}" for x in found.left_out),
        ]
    return "\n".join(lines)


def _alike(weeks: Mapping[int, Mapping[str, float]]) -> Iterator[tuple[str, Mapping[str, float]]]:
    """Weeks in a row with the same sums as one column, with its head: `1-3`."""
    for _, run_ in groupby(sorted(weeks), key=lambda week: tuple(weeks[week].values())):
        numbers = list(run_)
        head = str(numbers[0]) if len(numbers) == 1 else f"{numbers[0]}-{numbers[-1]}"
        yield head, weeks[numbers[0]]


def as_data(found: Worked) -> dict[str, object]:
    """The same as plain data."""
    return {
        "programme": found.title,
        "weeks": [
            {"week": week, "sets": {m: sums[m] for m in MUSCLES if sums[m]}}
            for week, sums in sorted(found.weeks.items())
        ],
        "muscles": [{"name": m, "plain": PLAIN[m], "region": REGION_OF[m]} for m in MUSCLES],
        "left_out": list(found.left_out),
    }
