"""A workspace on disk, read: programme, squad, house rules and the coach's own exercises, with every finding."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from ferrule.check.house import read_house
from ferrule.check.run import check
from ferrule.cli.stop import Stop
from ferrule.library.reader import load_library
from ferrule.model.exercise import Library
from ferrule.model.finding import Finding, Span, in_order
from ferrule.model.house import House
from ferrule.model.programme import Programme
from ferrule.model.squad import Squad
from ferrule.programme.reader import read_programme
from ferrule.squad.reader import read_squad

PROGRAMME = "programme.md"
SQUAD = "squad.csv"
HOUSE = "house.toml"
LIBRARY = "library"
RECORD = "ferrule.db"

MOST_BYTES = 1_000_000
"""A file larger than this is not read: a season of sessions is some tens of kilobytes."""


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a file is read against: the exercises and the house rules of its folder.

    sources   text of each file read, by the name its findings carry
    """

    library: Library
    house: House
    findings: tuple[Finding, ...]
    sources: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Workspace:
    """A workspace as read. `programme` and `squad` are what could be read; `findings` say what could not."""

    folder: Path
    library: Library
    house: House
    programme: Programme
    squad: Squad
    findings: tuple[Finding, ...]
    sources: Mapping[str, str]


def open_workspace(folder: Path) -> Workspace:
    """Read a workspace and check its programme. Raises Stop when the folder, programme or squad list is missing."""
    if not folder.is_dir():
        raise Stop(f"there is no folder {folder}", "`ferrule new DIR` makes a workspace to start from")
    for name in (PROGRAMME, SQUAD):
        if not (folder / name).is_file():
            raise Stop(f"{folder} has no {name}", f"a workspace holds {PROGRAMME} and {SQUAD}; see `ferrule new`")
    around = surroundings(folder)
    programme, programme_findings, sources = programme_of(folder / PROGRAMME, around)
    squad, squad_findings, squad_sources = squad_of(folder / SQUAD, around)
    return Workspace(
        folder,
        around.library,
        around.house,
        programme,
        squad,
        in_order((*around.findings, *programme_findings, *squad_findings)),
        {**around.sources, **sources, **squad_sources},
    )


def surroundings(folder: Path) -> Surroundings:
    """The library with the coach's own exercises (`library/*.toml`) and the house rules (`house.toml`), if any."""
    findings: list[Finding] = []
    sources: dict[str, str] = {}
    own: dict[str, bytes] = {}
    for path in sorted((folder / LIBRARY).glob("*.toml")):
        data, noticed = read_bytes(path)
        findings += noticed
        if data is not None:
            own[str(path)] = data
            sources[str(path)] = text_of(data)
    library, noticed_in_library = load_library(own)
    findings += noticed_in_library
    house = House()
    if (folder / HOUSE).exists():
        house, noticed_in_house, house_sources = house_of(folder / HOUSE)
        findings += noticed_in_house
        sources |= house_sources
    return Surroundings(library, house, tuple(findings), sources)


def programme_of(path: Path, around: Surroundings) -> tuple[Programme, tuple[Finding, ...], dict[str, str]]:
    """A programme file read and checked, its findings, and its text by file name."""
    data, noticed = read_bytes(path)
    if data is None:
        return Programme(str(path), "", 0, None, (), (), ()), noticed, {}
    programme, findings = read_programme(data, str(path), around.library)
    findings = (*noticed, *findings, *check(programme, around.library, around.house))
    return programme, tuple(findings), {str(path): text_of(data)}


def squad_of(path: Path, around: Surroundings) -> tuple[Squad, tuple[Finding, ...], dict[str, str]]:
    """A squad list read, its findings, and its text by file name."""
    data, noticed = read_bytes(path)
    if data is None:
        return Squad(str(path), ()), noticed, {}
    squad, findings = read_squad(data, str(path), around.library)
    return squad, (*noticed, *findings), {str(path): text_of(data)}


def house_of(path: Path) -> tuple[House, tuple[Finding, ...], dict[str, str]]:
    """House rules read, their findings, and their text by file name."""
    data, noticed = read_bytes(path)
    if data is None:
        return House(), noticed, {}
    house, findings = read_house(data, str(path))
    return house, (*noticed, *findings), {str(path): text_of(data)}


def read_bytes(path: Path) -> tuple[bytes | None, tuple[Finding, ...]]:
    """The bytes of a file; None and a finding when it is far too large. Raises Stop when it cannot be opened."""
    try:
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
            size = len(data) if len(data) <= MOST_BYTES else path.stat().st_size
    except FileNotFoundError:
        raise Stop(f"there is no file {path}", "check the name and the folder") from None
    except IsADirectoryError:
        raise Stop(f"{path} is a folder", "name a file in it") from None
    except (OSError, ValueError) as fault:
        said = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
        raise Stop(f"{path} cannot be read: {said}") from None
    if size <= MOST_BYTES:
        return data, ()
    finding = Finding(
        "file-too-large",
        "error",
        f"The file holds {size / 1e6:.1f} million bytes; nothing of it was read.",
        "A season of sessions is some tens of thousands of bytes, so this is likely another file.",
        f"Give a file of at most {MOST_BYTES // 1_000_000} million bytes.",
        Span(str(path), 1),
    )
    return None, (finding,)


def text_of(data: bytes) -> str:
    """The text of a file for showing lines of it: a byte that is no UTF-8 shows as a mark."""
    return data.decode("utf-8-sig", errors="replace").replace("\r\n", "\n").replace("\r", "\n")


def write_text(path: Path, text: str) -> None:
    """Write a whole file or leave the old one as it was. Raises Stop when it cannot be written."""
    write_bytes(path, text.encode("utf-8"))


def write_bytes(path: Path, data: bytes) -> None:
    """Write a whole file or leave the old one as it was. Raises Stop when it cannot be written."""
    draft = path.with_name(path.name + ".part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        draft.write_bytes(data)
        draft.replace(path)
    except OSError as fault:
        raise Stop(f"{path} cannot be written: {fault.strerror or fault}") from None
