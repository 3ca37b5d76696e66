"""What each form of a heading gives for its block: one function for each pattern of `forms`."""

from __future__ import annotations

import itertools
import re

from subgraph.notation.head import MOST_ROUNDS, Head, count
from subgraph.notation.number_forms import N
from subgraph.notation.numbers import seconds

LONGEST_BARE_REST_MIN = 10  # "rest 2" is minutes up to here, above it seconds
GAP = " ; "  # what stands in a line for a form that was taken out
_OPENS = re.compile(r"[\W\d]*(?:amrap|emom|for time|max\b|row\b|run\b|bike\b|ski\b|every\b|build\b)", re.I)
_OF_THE_CLOCK = re.compile(
    r"\W*(?:alt|rotat|switch|with|in|for|x|each|per|then|of|on|rounds?|sets?|total|long|as)\b|\W*(?:alternat|rotat)",
    re.I,
)
SHORTEST_LENGTH_S = 300.0  # of a piece, where it stands behind its items: less may be of the last of them
SHORTEST_PAUSE_S = 15.0
SHORTEST_EVERY_S, LONGEST_EVERY_S = 15.0, 1_800.0
SHORTEST_CAP_S = 60.0  # "you have 15 seconds": no cap
MOST_LADDER = 60  # rungs of a ladder written as "60 to 1"


def _bare_seconds(text: str) -> float:
    return seconds(text, default=1.0)


def after_all(head: Head, found: re.Match[str]) -> str:
    """The rest of the line with a form put back that turned out to be something else."""
    return f"{head.rest[: found.start()]} {found.group()} {head.rest[found.start() + len(GAP) :]}"


def use_tabata(head: Head, found: re.Match[str]) -> None:
    """Twenty seconds of work, ten of rest, eight times where no number is given."""
    head.format, head.work_s, head.rest_s, head.rounds = "intervals", 20.0, 10.0, head.rounds or 8


def use_window(head: Head, found: re.Match[str]) -> None:
    """A stretch of the clock: "0-5 min: row", "5:00-12:00 ..."."""
    low = seconds(found["a"] or found["c"] or found["e"])
    high = seconds(found["b"] or found["d"] or found["f"])
    by_minutes = found["c"] or found["e"]
    plain = by_minutes and low and not re.search(r"[:)>-]\s*$", found.group())
    after = head.rest[found.start() + len(GAP) :]
    bracketed = found["e"] and ")" in found.group() and low and not re.match(r"\W*\d", after)
    if high <= low or bracketed or (plain and not _OPENS.match(after)):
        head.rest = after_all(head, found)
        return
    head.duration_s, head.window = high - low, True


def use_rising(head: Head, found: re.Match[str]) -> None:
    """One more each minute."""
    head.format, head.every_s, head.scheme, head.step, head.ladder = "emom", 60.0, [1.0], 1.0, True


def use_intervals(head: Head, found: re.Match[str]) -> None:
    """Work and rest by the clock."""
    head.format = "intervals"
    head.work_s, head.rest_s = _bare_seconds(found["w"]), _bare_seconds(found["o"])
    number = found["x"] or found.groupdict().get("y") or found["r"]
    head.rounds = count(number) if number else head.rounds


def _counts_what_follows(head: Head, found: re.Match[str]) -> bool:
    """Whether a bare number behind the name of a format counts the first item: "EMOM: 12 cal row"."""
    number = found["a"] or ""
    opened = re.search(rf"(?::|\bof)\s*{number}\W*$", found.group()) is not None
    after = head.rest[found.start() :]
    follows = re.match(r" ; \s*[a-z]", after, re.I) is not None
    # Nobody does a lift uncounted each minute.
    alone = head.format == "emom" and not re.search(r"\d", after) and not _OF_THE_CLOCK.match(after)
    return number.isdigit() and follows and (head.window or opened or alone)


def use_pair(head: Head, found: re.Match[str]) -> None:
    """Work and rest as a bare pair, "40/20 x 4" or "30:30": both in steps of five seconds, as nobody lifts."""
    if any(int(found[g]) % 5 or not int(found[g]) for g in "wo") or (":" in found.group() and int(found["w"]) < 15):
        head.rest = after_all(head, found)
        return
    use_intervals(head, found)


