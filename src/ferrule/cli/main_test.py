from __future__ import annotations

import sys
from importlib import import_module
from pathlib import Path
from types import ModuleType

import pytest

from ferrule.cli.main import COMMANDS, main, module_of
from ferrule.cli.stop import Stop


def test_help_names_every_command(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == 0
    text = capsys.readouterr().out
    for name, _, does in COMMANDS:
        assert f"  {name} " in text
        assert does in text
    assert max(map(len, text.splitlines())) <= 100


def test_nothing_at_all_is_wrong_use(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([]) == 2
    assert "usage" in capsys.readouterr().out


def test_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out == "ferrule 0.1.0\n"


def test_a_slip_in_the_command_gets_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["chek", "x.md"]) == 2
    assert "did you mean `ferrule check`?" in capsys.readouterr().err


@pytest.mark.parametrize("name", [name for name, _, _ in COMMANDS])
def test_every_command_has_a_module_and_help(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert callable(import_module(module_of(name)).run)
    assert main([name, "--help"]) == 0
    assert f"usage: ferrule {name}" in capsys.readouterr().out


@pytest.mark.parametrize("name", [name for name, _, _ in COMMANDS])
def test_an_unknown_option_is_wrong_use(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([name, "--no-such-option"]) == 2
    assert "usage" in capsys.readouterr().err


def _command(monkeypatch: pytest.MonkeyPatch, fault: BaseException) -> None:
    module = ModuleType("ferrule.cli.check")

    def run(words: list[str]) -> int:
        raise fault

    module.run = run  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "ferrule.cli.check", module)


def test_a_fault_of_ours_is_one_line(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.delenv("FERRULE_TRACE", raising=False)
    _command(monkeypatch, RuntimeError("two\nlines"))
    assert main(["check"]) == 2
    err = capsys.readouterr().err
    assert err.count("\n") == 1
    assert "RuntimeError: two lines at main_test.py:" in err
    assert "Please report" in err


def test_a_stop_says_what_and_how_to_mend(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    _command(monkeypatch, Stop("there is no file x.md", "check the name"))
    assert main(["check"]) == 2
    assert capsys.readouterr().err == "ferrule check: there is no file x.md\n  fix  check the name\n"


def test_an_interrupt_is_not_a_fault(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    _command(monkeypatch, KeyboardInterrupt())
    assert main(["check"]) == 130
    assert "stopped" in capsys.readouterr().err


def test_a_refusal_of_the_system_is_no_fault_of_ours(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    _command(monkeypatch, OSError(28, "No space left on device"))
    before = sys.stdout
    assert main(["check"]) == 2
    sys.stdout.close()
    monkeypatch.setattr("sys.stdout", before)
    assert capsys.readouterr().err == "ferrule check: the system refused: [Errno 28] No space left on device\n"


def test_main_imports_next_to_nothing() -> None:
    """`ferrule --help` is instant because this file stays light (bench/help_time.py measures it)."""
    lines = Path(str(import_module("ferrule.cli.main").__file__)).read_text(encoding="utf-8").splitlines()
    top = {line.split()[1] for line in lines if line.startswith(("import ", "from "))}
    assert top == {"__future__", "os", "sys", "ferrule.cli.stop"}
