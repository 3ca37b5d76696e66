"""Lines that name no movement: talk for people, dates, and numbers that stand alone for what is around them."""

from __future__ import annotations

import re

from subgraph.notation.heads import Heads
from subgraph.notation.number_forms import AS_MANY
from subgraph.notation.numbers import Numbers
from subgraph.notation.scan_item import scan
from subgraph.notation.words import Words

_TOLD = re.compile(  # no kit, a sum of reps, rest as long as the work
    r"^\W*rx\s*\+\s+[a-z]"
    r"|^\W*no\s+(?!push|jump)[a-z][\w /'-]{1,25}\s*[:?=>]|^\s*\(?\s*(?:=|total\b)\W*\d+\s*(?:total\s+)?reps?\b.{0,20}$"
    r"|^\W*\d+\s*(?:total\s+reps?|reps?\s+(?:in\s+)?(?:total|altogether))\b.{0,20}$|^\s*\(\s*\d+\s*reps?\s*\)\s*$|^\s*~\s*\d"
    r"|^\W*(?:rest\s*)?\d\s*:\s*\d(?!\d)\s*(?:work\W+(?:to\s+)?rest|rest)?\W*$",
    re.I,
)
_TEAM_FIRST = re.compile(r"^\W*(?:teams?|groups?)\s+of\s+\w+|^\W*in\s+(?:pairs|twos|threes|[2-9]s)\b", re.I)
LONGEST_TEAM = 6  # words of a line that names a team; a longer one may be talk about partners
_MEASURED = r"\s*\d[\d.:\s-]*(?:min|sec|s\b|h\b|rounds?|reps?|kg|%|'|\"|\W*$)"  # a time or a count, not an item
TALK = 0.3  # share of words of speech from which a line is for people


