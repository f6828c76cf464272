"""The one exception of the command line: it cannot go on, said in a sentence."""

from __future__ import annotations


class Stop(Exception):  # noqa: N818 - it is an end, not a fault of the program
    """The command cannot go on. `what` is one sentence for the user, `fix` what to do instead.

    code   2 wrong use; 1 when a file of the workspace is at fault
    """

    def __init__(self, what: str, fix: str = "", code: int = 2) -> None:
        super().__init__(what)
        self.what = what
        self.fix = fix
        self.code = code
