"""The words of an item as they stand in its line, where the reading took some out of their middle."""

from __future__ import annotations

import re

MOST_BETWEEN = 40  # characters that were taken out between two words of an item


def as_on_line(text: str, line: str) -> str:
    """The stretch of a line that an item was read from.

    Parameters
    ----------
    text : str
        The item's text; ";" stands where something was taken out.
    line : str
        Its line, or what is left of it.

    Returns
    -------
    str
        From the first of its words to the last, as written; the text itself where that can't be found.
    """
    if ";" not in text and text in line:
        return text
    words = [w for w in re.split(r"[\s;]+", text) if re.search(r"\w", w)]
    if not words or ";" in line:
        return text
    for between in (r"[\W_]*?", rf".{{1,{MOST_BETWEEN}}}?"):
        found = re.search(r"(?<!\w)" + between.join(map(re.escape, words)) + r"(?!\w)", line)
        if found:
            return found.group() + ")" * (found.group().count("(") - found.group().count(")"))
    return re.sub(r"\s*;[\s;]*", ", ", text).strip(" ,")
