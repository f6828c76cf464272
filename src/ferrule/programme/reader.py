"""Programme text -> Programme, with findings. The notation is docs/notation.md."""

from __future__ import annotations

from ferrule.model.exercise import Library
from ferrule.model.finding import Finding
from ferrule.model.programme import Programme
from ferrule.programme.assemble import assemble
from ferrule.programme.front import read_front
from ferrule.programme.markdown import nodes_of
from ferrule.programme.naming import names_of
from ferrule.programme.reading import Reading
from ferrule.programme.report import Report
from ferrule.programme.source import Source, read_source
from ferrule.programme.traps import mended


def read_programme(data: bytes | str, file: str, library: Library) -> tuple[Programme, tuple[Finding, ...]]:
    """Reads a programme.

    data   the file: bytes (UTF-8, or what can be told to be UTF-16 or Windows-1252) or text
    file   its name, for spans

    Never raises on bad input: whatever cannot be read is told in a finding, in order of place, and the rest is read.
    Lines and columns count from 1. Time grows linearly; input beyond `SIZE_LIMIT_BYTES` is not read.
    """
    reading = read_parts(data, file, library)
    return assemble(reading, file), reading.report.findings()


def read_parts(data: bytes | str, file: str, library: Library) -> Reading:
    """The pass over the text, before it is put together; `tidy` goes on from here."""
    report = Report(file)
    source = read_source(data, report)
    report.lines = source.raw
    front = read_front(source, report)
    if front.end or front.bare:
        kept = tuple("" if i < front.end or i in front.bare else line for i, line in enumerate(source.lines))
        source = Source(kept, source.origin, source.raw)
    source, tokens = mended(source, report)
    reading = Reading(front, names_of(library), report)
    reading.read(nodes_of(source, tokens))
    return reading
