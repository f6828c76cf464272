"""Makes the pictures of the README from what `ferrule demo` wrote: `python docs/pictures/make.py demo-out`."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent
RUNNER = "R01"


def sheet(pdf: Path, to: Path) -> None:
    """The first page of a sheet, 72 dots an inch."""
    subprocess.run(
        ["pdftoppm", "-r", "72", "-png", "-f", "1", "-singlefile", str(pdf), str(to.with_suffix(""))], check=True
    )


def page(html: Path, to: Path, *, width: int, height: int, below: str = "") -> None:
    """`height` pixels of a page as Chromium draws it, from its top or from the first element that holds `below`."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        opened = browser.new_page(viewport={"width": width, "height": height})
        opened.goto(html.resolve().as_uri())
        box = opened.locator(below).first.bounding_box() if below else None
        top = 0.0 if box is None else max(0.0, box["y"] - 24)
        opened.screenshot(path=to, full_page=True, clip={"x": 0, "y": top, "width": width, "height": height})
        browser.close()


def main(out: Path) -> None:
    """Write sheet.png, page.png and read-back.png beside this file."""
    week = next((out / "sheets").glob(f"{RUNNER}-*.pdf"))
    sheet(week, HERE / "sheet.png")
    page(week.with_suffix(".html"), HERE / "page.png", width=390, height=760)
    page(out / "squad.html", HERE / "read-back.png", width=760, height=1080, below="h2#lines ~ * h4:has-text('A1')")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
