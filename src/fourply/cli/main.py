"""The command group, its exit codes, and what happens when something goes wrong.

Commands are imported only when they are called, so that `--help` is instant. Exit codes: 0 done, 2 rows or pieces with
faults (what is good is still made), 64 a wrong call, 1 anything else, 130 stopped by the person.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from importlib import import_module

import click

from fourply import __version__
from fourply.cli.parts import Parts
from fourply.cli.stopping import STOPPED
from fourply.errors import FourplyError

DONE, FAILED, FAULTS, WRONG_CALL = 0, 1, 2, 64

_DEBUG = "FOURPLY_DEBUG"
_COMMANDS = {
    "make": ("fourply.cli.make", "Everything for the bench from a show or a list of works."),
    "one": ("fourply.cli.one", "All sizes of one work, typed here."),
    "why": ("fourply.cli.why", "Why a figure is what it is."),
    "template": ("fourply.cli.template", "The mats of one work at full size, to print."),
    "preview": ("fourply.cli.preview", "One work as it will hang, in its mats and frame, as a picture."),
    "cutfile": ("fourply.cli.cutfile", "The cuts of one work for a machine, as DXF or SVG."),
    "cutters": ("fourply.cli.cutters", "The cutters of the shop, and what to set on one."),
    "calibrate": ("fourply.cli.calibrate", "A test cut to print, and what its readings tell of a cutter."),
    "bench": ("fourply.cli.bench", "The order of work of a show: what to set when, for which pieces."),
    "again": ("fourply.cli.again", "What a measurement changes, and how a spoilt piece is cut again."),
    "keep": ("fourply.cli.keep", "Keep a show file or a list, to be opened by its title."),
    "shows": ("fourply.cli.shows", "The shows that are kept."),
    "open": ("fourply.cli.open", "A kept show, or all sizes of one of its works."),
    "plans": ("fourply.cli.plans", "The cutting plans of a kept show: made, printed again, accepted, cut."),
    "rack": ("fourply.cli.rack", "The pieces in the rack, and what they hold."),
    "history": ("fourply.cli.history", "What was changed, undone, redone."),
    "prices": ("fourply.cli.prices", "A supplier's price list: what it would change, then kept."),
    "backup": ("fourply.cli.backup", "Everything that is kept, in one file."),
    "restore": ("fourply.cli.restore", "The shop as a backup has it."),
    "export": ("fourply.cli.export", "The whole shop as plain files."),
    "import": ("fourply.cli.bring_in", "An empty shop filled from an export."),
    "serve": ("fourply.cli.serve", "The shop in a browser on this machine, and its API."),
    "demo": ("fourply.cli.demo", "Make the demo show into out/."),
    "nest": ("fourply.cli.nest", "Plan the cutting of one board instance."),
}

_NEXT = """fourply works out every size for matting and framing works on paper, and says why.

  ./run demo                          make the demo show into out/ and look at it
  ./run one "10 3/4 x 13 1/2 in" --order "width x height"
                                      all sizes of one work
  ./run make LIST.csv --out DIR       tickets, cutting plan and what to buy for a list of works
  ./run why SHOW WORK [FIGURE]        why a figure is what it is
  ./run --help                        every command
"""


class _Lazy(click.Group):
    """A group whose commands are imported when they are called, not when they are listed."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        del ctx
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        del ctx
        if cmd_name not in _COMMANDS:
            return None
        command = import_module(_COMMANDS[cmd_name][0]).command
        return command if isinstance(command, click.Command) else None

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        del ctx
        with formatter.section("Commands"):
            formatter.write_dl([(name, says) for name, (_, says) in _COMMANDS.items()])


@click.group(cls=_Lazy, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="fourply")
@click.pass_context
def group(context: click.Context) -> None:
    """From a list of works on paper to everything the framer's bench needs."""
    if context.invoked_subcommand is None:
        click.echo(_NEXT, nl=False)


def run(arguments: Sequence[str], parts: Parts) -> int:
    """Run the command line with what does the work behind it; returns the exit code."""
    try:
        code = group.main(list(arguments), prog_name="./run", standalone_mode=False, obj=parts)
    except (click.exceptions.Abort, KeyboardInterrupt):
        click.echo("\nStopped.", err=True)
        return STOPPED
    except click.ClickException as wrong:
        wrong.show()
        return WRONG_CALL if isinstance(wrong, click.UsageError) else FAILED
    except Exception as error:
        if os.environ.get(_DEBUG):
            raise
        click.echo(_said(error), err=True)
        return FAILED
    finally:
        sys.stdout.flush()
    return code if isinstance(code, int) else DONE


def _said(error: Exception) -> str:
    """Return what a person is told of an error: its own sentence, or that the fault is ours."""
    if isinstance(error, FourplyError):
        return str(error)
    if isinstance(error, OSError):
        return f"{error.filename or ''}: {error.strerror or error}".lstrip(": ")
    slip = f"fourply itself went wrong ({type(error).__name__}); nothing of yours is changed."
    return f"{slip}\nPlease report it, with what {_DEBUG}=1 ./run … prints."
