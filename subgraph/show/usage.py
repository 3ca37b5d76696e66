"""What is wrong with a command line, in our own words and with a mend."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from typing import Any

from subgraph.errors import AskError

_LONGEST = 40  # characters of a command line shown back


def usage_error(error: Any, args: Sequence[str]) -> AskError:
    """One clear line for a command, flag or argument that does not fit.

    Parameters
    ----------
    error : UsageError
        As raised while the command line was parsed: with the context, and the flag or value where there is one.
    args : sequence of str
        The command line.

    Returns
    -------
    AskError
        What is wrong and how to mend it.
    """
    command = getattr(error.ctx, "command", None)
    commands = list(getattr(command, "commands", None) or ())
    known = [flag for p in getattr(command, "params", ()) for flag in p.opts if flag.startswith("--")] + ["--help"]
    path = " ".join(["subgraph", *_path(error.ctx)])
    kind = type(error).__name__
    if kind == "BadOptionUsage":
        return AskError(f"{error.option_name} is given without its value", mend=f"see `{path} --help`")
    if kind in ("NoSuchCommand", "UsageError") and commands:
        word = next((a for a in args[len(_path(error.ctx)) :] if not a.startswith("-")), "")
        near = tuple(difflib.get_close_matches(word, commands, n=1, cutoff=0.5))
        return AskError(
            f"no command is called '{_shown(word)}'",
            mend=_did_you_mean(near) + "one of: " + ", ".join(commands),
            nearest=near,
        )
    flags = [a.split("=")[0] for a in args if a.startswith("--") or (a[:1] == "-" and a[1:].isalpha())]
    strange = [flag for flag in flags if flag not in known and len(flag) > 1]
    if strange:
        near = tuple(difflib.get_close_matches(strange[0], known, n=1, cutoff=0.5))
        return AskError(
            f"no flag is called '{_shown(strange[0])}'", mend=f"{_did_you_mean(near)}see `{path} --help`", nearest=near
        )
    example = _example(command) or f"`{path} --help`"
    name = getattr(error.param, "human_readable_name", "") if getattr(error, "param", None) else ""
    if kind == "MissingParameter":
        return AskError(f"`{path}` needs {_a(name.strip('{}').lower())}", mend=f"for example: {example}")
    if name:
        value = str(error.message).split(" is not ")[0]
        return AskError(f"{error.param.opts[0]} {_shown(value)} does not fit", mend=_range(error.param, path))
    extra = _left_over(error, args)
    return AskError(
        f"'{_shown(extra)}' is left over", mend=f"put what belongs together in quotes, for example: {example}"
    )


def _example(command: Any) -> str:
    lines = (getattr(command, "help", "") or "").strip().splitlines()
    return lines[-1].removeprefix("Example: ") if lines and lines[-1].startswith("Example: ") else ""


def _path(context: Any) -> list[str]:
    names: list[str] = []
    while context is not None and context.parent is not None:
        names.insert(0, context.info_name)
        context = context.parent
    return names


def _range(param: Any, path: str) -> str:
    low, high = getattr(param.type, "min", None), getattr(param.type, "max", None)
    if low is not None and high is not None:
        return f"give a whole number from {low} to {high}"
    return f"see `{path} --help`"


def _left_over(error: Any, args: Sequence[str]) -> str:
    message = str(error.message)
    start, end = message.find("("), message.rfind(")")
    inside = message[message.find("(", start + 1) + 1 : end] if message.count("(") > 1 else message[start + 1 : end]
    return inside or " ".join(args[-1:])


def _did_you_mean(near: tuple[str, ...]) -> str:
    return f"did you mean {near[0]}? " if near else ""


def _a(noun: str) -> str:
    return f"{'an' if noun[:1] in 'aeiou' else 'a'} {noun}"


def _shown(text: str) -> str:
    clean = "".join(c if c.isprintable() else "?" for c in text)
    return clean if len(clean) <= _LONGEST else clean[: _LONGEST - 3] + "..."
