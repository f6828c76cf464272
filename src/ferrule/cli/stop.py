"""The one exception of the command line: wrong use, said in a sentence."""

from __future__ import annotations


class Stop(Exception):  # noqa: N818 - it is an end, not a fault of the program
    """The command cannot go on as asked. `what` is one sentence for the user, `fix` what to do instead."""

    def __init__(self, what: str, fix: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.fix = fix
