"""YAML to plain values that remember file, line and column.

Nodes are composed, not constructed: only whole and decimal numbers, `true`, `false` and `null` are resolved, the
rest stays text (so `1:30` is no sexagesimal number and `no` no boolean). A repeated key is a problem, not a silent
overwrite.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from subgraph.errors import Problem

Path_ = tuple[str | int, ...]

_INT = re.compile(r"-?(0|[1-9]\d*)\Z")
_FLOAT = re.compile(r"-?(0|[1-9]\d*)\.\d+\Z")
_WORDS: dict[str, Any] = {"true": True, "false": False, "null": None, "~": None, "": None}
# What YAML 1.1 allows in a text: anything else is a slip of an editor.
_UNPRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
MAX_DEPTH = 12


@dataclass(slots=True)
class Document:
    """One YAML file as plain values with the place of each.

    Parameters
    ----------
    file : str
        Path below the library folder.
    value : object
        Mappings, lists, numbers, booleans, text, None.
    places : dict
        From a path of keys and indices to (line, column), both from 1.
    problems : list of Problem
        What went wrong while reading.
    """

    file: str
    value: Any
    places: dict[Path_, tuple[int, int]] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def place(self, path: Path_) -> tuple[int, int]:
        """Place of the deepest known prefix of `path`."""
        while path and path not in self.places:
            path = path[:-1]
        return self.places.get(path, (1, 1))

    def problem(self, path: Path_, record: str, what: str, **more: str) -> Problem:
        """Build a problem at a path; the field is the part of the path inside the record."""
        line, column = self.place(path)
        inner = ".".join(str(step) for step in path[2:]) if len(path) > 2 else ""
        return Problem(self.file, line, column, record, more.pop("field", inner), what, **more)


def _scalar(text: str, quoted: bool) -> Any:
    if quoted:
        return text
    if text in _WORDS:
        return _WORDS[text]
    if _INT.match(text):
        return int(text)
    if _FLOAT.match(text):
        return float(text)
    return text


def _place(before: str) -> tuple[int, int]:
    """Line and column, from 1, behind a text."""
    return before.count("\n") + 1, len(before) - before.rfind("\n")


def read_yaml(folder: Path, file: str, *, shown_as: str = "") -> Document:
    """Read one file of the library.

    Parameters
    ----------
    folder : Path
        The library folder.
    file : str
        Path below it.
    shown_as : str
        What problems call the file; its path below the folder where left out.

    Returns
    -------
    Document
        With problems instead of exceptions: an unreadable file is a document whose value is None.
    """
    import yaml

    path_below, file = file, shown_as or file
    doc = Document(file, None)
    try:
        content = (folder / path_below).read_bytes()
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        line, column = _place(content[: error.start].decode("utf-8"))
        doc.problems.append(Problem(file, line, column, "-", "", "is not UTF-8 text from here on", "save it as UTF-8"))
        return doc
    except OSError as error:
        doc.problems.append(
            Problem(file, 1, 1, "-", "", f"cannot be read ({error.__class__.__name__})", "save it as UTF-8 text")
        )
        return doc
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
    try:
        node = yaml.compose(text, Loader=loader)
    except (yaml.reader.ReaderError, ValueError):
        found = _UNPRINTABLE.search(text)
        line, column = _place(text[: found.start()]) if found else (1, 1)
        code = f" (U+{ord(found.group()):04X})" if found else ""
        doc.problems.append(
            Problem(
                file, line, column, "-", "", f"holds a control character{code}", "take it out, or type the line again"
            )
        )
        return doc
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        what = getattr(error, "problem", None) or "is not YAML"
        doc.problems.append(
            Problem(
                file,
                line,
                column,
                "-",
                "",
                f"YAML cannot be read: {what}",
                "check the indent, quotes and colons here",
            )
        )
        return doc

    seen: set[int] = set()

    def walk(node: Any, path: Path_) -> Any:
        if id(node) in seen:  # an alias composes to the very same node: refuse, or a few lines expand without end
            doc.problems.append(doc.problem(path, "-", "uses a YAML alias", mend="write the value out"))
            return None
        seen.add(id(node))
        doc.places[path] = (node.start_mark.line + 1, node.start_mark.column + 1)
        if len(path) > MAX_DEPTH:
            doc.problems.append(doc.problem(path, "-", "is nested too deeply", mend="flatten it"))
            return None
        if isinstance(node, yaml.ScalarNode):
            return _scalar(node.value, node.style in ("'", '"', "|", ">"))
        if isinstance(node, yaml.SequenceNode):
            return [walk(item, (*path, index)) for index, item in enumerate(node.value)]
        found: dict[str, Any] = {}
        for key_node, value_node in node.value:
            key = key_node.value if isinstance(key_node, yaml.ScalarNode) else None
            mark = key_node.start_mark
            if not isinstance(key, str):
                doc.problems.append(Problem(file, mark.line + 1, mark.column + 1, "-", "", "a key must be text"))
                continue
            if key in found:
                doc.problems.append(
                    Problem(
                        file,
                        mark.line + 1,
                        mark.column + 1,
                        "-",
                        key,
                        f"key '{key}' is repeated",
                        "keep one of the two",
                        "key-repeated",
                    )
                )
                continue
            found[key] = walk(value_node, (*path, key))
        return found

    if node is not None:
        doc.value = walk(node, ())
    return doc
