"""The way in: picks the command by name and runs it. Imports almost nothing, so `ferrule --help` is instant."""

from __future__ import annotations

import os
import sys

from ferrule.cli.stop import Stop

COMMANDS: tuple[tuple[str, str, str], ...] = (
    ("new", "DIR", "make a workspace to start from"),
    ("check", "FILE", "read a programme, squad list, house rules or whole workspace and say what was noticed"),
    ("tidy", "FILE", "show a programme in its plain written form; --write keeps it"),
    ("paste", "FILE [--write OUT]", "turn an old programme copied from a note or a document into the notation"),
    ("spread", "FILE SQUAD.csv", "say for how many of the squad each written line is too easy, right or too hard"),
    ("dry-run", "PROGRAMME", "try a programme on simulated runners, week by week, before any human sees it"),
    ("compare", "OLD NEW", "say what a runner does differently, week by week, between two versions of a programme"),
    ("show", "FILE --week N", "write one week of a programme out in full, for the coach"),
    ("fit", "WORKSPACE --week DATE", "fit the week to each runner and print the squad table and the read-back"),
    (
        "explain",
        "RUNNER [WORKSPACE]",
        "say what is believed of a runner, how sure, and what one more set would tell",
    ),
    ("buy", "WORKSPACE --week DATE", "say what one more piece of kit would change, by fitting again with it"),
    ("clear", "WORKSPACE --runner R --by NAME", "record who cleared a runner on hold"),
    ("next", "WORKSPACE --week DATE", "say what the record proposes for next week, line by line"),
    ("sign", "WORKSPACE --week DATE [--by NAME]", "sign the fitted weeks: each becomes a copy that no longer changes"),
    ("log", "WORKSPACE FILE...", "keep what runners told: files of phone pages, tables, typed lines; --show lists it"),
    ("due", "WORKSPACE", "list who needs a word from the coach and why, each with a draft answer"),
    ("runs", "WORKSPACE [FILE ...] --runner R", "keep runs from GPX tracks and tables; say which were key and long"),
    ("away", "WORKSPACE RUNNER --from D --to D --kind K", "record time away and say which programme weeks move"),
    ("move-race", "WORKSPACE RUNNER DATE", "say which programme weeks move with a race; --write keeps it"),
    ("sheets", "WORKSPACE --week DATE --out DIR", "write sheets, phone pages and calendars of the signed weeks"),
    ("review", "WORKSPACE --cycle N", "write the pages of the end of a cycle; a page for a physiotherapist"),
    ("library", "[NAME]", "list the exercises, show one with its figure, check them, or start an own one"),
    ("shots", "WORKSPACE", "list the fewest clips that show every exercise of a cycle, and how to film each"),
    ("house", "[WORKSPACE]", "print every house rule with its default, unit, range and source, or those in force"),
    ("record", "WORKSPACE", "say what the record keeps and whether it is whole; --migrations lists changes to come"),
    ("export", "WORKSPACE DIR", "write everything the record keeps as JSON and CSV"),
    ("import", "WORKSPACE DIR", "take into the record what an export holds"),
    ("erase", "WORKSPACE RUNNER --by NAME", "remove everything kept of one runner, for good"),
    ("backup", "WORKSPACE FILE", "copy the record to one file, also while it is in use"),
    ("restore", "WORKSPACE FILE", "put a backup in the place of the record"),
    ("demo", "--out DIR", "do all of it once with an invented squad of 24"),
)
"""Every command: its name, what follows it, and what it does. The module of the same name in this folder runs it."""

_NAMES = frozenset(name for name, _, _ in COMMANDS)


def module_of(name: str) -> str:
    """The module of a command: `-` is `_`, and a word that Python keeps for itself gets a `_` behind it."""
    return "ferrule.cli." + ("import_" if name == "import" else name.replace("-", "_"))


def main(argv: list[str] | None = None) -> int:
    """Run one command line. Returns the exit code: 0 fine, 1 findings of level error, 2 wrong use.

    argv   the words after `ferrule`; None takes them from the process
    """
    words = sys.argv[1:] if argv is None else argv
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    name = "ferrule " + words[0] if words and words[0] in _NAMES else "ferrule"
    try:
        code = _answer(words)
        if sys.stdout is not None:  # it is None when the shell closed it
            sys.stdout.flush()
        return code
    except Stop as stop:
        print(f"{name}: {stop.what}" + (f"\n  fix  {stop.fix}" if stop.fix else ""), file=sys.stderr)
        return stop.code
    except SystemExit as end:  # argparse: 0 after --help, 2 after wrong use
        return end.code if isinstance(end.code, int) else 2
    except KeyboardInterrupt:
        print("\nferrule: stopped", file=sys.stderr)
        return 130
    except BrokenPipeError:  # the reader of our output went away, as `| head` does
        _let_go_of_output()
        return 0
    except OSError as fault:  # a full disk, a folder that went away while we worked
        _let_go_of_output()
        print(f"{name}: the system refused: {fault}", file=sys.stderr)
        return 2
    except Exception as fault:
        return _last_resort(name, fault)


def _answer(words: list[str]) -> int:
    """Run the command that `words` begin with. Returns the exit code."""
    if not words or words[0] in ("-h", "--help", "help"):
        print(overview())
        return 0 if words else 2
    if words[0] == "--version":
        from ferrule import __version__

        print(f"ferrule {__version__}")
        return 0
    if words[0] not in _NAMES:
        return _unknown(words[0])
    from importlib import import_module

    code: int = import_module(module_of(words[0])).run(words[1:])
    return code


def overview() -> str:
    """The text of `ferrule --help`."""
    width = max(len(name) for name, _, _ in COMMANDS)
    lines = [
        "Ferrule: one written strength programme, fitted to each runner of a squad.",
        "",
        "usage: ferrule COMMAND ...",
        "",
        *(f"  {name:<{width}}  {does}" for name, _, does in COMMANDS),
        "",
        "`ferrule COMMAND --help` says more. Exit code: 0 fine, 1 findings of level error, 2 wrong use.",
        "Training of people cleared to train; not treatment, not diagnosis.",
    ]
    return "\n".join(lines)


def _let_go_of_output() -> None:
    """What is still to be printed cannot be; without this the interpreter would try again at its end, and say so."""
    sys.stdout = open(os.devnull, "w")  # noqa: SIM115 - the interpreter closes it


def _last_resort(name: str, fault: Exception) -> int:
    """A fault of ours: one line that says so and how to report it."""
    if os.environ.get("FERRULE_TRACE"):
        raise fault
    where = fault.__traceback__
    while where is not None and where.tb_next is not None:
        where = where.tb_next
    place = "" if where is None else f" at {os.path.basename(where.tb_frame.f_code.co_filename)}:{where.tb_lineno}"
    said = " ".join(str(fault).split())
    print(
        f"{name}: a fault in Ferrule itself, not in your files: {type(fault).__name__}: {said}{place}. "
        "Please report this line; FERRULE_TRACE=1 shows more.",
        file=sys.stderr,
    )
    return 2


def _unknown(word: str) -> int:
    from difflib import get_close_matches

    near = get_close_matches(word, sorted(_NAMES), n=1, cutoff=0.5)
    hint = f"did you mean `ferrule {near[0]}`?" if near else "`ferrule --help` lists them"
    print(f"ferrule: there is no command {word!r}; {hint}", file=sys.stderr)
    return 2


if __name__ == "__main__":
    raise SystemExit(main())
