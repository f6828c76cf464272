"""Makes the pictures of the README from what `ferrule demo` wrote: `python docs/pictures/make.py demo-out`."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent


def sheet(pdf: Path, to: Path) -> None:
    """The first page of a sheet."""
    subprocess.run(
        ["pdftoppm", "-r", "72", "-png", "-f", "1", "-singlefile", str(pdf), str(to.with_suffix(""))], check=True
    )


def page(html: Path, to: Path, width: int, height: int) -> None:
    """The top of a page as Chromium draws it."""
    with tempfile.TemporaryDirectory() as profile:
        subprocess.run(
            [
                "chromium",
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-background-networking",
                "--hide-scrollbars",
                f"--user-data-dir={profile}",
                f"--window-size={width},{height}",
                f"--screenshot={to}",
                html.resolve().as_uri(),
            ],
            check=True,
            stderr=subprocess.DEVNULL,
        )


def main(out: Path) -> None:
    """Write sheet.png, page.png and read-back.png beside this file."""
    first = sorted(out.glob("sheets/*.pdf"))[0]
    sheet(first, HERE / "sheet.png")
    page(first.with_suffix(".html"), HERE / "page.png", 390, 844)
    page(out / "squad.html", HERE / "read-back.png", 960, 1200)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
