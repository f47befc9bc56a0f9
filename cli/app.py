"""The command `overload`: its parts, and what happens when the user's input breaks a rule.

A `InputError` becomes one line a problem on stderr and exit code 2; what the world outside refuses (a full disk, say) is one line
and exit code 1; a command that was stopped gives what it has, and ends as a shell has it: 130 after Ctrl-C, 143 when told to
end.  Anything else is a bug and keeps its traceback.
"""

from __future__ import annotations

from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from cli import (
    adjust,
    assumptions,
    calibrate,
    check,
    compare,
    draw,
    estimate,
    evidence,
    games,
    import_file,
    learn,
    logbook,
    new,
    plan,
    play,
    regroup,
    replay,
    report,
    review,
    rotate,
    schema,
    session,
    sheet,
    sweep,
    tally,
    tune,
    why,
)
from cli.console import say
from cli.files import NotWritten
from cli.stops import stops
from cli.usage import USAGE, refusal_of
from sim import __version__
from sim.errors import InputError
from sim.words.world import NOTHING_FINISHED, refused_by_the_system


class Refusing(TyperGroup):
    """Says what is wrong with the input, one line a problem, and ends with exit code 2."""

    # A context's class is private in typer, as is that of a command.

    def invoke(self, ctx: Any) -> Any:
        """Run the command; what the user or the world got wrong becomes a line a problem and an exit code."""
        with stops() as stopped:
            try:
                found = super().invoke(ctx)
            except InputError as error:
                say(str(error), err=True)
                raise typer.Exit(2) from None
            except NotWritten as error:
                say(str(error), err=True)
                raise typer.Exit(1) from None
            except BrokenPipeError:
                raise  # nobody reads any more: the frame around this ends quietly
            except OSError as error:
                say(refused_by_the_system(error.filename or "", error.strerror or str(error)), err=True)
                raise typer.Exit(1) from None
            except KeyboardInterrupt:
                say(NOTHING_FINISHED, err=True)
                raise typer.Exit(stopped.exit_code) from None
            except Exception as error:
                if (line := refusal_of(error)) is None:
                    raise
                say(line, err=True)
                raise typer.Exit(USAGE) from None
            if stopped.signal:
                raise typer.Exit(stopped.exit_code)
            return found

    def make_context(self, info_name: Any, args: Any, parent: Any = None, **extra: Any) -> Any:
        """Read the options before a command; what cannot be read is one line here as well."""
        try:
            return super().make_context(info_name, args, parent, **extra)
        except Exception as error:
            if (line := refusal_of(error)) is None:
                raise
            say(line, err=True)
            raise typer.Exit(USAGE) from None

    def get_command(self, ctx: Any, name: str) -> Any:
        """The command of this name, ready to say what could be typed next where a shell asks."""
        command = super().get_command(ctx, name)
        if command is not None and ctx.resilient_parsing:  # a shell asks what could be typed next
            from cli.complete import offer

            offer(command)
        return command


app = typer.Typer(
    cls=Refusing,
    name="overload",
    help="Plays small-sided possession games on the computer before they are played on the grass.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)
app.command("games")(games.games)
app.command("new")(new.new)
app.command("regroup")(regroup.regroup)
app.command("rotate")(rotate.rotate)
app.command("plan")(plan.plan)
app.command("session")(session.session)
app.command("check")(check.check)
app.command("draw")(draw.draw)
app.command("sheet")(sheet.sheet)
app.command("play")(play.play)
app.command("replay")(replay.replay)
app.command("estimate")(estimate.estimate)
app.command("evidence")(evidence.evidence)
app.command("calibrate")(calibrate.calibrate)
app.command("compare")(compare.compare)
app.command("tune")(tune.tune)
app.command("adjust")(adjust.adjust)
app.command("sweep")(sweep.sweep)
app.command("report", context_settings={"allow_extra_args": True, "ignore_unknown_options": True})(report.report)
app.command("tally")(tally.tally)
app.command("review")(review.review)
app.command("import")(import_file.import_file)
app.command("learn")(learn.learn)
app.add_typer(logbook.app, name="logbook")
app.command("assumptions")(assumptions.assumptions)
app.command("why")(why.why)
app.command("schema")(schema.schema)


def _show_version(wanted: bool) -> None:
    if wanted:
        say(f"overload {__version__}")
        raise typer.Exit()


@app.callback()
def overload(
    version: Annotated[
        bool, typer.Option("--version", callback=_show_version, is_eager=True, help="Show the version and leave.")
    ] = False,
) -> None:
    """The options that stand before a command."""


def main() -> None:
    """Run the command line."""
    app()
