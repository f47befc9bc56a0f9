"""What is wrong with a command line, in one line as everywhere: a word that is no number, an option that is none, one left out.

Told by what the error says of itself: its classes are private in typer, and in older ones that we allow they are others.
"""

from __future__ import annotations

from typing import Any

USAGE = 2
"""The exit code of an error of this kind."""
HELP = "NoArgsIsHelpError"
"""No error: whoever types nothing gets the help."""
BOUNDS = {
    "greater_than_equal": ("ge", "at least"), "greater_than": ("gt", "more than"),
    "less_than_equal": ("le", "at most"), "less_than": ("lt", "less than"),
}  # fmt: skip
"""What a number was held to, by the kind of the complaint: the key of the limit, and how it is said."""


def refusal_of(error: Exception) -> str | None:
    """The line for a command line that cannot be read; None for any other error."""
    if (
        getattr(error, "exit_code", None) != USAGE
        or not hasattr(error, "format_message")
        or type(error).__name__ == HELP
    ):
        return None
    option = getattr(error, "option_name", None)
    if isinstance(option, str):
        return (
            no_option(error, option) if hasattr(error, "possibilities") else f"{option}: must have a value (got none)"
        )
    param = getattr(error, "param", None)
    where = whole_command(error) if param is None else named(param)
    return f"{where}: {rule_of(error)}"


def no_option(error: Any, option: str) -> str:
    """What to write instead of ``--touches 1``, or which options there are that are spelt much like it."""
    from sim.errors import nearest
    from sim.game.everyday import NAMES  # heavy: only where something is wrong

    word = option.removeprefix("--")
    if word in NAMES:
        return f"{option} is not an option: write --set {word}=VALUE"
    known = [name.removeprefix("--") for one in error.ctx.command.params for name in one.opts]
    near = nearest(word, known)
    return f"{option}: must be an option of {whole_command(error)} ({f'did you mean --{near[0]}?' if near else 'see --help'})"


def rule_of(error: Any) -> str:
    """Which rule was broken, by which value."""
    if type(error).__name__ == "MissingParameter":
        return "must be given (got nothing)"
    told = getattr(error.__cause__, "errors", None)
    if told is None:  # of a whole command, or of an older typer
        return f"{error.message[:1].lower()}{error.message[1:]}".rstrip(".")
    from sim.game.messages import show

    first = told()[0]
    kind, got = first["type"], f"(got {show(first['input'])})"
    if kind in BOUNDS:
        key, words = BOUNDS[kind]
        return f"must be {words} {first['ctx'][key]} {got}"
    if kind.startswith("int_"):
        return f"must be a whole number {got}"
    return f"must be a number {got}" if kind.startswith(("float_", "finite_")) else f"{first['msg']} {got}"


def named(param: Any) -> str:
    """An option as typed (``--losses``), an argument as the help has it (``GAME``)."""
    return next((one for one in param.opts if one.startswith("-")), (param.metavar or param.name.upper()).strip("[]"))


def whole_command(error: Any) -> str:
    """``overload estimate``."""
    names, at = [], error.ctx
    while at is not None:
        names.append(at.info_name if at.parent is not None else "overload")
        at = at.parent
    return " ".join(reversed(names))