def use_stations(head: Head, found: re.Match[str]) -> None:
    """A stretch of the clock for each station."""
    if head.format is None:
        head.format, head.work_s = "intervals", seconds(found["w"] or found["w2"])


def use_emom(head: Head, found: re.Match[str]) -> None:
    """Every minute, or every k minutes."""
    if found.group().strip().lower() == "e" or head.format == "intervals":
        return
    head.format = "emom"
    every = found["k"] or found["k2"]
    head.every_s = float(found["s"]) if found["s"] else seconds(every) if every else 60.0
    head.alternating = head.alternating or bool(re.search(r"\balt", found.group(), re.I))
    by_count = found["a"] and found["a"].isdigit() and re.search(r"x\s*$", found.group()[: -len(found["a"])])
    head.each_slot = bool(re.match(r"r", found["set"] or "", re.I))
    if _counts_what_follows(head, found):
        head.rest = f"{head.rest[: found.start()]} ; {found['a']} {head.rest[found.start() + len(GAP) :]}"
        _clock_of(head, found["b"], None)
        return
    if head.window and head.duration_s and not (found["a"] or found["b"] or found["n"]) and head.every_s:
        head.rounds = round(head.duration_s / head.every_s)
        return
    _clock_of(head, None if by_count else found["a"] or found["b"], found["a"] if by_count else found["n"])


def use_every(head: Head, found: re.Match[str]) -> None:
    """As in "every 3 min for 5 rounds"."""
    if head.format in ("emom", "intervals"):
        return
    if found["d"] and not SHORTEST_EVERY_S <= seconds(found["d"]) <= LONGEST_EVERY_S:
        head.rest = after_all(head, found)  # "change every 250 m"
        return
    head.format, head.by_every = "emom", True
    if found["a"] and ":" in found.string[found.end("d") : found.start("a")]:  # "every 10 min: 400 m run"
        head.rest = f"{head.rest[: found.start()]} ; {found['a']} {head.rest[found.start() + len(GAP) :]}"
        head.every_s = seconds(found["d"]) if found["d"] else 60.0
        return
    head.every_s = seconds(found["d"]) if found["d"] else 60.0 if found["one"] else 120.0 if found["other"] else 180.0
    _clock_of(head, found["a"], found["n"] or found["m"])
    if found["m2"] and head.rounds is None:
        _clock_of(head, found["m2"], None)


def use_marks(head: Head, found: re.Match[str]) -> None:
    """Marks of the clock: "on the 0:00, 5:00 and 10:00"."""
    times = [seconds(t) for t in re.findall(r"\d+:\d\d", found["all"])]
    steps = {b - a for a, b in itertools.pairwise(times)}
    if len(steps) != 1 or min(steps) <= 0:
        head.rest = after_all(head, found)
        return
    head.format, head.every_s, head.rounds = "emom", steps.pop(), len(times)
    head.duration_s = head.rounds * head.every_s


def _clock_of(head: Head, time: str | None, number: str | None) -> None:
    if not head.every_s:
        return
    if number:
        head.rounds = count(number)
        head.duration_s = head.rounds * head.every_s
    elif time:
        head.duration_s = seconds(time)
        head.rounds = round(head.duration_s / head.every_s) if head.every_s else None


def use_amrap(head: Head, found: re.Match[str]) -> None:
    """As many rounds as possible, with its length."""
    if head.format in ("emom", "intervals"):
        return
    head.format = "amrap"
    if _counts_what_follows(head, found):
        head.rest = f"{head.rest[: found.start()]} ; {found['a']} {head.rest[found.start() + len(GAP) :]}"
        if found["b"]:
            head.duration_s = seconds(found["b"])
        return
    head.duration_s = seconds(found["a"] or found["b"])
    number = found["r"] or found["r2"] or found["n"] or found["n2"]
    head.rounds = count(number) if number else head.rounds


def use_one_per(head: Head, found: re.Match[str]) -> None:
    """A round each stretch of the clock: "5 rounds, 1 per 4 min"."""
    if head.format is None:
        head.format, head.every_s = "emom", seconds(found["d"])


