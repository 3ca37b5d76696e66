"""One line of text to tokens: numbers, words and marks, each with its place.

Spellings of other keyboards are made one first: dashes, multiplication signs, vulgar fractions, full-width digits.
"""

from __future__ import annotations

import re
import unicodedata

from msgspec import Struct

from subgraph.errors import AskError

LONGEST = 300  # characters of one ask
_SAME = {
    **dict.fromkeys("\N{EN DASH}\N{EM DASH}\N{MINUS SIGN}\N{NON-BREAKING HYPHEN}\N{HYPHEN}", "-"),
    **dict.fromkeys("\N{MULTIPLICATION SIGN}\N{HEAVY MULTIPLICATION X}", "x"),
    **dict.fromkeys("\N{RIGHT SINGLE QUOTATION MARK}\N{LEFT SINGLE QUOTATION MARK}\N{PRIME}", "'"),
    **dict.fromkeys("\N{RIGHT DOUBLE QUOTATION MARK}\N{LEFT DOUBLE QUOTATION MARK}\N{DOUBLE PRIME}", '"'),
    "\N{FRACTION SLASH}": "/",
}
# Numbers as 1,000 or 0,5 or .5 or 1e3; an x behind a digit counts and stands apart from the word behind it.
_TOKEN = re.compile(
    r"\d{1,3}(?:,\d{3})+(?![\d,])|(?<![\d,])\d+,\d\d?(?![\d,])|\d*\.?\d+(?:e\d+(?![a-z\d]))?|(?<=\d)x|[a-z]+|\S"
)


class Token(Struct, gc=False):
    """A piece of a line.

    Parameters
    ----------
    kind : {'number', 'word', 'mark'}
        What it is.
    text : str
        In lower case.
    start, end : int
        Place in the line.
    value : float
        Of a number; else 0.
    """

    kind: str
    text: str
    start: int
    end: int
    value: float = 0.0


def clean(text: str) -> str:
    """One line of plain signs and single spaces.

    Raises
    ------
    AskError
        Empty, too long, or with control characters.
    """
    if len(text) > LONGEST:
        raise AskError(
            f"the ask is {len(text)} characters long",
            mend='give one movement with its amount, such as "15 toes-to-bar"',
        )
    for i, c in enumerate(text):
        if c not in "\t\n\r" and unicodedata.category(c) == "Cc":
            raise AskError(f"the ask holds a control character at position {i + 1}", mend="type it again")
    if not text.isascii():
        spaced = (f" {c}" if unicodedata.decomposition(c).startswith("<fraction>") else c for c in text)
        text = unicodedata.normalize("NFKC", "".join(spaced))
        text = "".join(_SAME.get(c, c) for c in text)
    text = " ".join(text.split())
    if not text:
        raise AskError("the ask is empty", mend='give a movement with its amount, such as "15 toes-to-bar"')
    return text


def scan(line: str) -> list[Token]:
    """Tokens of a line.

    Examples
    --------
    >>> [t.text for t in scan("15xT2B @ 1,000.5")]
    ['15', 'x', 't', '2', 'b', '@', '1,000', '.5']
    """
    found = []
    for piece in _TOKEN.finditer(line.lower()):
        text = piece.group()
        if text[-1].isdigit():
            whole = "," in text and len(text) - text.rindex(",") == 4
            value = float(text.replace(",", "" if whole else "."))
            found.append(Token("number", text, piece.start(), piece.end(), value))
        else:
            kind = "word" if "a" <= text[0] <= "z" else "mark"
            found.append(Token(kind, text, piece.start(), piece.end()))
    return found


class Line:
    """A line of which pieces are taken until only the name is left.

    Parameters
    ----------
    text : str
        A clean line.
    """

    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens = scan(text)

    def take(self, start: int, end: int) -> None:
        """Take the tokens at positions ``start <= i < end`` out."""
        del self.tokens[start:end]

    def at(self, i: int) -> Token | None:
        """The token at a position, or None beyond the ends."""
        return self.tokens[i] if 0 <= i < len(self.tokens) else None

    def says(self, i: int, *texts: str) -> bool:
        """Whether the token at a position is one of these."""
        return 0 <= i < len(self.tokens) and self.tokens[i].text in texts

    def number_at(self, i: int) -> bool:
        """Whether a number stands at a position."""
        return 0 <= i < len(self.tokens) and self.tokens[i].kind == "number"

    def glued(self, i: int) -> bool:
        """Whether nothing stands between the token at a position and the one before it."""
        return 0 < i < len(self.tokens) and self.tokens[i - 1].end == self.tokens[i].start

    def rest(self, skip: frozenset[str] = frozenset(), *, ends_only: bool = False) -> str:
        """What is left as text, in the spelling of the line, without marks that only part things.

        Parameters
        ----------
        skip : set of str
            Words to leave out as well.
        ends_only : bool
            Whether these words are kept in the middle.
        """
        kept: list[str] = []
        end = -1
        inner = [i for i, t in enumerate(self.tokens) if t.kind != "mark" and t.text not in skip]
        for i, token in enumerate(self.tokens):
            if ends_only and inner and inner[0] < i < inner[-1] and token.text in skip:
                kept.append(f" {self.text[token.start : token.end]}")
                end = token.end
                continue
            lone = not (self.glued(i) and self.glued(i + 1))
            if token.text in skip or (
                token.kind == "mark" and (token.text in ",;:()[]" or (lone and token.text in "-*+@./\"'!"))
            ):
                end = -1
                continue
            kept.append(("" if token.start == end else " ") + self.text[token.start : token.end])
            end = token.end
        return "".join(kept).strip()
