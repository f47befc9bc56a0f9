"""One small screen, as a coach reads it off a phone: what was asked, the answer, what stands beside it, what to do, cautions.

It is made for 14 lines of 80 columns, a command counted as one.  Nothing is cut off: where a user's own names or many
cautions need more, it grows.  Everything else stands behind ``--details``.
"""

from __future__ import annotations

import os
import re
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

WIDTH = 80
LINES = 14
MOST_BESIDE = 4
COMMAND = "  overload "
"""How a line begins that is typed as it stands: where it is wider than the screen it goes on as a shell reads it."""
GOES_ON = " ^" if os.name == "nt" else " \\"
"""How a line of a command ends that goes on in the next one."""
FURTHER = "    "
WORD = re.compile(r"""(?:[^\s'"]|'[^']*'|"[^"]*")+""")
"""One word of a command, whatever is quoted in it."""
ITEM = "- "
"""How a line of a list begins."""


@dataclass(frozen=True)
class Screen:
    """`asked`: the game and the question, one line.  `answer`: the answer with its range, one or two sentences, each a line.

    `beside`: at most four things worth knowing with it.  `doing`: what to do on the grass or to try next; a command is a line of
    its own that begins with `COMMAND`.  `cautions`: the general one last.
    """

    asked: str
    answer: Sequence[str]
    beside: Sequence[str]
    doing: Sequence[str]
    cautions: Sequence[str]

    def text(self) -> str:
        """The whole screen; blank lines between its parts as far as there is room for them."""
        head = wrapped(self.asked)
        body = [*lines_of(self.answer), *(line for one in self.beside for line in wrapped(one, "  "))]
        foot = [*lines_of(self.doing), *lines_of(self.cautions)]
        whole = len(head) + len(body) + len(foot)
        first, second = whole + 1 <= LINES, whole + 2 <= LINES
        return "\n".join([*head, *([""] if first else []), *body, *([""] if second else []), *foot])


def lines_of(sentences: Sequence[str]) -> list[str]:
    """Sentences in lines of the screen, each beginning a new one."""
    return [line for one in sentences for line in wrapped(one)]


def wrapped(sentence: str, indent: str = "", width: int = WIDTH) -> list[str]:
    """A sentence in lines of this width, where indented or an item the later ones a little further in; a command so that it can be
    pasted as it stands."""
    if sentence.startswith(COMMAND):
        return [sentence] if len(sentence) <= width else broken(sentence, width)
    further = indent + "  " if indent or sentence.startswith(ITEM) else indent
    return textwrap.wrap(
        sentence,
        width,
        initial_indent=indent,
        subsequent_indent=further,
        break_long_words=False,
        break_on_hyphens=False,
    ) or [""]


def broken(command: str, width: int = WIDTH) -> list[str]:
    """A command in lines that a shell reads as one; an option stands with its value, and nothing is broken that has no space."""
    parts: list[str] = []
    for word in WORD.findall(command):
        if parts and parts[-1].startswith("-") and " " not in parts[-1] and not word.startswith("-"):
            parts[-1] = f"{parts[-1]} {word}"
        else:
            parts.append(word)
    lines = [COMMAND.rstrip()]
    for part in parts[1:]:
        longer = f"{lines[-1]} {part}"
        if len(longer) + len(GOES_ON) <= width:
            lines[-1] = longer
        else:
            lines.append(f"{FURTHER}{part}")
    return [*(f"{line}{GOES_ON}" for line in lines[:-1]), lines[-1]]


def whole_commands(text: str) -> str:
    """The same with every command in one line, as a shell reads it."""
    return text.replace(f"{GOES_ON}\n{FURTHER}", " ")


def folded(text: str, width: int | None) -> str:
    """Sentences folded to fit a terminal (None: a pipe, where they stay as they are); tables fit already."""
    if width is None:
        return text
    lines = text.splitlines()
    return "\n".join(part for line in lines for part in (wrapped(line, width=width) if len(line) > width else [line]))


def fit_screen(
    asked: str,
    answer: Sequence[str],
    beside: Sequence[str],
    doing: Sequence[str],
    cautions: Sequence[str],
    flowing: bool = False,
) -> str:
    """The screen; what is left out of `beside` stands behind ``--details``.  Nothing else is ever left out.

    `flowing`: the sentences of the answer may follow each other on one line, so that at least one thing beside it finds room.
    """
    layouts = [answer, [" ".join(answer)]] if flowing else [answer]
    for least in (1, 0):
        for said in layouts:
            for count in range(min(len(beside), MOST_BESIDE), least - 1, -1):
                text = Screen(asked, said, beside[:count], doing, cautions).text()
                if len(whole_commands(text).splitlines()) <= LINES:
                    return text
    return Screen(asked, layouts[-1], [], doing, cautions).text()