def use_cap(head: Head, found: re.Match[str]) -> None:
    """A time cap; the length where the piece has an open end."""
    if found["c"] and seconds(found["c"]) < SHORTEST_CAP_S:
        head.rest = after_all(head, found)
        return
    if found["c"] and head.format == "amrap":
        head.duration_s = head.duration_s or seconds(found["c"])
        return
    head.time_cap_s = seconds(found["a"] or found["b"] or found["b2"] or found["c"])


def use_for_time(head: Head, found: re.Match[str]) -> None:
    """For time."""
    head.format = head.format or "for-time"
    if found.groupdict().get("r"):
        head.rounds = count(found["r"])


def use_own_pace(head: Head, found: re.Match[str]) -> None:
    """At your own pace."""
    head.format = head.format or "work"
    if found.groupdict().get("r"):
        head.rounds = count(found["r"])


def use_rest(head: Head, found: re.Match[str]) -> None:
    """A rest of a stated length."""
    if found.group().strip(" (,;-").lower().startswith("walk") and not found["w"]:
        head.rest = after_all(head, found)
        return
    if "pause" in found.group().lower() and seconds(found["a"]) < SHORTEST_PAUSE_S:
        head.rest = after_all(head, found)  # in the middle of a rep
        return
    if head.format == "intervals" and head.work_s and re.search(r"\b(?:rounds?|rds?)\b", found["w"] or ""):
        head.round_rest_s = seconds(re.sub(rf"\s*-\s*{N}", "", found["a"]))
        return
    if head.format == "intervals" and head.rest_s and found["w"]:
        head.assumed.append(f"'{found.group().strip(' ,;()-')}' is between the parts, not between the intervals")
        return
    bounds = re.match(rf"({N})\s*-\s*({N})(.*)", found["a"])
    if bounds and float(bounds[1]) >= float(bounds[2]):  # "RPE 7 - 2 min rest"
        head.rest_s = seconds(f"{bounds[2]}{bounds[3]}")
        head.rest = f"{head.rest[: found.start()]} {bounds[1]} ; {head.rest[found.start() + len(GAP) :]}"
        return
    head.rest_s = seconds(re.sub(rf"\s*-\s*{N}", "", found["a"]))
    if found["a"].isdigit():
        short = float(found["a"]) <= LONGEST_BARE_REST_MIN
        head.rest_s = float(found["a"]) * (60 if short else 1)
        head.assumed.append(f"'rest {found['a']}' read as {'minutes' if short else 'seconds'}")
    head.rest_between = bool(found["w"])
    head.rest_after = bool(found.groupdict().get("z"))
    if re.search(r"\d\s*-\s*\d", found.group()):
        head.assumed.append(f"'{found.group().strip(' ,;()-')}': the shorter rest is taken")


def use_rest_per_work(head: Head, found: re.Match[str]) -> None:
    """Rest by the time of the work: "1:1 work/rest", "rest as long as it took"."""
    work = next((float(found[g]) for g in ("a", "a2", "a3") if found[g]), 1.0)
    rest = next((float(found[g]) for g in ("b", "b2", "b3") if found[g]), 1.0)
    if not work or not rest:
        head.rest = after_all(head, found)
        return
    head.rest_per_work = rest / work


def use_rounds(head: Head, found: re.Match[str]) -> None:
    """How many rounds."""
    number = count(found["a"] or found["a2"]) if "a2" in found.re.groupindex else count(found["a"])
    if found.groupdict().get("b"):
        head.assumed.append(f"{found['a']}-{found['b']} rounds: the lower number is taken")
    if number == 0 or number > MOST_ROUNDS:
        head.wrong = f"{number} rounds" + (" are nothing to do" if number == 0 else " are more than anyone writes")
        return
    if number == 1 and re.search(r"each", found.group() + head.rest[found.start() :][:12], re.I):
        head.rest = after_all(head, found)  # "one round each": who does which
        return
    head.rounds_each = bool(found.groupdict().get("each"))
    head.sets_word = (found["w"] or "").lower().startswith(("set", "x"))
    if head.format == "emom":
        head.rounds = head.rounds or number
        head.duration_s = head.duration_s or (number * head.every_s if head.every_s else None)
    else:
        head.rounds = number


