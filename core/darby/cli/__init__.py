"""The commands. Nothing but click is imported until a command runs, so that `darby --help` answers at once."""

from __future__ import annotations

import codecs
import contextlib
import errno
import os
import sys
from collections.abc import Sequence
from typing import NoReturn

import click

from darby.cli.bid import bid
from darby.cli.compare import compare
from darby.cli.desk import desk
from darby.cli.estimate import demo, estimate
from darby.cli.explain import explain
from darby.cli.history import history
from darby.cli.lookup import formats, topics, trades, why
from darby.cli.new_trade import new_trade
from darby.cli.plugins import api, plugins
from darby.cli.read import read
from darby.cli.replay import replay
from darby.cli.rooms import rooms

DONE, OPEN, WRONG, INCOMPLETE, OURS = 0, 1, 2, 3, 70
"""Exit codes: done; done with something open under --strict; wrong input; a part failed; our own mistake."""

_FULL = {errno.ENOSPC, errno.EDQUOT, errno.EIO, errno.EFBIG, errno.EBADF}
"""What a stream that takes no more says."""
_INTERRUPTED, _PIPE_CLOSED = 130, 141

_COMPLETE = "_DARBY_COMPLETE"
"""What a shell sets to have a command completed, by the rules of click."""

_PLAIN = str.maketrans(
    {"×": "x", "÷": "/", "−": "-", "│": "|", "─": "-", "⋮": ":", "“": '"', "”": '"', "’": "'", "…": "."}
)


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="darby", prog_name="darby")
def cli() -> None:
    """Reads finishes specifications, measures, and works out what to order, every number traced to its clause.

    See it at work:  darby demo

    Read about it:   darby help
    """


for _command in (
    demo,
    read,
    estimate,
    rooms,
    desk,
    explain,
    bid,
    history,
    compare,
    replay,
    formats,
    topics,
    why,
    trades,
    plugins,
    api,
    new_trade,
):
    cli.add_command(_command)


_MEMORY = (
    "darby: there is not enough memory for this. Files are as they were, or written whole; what was shown may not be whole. Close other programs, or split the job "
    "or its documents.\n"
)
_SHORT = "darby: memory ran out for a moment. What was written is whole. Close other programs, or split the job or its documents.\n"
_LOST = ("without exception set", "without setting an exception")
"""What is said of an error that Python lost on its way: its own parts do so where memory is wanting (`compile` of 3.11 does)."""
_TOLD_BEFORE = sys.unraisablehook


def main(arguments: Sequence[str] | None = None) -> NoReturn:
    """Run the program and leave with its exit code. No mistake of the user or of ours ends in a traceback."""
    _take_any_character()
    _have_streams()
    sys.unraisablehook = _unraised
    try:
        code = _run(sys.argv[1:] if arguments is None else list(arguments))
        sys.stdout.flush()
    except BrokenPipeError:
        _close_quietly()
        code = _PIPE_CLOSED
    except (KeyboardInterrupt, click.Abort):
        code = _INTERRUPTED
    except MemoryError:
        code = _no_memory()
    except SystemError as error:
        code = _no_memory() if any(said in str(error) for said in _LOST) else _our_fault(error)
    except Exception as error:
        code = _unwritten(error) or _our_fault(error)
    sys.exit(code)


def _run(arguments: list[str]) -> int:
    if asked := os.environ.get(_COMPLETE):
        from click.shell_completion import shell_complete  # noqa: PLC0415 - wanted by a shell alone

        return shell_complete(cli, {}, "darby", _COMPLETE, asked)
    try:
        with cli.make_context("darby", arguments) as context:
            code = cli.invoke(context)
    except click.exceptions.Exit as left:
        return left.exit_code
    except click.ClickException as wrong:
        wrong.show()
        return WRONG
    return code if isinstance(code, int) else DONE


def _have_streams() -> None:
    """Leaves where standard output is closed, since nothing could be shown; a closed standard error hears nothing."""
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - it stays until the end
    if sys.stdout is None:
        sys.stderr.write("darby: standard output is closed; nothing can be shown.\n")
        os._exit(WRONG)  # as all else would be written to whatever is opened first


def _no_memory() -> int:
    """The code where memory ran out, which is told with a text that is there already."""
    _close_quietly()
    with contextlib.suppress(Exception):
        sys.stderr.write(_MEMORY)
    return WRONG


def _unraised(what: sys.UnraisableHookArgs) -> None:
    """What Python could not raise: memory that was wanting while it put something away is told in a sentence, and the work goes on."""
    if issubclass(what.exc_type, MemoryError) and not os.environ.get("DARBY_DEBUG"):
        with contextlib.suppress(Exception):
            sys.stderr.write(_SHORT)
    else:
        _TOLD_BEFORE(what)


def _unwritten(error: Exception) -> int:
    """The code where standard output takes no more, which is told; 0 where it is something else."""
    if not isinstance(error, OSError) or error.errno not in _FULL or error.filename is not None:
        return 0
    _close_quietly()
    why = (error.strerror or str(error)).lower()
    click.echo(f"darby: standard output cannot be written: {why}. What was shown is not whole.", err=True)
    return WRONG


def _our_fault(error: Exception) -> int:
    if os.environ.get("DARBY_DEBUG"):
        import traceback  # noqa: PLC0415 - wanted by nobody on a good day

        traceback.print_exception(error)
    click.echo(
        f"darby: something went wrong that is our fault, not yours ({type(error).__name__}). Please report it with the "
        "command you ran; DARBY_DEBUG=1 in front of it shows the details to send along.",
        err=True,
    )
    return OURS


def _take_any_character() -> None:
    """Lets streams that cannot show a sign show a plainer one instead of failing."""
    codecs.register_error("darby", _plainer)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="darby")


def _plainer(error: UnicodeError) -> tuple[str, int]:
    if not isinstance(error, UnicodeEncodeError):
        raise error
    plain = error.object[error.start : error.end].translate(_PLAIN)
    return "".join(c if c.isascii() else "?" for c in plain), error.end


def _close_quietly() -> None:
    """Nobody reads any more: what is still in the buffer goes nowhere."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