class Talk:
    """Tells talk from work, with the words of one library."""

    def __init__(self, words: Words, heads: Heads) -> None:
        self.words = words
        self.heads = heads
        self._opening = self.words.pattern(r"^\W*", "note", after=r"(?![\w-])")
        self.aside = self.words.pattern(r"^\W*", "aside", after=r"\s*(?:\([^)]*\))?\s*:?\s*$")
        self._listed = self.words.pattern(r"^\W*", "aside", after=r"\s*(?:\([^)]*\))?\s*:\s*(?=\S)")
        self._version = self.words.pattern(r"^\W*(?:for\s+)?", "version", after=r"\s*(?:\([^)]*\))?\s*[:=>]\s*")
        self._about = self.words.pattern(r"^\W*", "about", after=_MEASURED)
        self._blank = self.words.pattern(r"^\W*", "blank", after=r"\s*:?[\s_.:-]*$")
        self._day = self.words.pattern(r"^\W*", "day", after=r"\b\s*")
        self._before = self.words.pattern(
            r"^\W*", "day", after=r"\b(?:[\s,]*\d{1,2}(?:(?:st|nd|rd|th)\b|(?=\s*[:.-])))?(?P<sign>\s*[:.-]+)?\s+(?=\S)"
        )
        self._how = self.words.pattern(r"(?<![\w-])", "how", after=r"(?![\w-])")
        self._implement = [(i, self.words.pattern(r"^\W*", "implement", i, r"\b")) for i in self.words.ids("implement")]
        self.rows = self.words.pattern(r"^\W*", "standard", "rows", r"\W*$")
        self.main = self.words.pattern(r"^\W*", "standard", "rx", r"\W*$")
        self.standard = self.words.pattern(r"^\W*", "standard", after=r"\W*$")
        self.level = self.words.pattern(r"^\W*", "aside", after=r"\W*$")

    def for_people(self, text: str) -> bool:
        """Whether a line is talk: it opens like a note, asks, equates, or is mostly words of speech."""
        if _TOLD.match(text) or self._version.match(text) or self._about.match(text) or self._blank.match(text):
            return True
        if any(n.height and not n.amount for n, _ in self.numbers_alone(text)):
            return False
        if self._listed.match(text) and not self.is_load(text):
            return True
        if found := self._opening.match(text):
            after = text[found.end() :]
            if not (found.group().strip().lower() in ("start with", "rest") and re.search(r"\d", after)):
                return True
        text = re.sub(r"\bas a (?:team|pair|group|class)\b", " ", text, flags=re.I)
        text = AS_MANY.sub(r"\g<what>", text)
        head = self.heads.take(text)
        if (
            head.format
            or head.slot
            or head.part
            or (head.rest_per_work and len(text.split()) <= LONGEST_TEAM)
            or head.time_cap_s
            or head.split
            or (head.partners and (len(text.split()) < LONGEST_TEAM or _TEAM_FIRST.match(text)))
            or (head.rounds and head.rest_per_work)
            or (head.rounds and text.rstrip().endswith(":"))
        ):
            return False
        text = re.sub(r"\([^()]*\)", " ", text) if re.search(r"\d", text) else text
        for _, pattern in self.heads.splits:
            text = pattern.sub(" ", text)
        spoken = [w.strip(".,:;!?()'\"").lower().replace("'", "") for w in text.split()]
        plain = [w for w in spoken if w]
        talk = sum(w in self.words.talk for w in plain)
        if re.search(r"\w\s*=\s*\w", text) or re.search(r"\w\?(?:\s|$)", text):
            return True
        strong = re.search(r"(?<![\w.])\d", text) is not None
        return talk >= 2 and talk / max(1, len(plain)) >= (TALK if strong else TALK / 2)

    def left(self, text: str) -> str:
        """What is left of a heading when filler words and signs are out."""
        plain = re.sub(r"[^\w\s'/+-]+", " ", text)
        return " ".join(w for w in plain.split() if w.lower().strip("-'+/") not in ("", *self.words.filler))

    def is_load(self, text: str) -> bool:
        """Whether a text holds a load or a height."""
        return bool(re.search(r"\d\s*(?:/\s*\d|kg|lb|#|in\b|cm\b|\")", text))

    def numbers_alone(self, text: str) -> list[tuple[Numbers, str | None]]:
        """Loads, heights, percentages or sets for what stands around: each with the implement that it names."""
        found: list[tuple[Numbers, str | None]] = []
        whole = scan(text.strip(" ;:,."))
        if len(whole.percent) > 1 and not re.search(r"[a-z\d]", whole.rest, re.I):
            return [(whole, None)]
        for piece in re.split(r"\s*[;,|]\s*(?!\d+\s*,)", text.strip(" ;:,.")):
            if not piece.strip(" :.-()"):
                continue
            n = scan(piece)
            if not n.anything and not n.within_s:
                if found and not self.left(self._how.sub(" ", piece)):
                    continue  # "10-8-6, add weight each set"
                return []
            implement = next((i for i, p in self._implement if p.search(n.rest.strip(" ;:@("))), None)
            rest = n.rest
            for _, pattern in self._implement:
                rest = pattern.sub(" ", rest.strip(" ;:@("))
            rest = self._how.sub(" ", rest)
            if self.left(re.sub(r"\beach\b|\bof\b|\bbar\b", " ", rest)):
                return []
            found.append((n, implement))
        return found

    def behind_day(self, text: str) -> str | None:
        """What stands behind the name of a day, "Monday: 5 rounds", "TUE 30 min bike"; None where there is none."""
        found = self._before.match(text)
        if not found or not re.search(r"[a-z]{2}", text[found.end() :], re.I):
            return None
        shouted = found.group().strip().isupper() and not text.isupper()
        return text[found.end() :] if found["sign"] or shouted else None

    def is_date(self, text: str) -> bool:
        """Whether a line is a day or a date and nothing else."""
        found = [w for w in re.split(r"[\s,./:-]+", text) if w]
        if re.fullmatch(
            r"\W*\d{1,4}\s*([./-])\s*\d{1,2}\s*\1\s*(?:\d{4}|(?<=\.)\d{2}|\d{2}(?=\s*$))?\W*", text
        ) and re.search(r"\d{4}|\d\.\d+\.", text):
            return True
        return (
            bool(found)
            and any(self._day.fullmatch(w + " ") for w in found)
            and all(
                self._day.fullmatch(w + " ") or re.fullmatch(r"\d{1,4}(?:st|nd|rd|th|am|pm)?", w, re.I) for w in found
            )
        )

    def spoken(self, words: list[str]) -> bool:
        """Whether words are said to people, or stand in brackets."""
        plain = [w.strip(".,:;!?()'\"").lower() for w in words]
        return any(w in self.words.talk for w in plain) or text_in_brackets(" ".join(words))


def text_in_brackets(text: str) -> bool:
    """Whether a text is an aside in brackets."""
    return text.startswith(("(", "[")) and text.endswith((")", "]"))