def use_supersets(head: Head, found: re.Match[str]) -> None:
    """Sets of several lifts in turn: "superset x 4"."""
    head.rounds, head.sets_word = count(found["a"]), True


def use_step(head: Head, found: re.Match[str]) -> None:
    """What each round adds."""
    if found["k2"] or found["k3"]:
        head.step, head.ladder = float(found["k2"] or found["k3"]), True
        return
    if found["slash"] and not found["min"] and "/r" not in found.group().replace(" ", ""):
        head.rest = after_all(head, found)
        return
    head.step, head.ladder, head.minutely = float(found["k"]), True, bool(found["min"])


def use_span(head: Head, found: re.Match[str]) -> None:
    """Every number between, as in "10 to 1"."""
    groups = found.groupdict()
    low, high = int(groups["a"] or groups.get("a2") or 0), int(groups["b"] or groups.get("b2") or 0)
    if low == high or abs(low - high) >= MOST_LADDER or not low or not high:
        head.rest = after_all(head, found)
        return
    step = {"twos": 2, "threes": 3, "fives": 5, "tens": 10}.get((groups.get("by") or "1").lower())
    step = step or int(re.sub(r"\D", "", groups.get("by") or "1"))
    by = step if high > low else -step
    head.scheme = [float(v) for v in range(low, high + (1 if high > low else -1), by)]
    head.ladder = True


def use_start(head: Head, found: re.Match[str]) -> None:
    """Where an open ladder begins."""
    head.scheme, head.ladder = [float(found["a"])], True


def use_ladder(head: Head, found: re.Match[str]) -> None:
    """A ladder, perhaps with its length."""
    head.ladder = True
    if (time := found["d"] or found["e"]) and head.format is None:
        head.format, head.duration_s = "amrap", seconds(time)


def use_length(head: Head, found: re.Match[str]) -> None:
    """A bare length: of an open piece, the cap of a race; one that says again and otherwise is told."""
    length = seconds(found["d"])
    if head.format in (None, "work") and head.duration_s is None:
        head.duration_s = length
    elif head.format == "for-time" and head.time_cap_s is None:
        head.time_cap_s = length
        head.assumed.append(f"'{found['d']}' beside \"for time\" read as the cap")
    elif head.format == "emom" and head.duration_s is None:
        _clock_of(head, found["d"], None)
    elif length != (head.time_cap_s if head.format == "for-time" else head.duration_s):
        head.assumed.append(f"'{found['d']}' contradicts what is written before it, which is taken")


def use_late_length(head: Head, found: re.Match[str]) -> None:
    """The length of a ladder behind its items, or the cap of a race."""
    open_end = head.format == "amrap" and not head.duration_s
    race = head.format == "for-time" and not head.time_cap_s
    if (open_end or race) and seconds(found["d"]) >= SHORTEST_LENGTH_S and re.search(r"\d\s+[a-z]{3}", head.rest, re.I):
        use_length(head, found)
        head.duration_s = head.duration_s or (seconds(found["d"]) if open_end else None)
        return
    if head.format == "emom" and not head.rounds and "for" not in found.group():
        _clock_of(head, found["d"], None)
        return
    if head.partners and not head.format and not head.duration_s and not head.time_cap_s:
        head.format, head.duration_s = "amrap", seconds(found["d"])
        return
    listed = re.match(r"\W*\d+\s*[-,]\s*\d+\s*[-,]", head.rest)
    if (head.ladder or (listed and "for" in found.group())) and not head.duration_s and not head.format:
        head.duration_s = seconds(found["d"])
        return
    if (
        head.says
        and head.format in ("amrap", "emom", "for-time", "intervals")
        and not re.search(r"[a-z]{3}", head.rest.replace(GAP.strip(), ""), re.I)
    ):
        use_length(head, found)
        return
    head.rest = after_all(head, found)


def use_nothing(head: Head, found: re.Match[str]) -> None:
    """Words that only tell how many lines follow: "5 stations"."""


def use_team(head: Head, found: re.Match[str]) -> None:
    """How many share the work."""
    size = count(found["a"] or found["b"] or found["c"])
    head.partners = size if 1 < size < 13 else None
