"""Reading the kinds of simple fields: dates, moments of the film, times, yields, files, addresses."""

from __future__ import annotations

import calendar
import re
import unicodedata
from datetime import date
from fractions import Fraction

from pipeline.measure.duration import read_duration
from pipeline.measure.heat import Duration
from pipeline.measure.numbers import read_number
from pipeline.recipe.desk import Desk, near
from pipeline.recipe.model import Yield
from pipeline.recipe.span import Text

_ISO = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})")
_SLASHED = re.compile(r"(\d{1,2})[/.-](\d{1,2})[/.-](\d{4})")
_CLOCK = re.compile(r"(?:(\d{1,3}):)?(\d{1,3}):(\d{1,2})(?:[.,](\d{1,9}))?")
_SECONDS = re.compile(r"(\d{1,6})(?:[.,](\d{1,9}))?\s*(?:s|sec|secs|seconds?)?", re.IGNORECASE)
_MILLIS = re.compile(r"(\d{1,9})\s*ms", re.IGNORECASE)
_LANGUAGE = re.compile(r"[A-Za-z]{2,3}(?:-[A-Za-z0-9]{1,8})*")
_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")
_YES = {"yes": True, "true": True, "on": True, "y": True, "no": False, "false": False, "off": False, "n": False}
_LETTERS = str.maketrans(
    {
        "ß": "ss",
        "ø": "o",
        "Ø": "O",
        "æ": "ae",
        "Æ": "Ae",
        "œ": "oe",
        "Œ": "Oe",
        "ł": "l",
        "Ł": "L",
        "đ": "d",
        "Đ": "D",
        "ð": "d",
        "þ": "th",
        "ı": "i",
        "&": " and ",
        "'": "",
        "’": "",
    }
)
_MAKES = re.compile(
    r"(?P<serves>serves|feeds|(?:enough )?for)\s+|(?:makes|yields?|gives|recipe makes)\s*:?\s+", re.IGNORECASE
)
_ABOUT = re.compile(r"(?:about|around|roughly|approx(?:imately|\.)?|some|up to|at least|nearly|~|≈)\s*", re.IGNORECASE)
_PEOPLE = re.compile(r"(?:people|persons?|portions?|servings?|serves|guests|eaters)\b", re.IGNORECASE)
_DOZEN = re.compile(r"\s*dozen\b\s*", re.IGNORECASE)


#: Letters of a new recipe's folder, at most: common practice, no source.
LONGEST_FOLDER = 80


def slugify(text: str) -> str:
    """A name for an address: ASCII letters in lower case, digits, hyphens. "" where no such letter is left."""
    plain = unicodedata.normalize("NFKD", text.translate(_LETTERS))
    return re.sub(r"[^a-z0-9]+", "-", plain.encode("ascii", "ignore").decode().lower()).strip("-")


def folder_name(title: str) -> str:
    """The name of a new recipe's folder: as in its address, of its first words where it is long. A file's name may have
    255 bytes, an address that people pass on is far shorter."""
    slug = slugify(title) or "recipe"
    if len(slug) <= LONGEST_FOLDER:
        return slug
    return slug[: LONGEST_FOLDER + 1].rpartition("-")[0] or slug[:LONGEST_FOLDER]


def read_slug(desk: Desk, text: Text) -> str | None:
    if _SLUG.fullmatch(text):
        return str(text)
    better = slugify(text)
    desk.wrong(
        text.span, f"`{text}` cannot stand in an address", f"write `{better}`" if better else "use a-z, 0-9 and hyphens"
    )
    return None


def read_language(desk: Desk, text: Text) -> str | None:
    """A language tag: two or three letters, then parts of one to eight letters and digits (RFC 5646, 2.1)."""
    if _LANGUAGE.fullmatch(text):
        return str(text)
    better = text.replace("_", "-")
    help_ = (
        f"write `{better}`" if _LANGUAGE.fullmatch(better) else "write the language's letters, such as `en` or `de-AT`"
    )
    desk.wrong(text.span, f"`{text}` is no tag of a language", help_)
    return None


def read_flag(desk: Desk, text: Text) -> bool | None:
    flag = _YES.get(text.lower())
    if flag is None:
        desk.wrong(text.span, f"`{text}` is neither yes nor no", "write `yes` or `no`")
    return flag


def read_choice(desk: Desk, text: Text, choices: tuple[str, ...]) -> str | None:
    low = text.lower()
    if low in choices:
        return low
    hint = near(low, choices)
    listed = ", ".join(choices[:-1]) + " or " + choices[-1]
    desk.wrong(text.span, f"`{text}` is none of {listed}", f"did you mean `{hint}`?" if hint else f"write {listed}")
    return None


def read_whole(desk: Desk, text: Text) -> int | None:
    if re.fullmatch(r"[0-9]{1,6}", text):
        return int(text)
    desk.wrong(text.span, f"`{text}` is not a whole number", "write digits only, such as `3`")
    return None


def read_date(desk: Desk, text: Text) -> date | None:
    """A date as ISO 8601 has it."""
    m = _ISO.fullmatch(text)
    if m is None:
        if s := _SLASHED.fullmatch(text):
            a, b, year = (int(x) for x in s.groups())
            ways = [(m_, d) for d, m_ in dict.fromkeys(((a, b), (b, a))) if 1 <= m_ <= 12 and 1 <= d <= 31]
            told = [f"`{year}-{m_:02}-{d:02}` for {d} {calendar.month_name[m_]}" for m_, d in ways]
            why = "day and month may stand either way round" if len(told) > 1 else ""
            desk.wrong(
                text.span,
                f"`{text}` is not a date that reads one way only",
                "write " + " or ".join(told or ["`2026-11-01`"]),
                why,
            )
        elif (t := _ISO.match(text)) and text[t.end() :][:1] in ("T", " "):
            desk.wrong(text.span, f"`{text}` has a time in it", f"write the day only: `{t.group()}`")
        else:
            desk.wrong(text.span, f"`{text}` is not a date", "write the year, the month and the day: `2026-11-01`")
        return None
    year, month, day = (int(x) for x in m.groups())
    if not 1 <= month <= 12:
        swap = f": `{year}-{day:02}-{month:02}`?" if day <= 12 and 1 <= month <= 31 else ""
        desk.wrong(text.span, f"there is no month {month}", f"write the year, the month, then the day{swap}")
        return None
    last = calendar.monthrange(year, month)[1] if year else 0
    if not 1 <= day <= last:
        help = f"its last day is `{year}-{month:02}-{last:02}`" if year else "write a year from 1 on"
        desk.wrong(text.span, f"{calendar.month_name[month]} {m[1]} has no day {day}", help)
        return None
    return date(year, month, day)


def read_moment(desk: Desk, text: Text) -> int | None:
    """A moment of the film, or its length, in whole milliseconds: 1:05, 1:02:03, 0:42.5, 65, 65 s, 1 min 5 s."""
    if m := _CLOCK.fullmatch(text):
        hours, minutes, seconds = int(m[1] or 0), int(m[2]), int(m[3])
        if seconds > 59 or len(m[3]) != 2 or (m[1] is not None and minutes > 59):
            wrong = f"{seconds} seconds" if seconds > 59 else f"{minutes} minutes"
            if len(m[3]) != 2:
                help = f"write the seconds with two digits: `{minutes}:{seconds:02}`"
            else:
                total = hours * 3600 + minutes * 60 + seconds
                help = f"did you mean `{say_moment(total * 1000)}`?"
            desk.wrong(
                text.span,
                f"`{text}` is not a time in the film",
                help,
                "" if len(m[3]) != 2 else f"{wrong} are too many",
            )
            return None
        return (hours * 3600 + minutes * 60 + seconds) * 1000 + _millis(m[4])
    if m := _SECONDS.fullmatch(text):
        return int(m[1]) * 1000 + _millis(m[2])
    if m := _MILLIS.fullmatch(text):
        return int(m[1])
    times = read_duration(text)
    if times and len(times) == 1 and times[0].low == times[0].high and not times[0].about:
        return times[0].low * 1000
    desk.wrong(
        text.span,
        f"`{text}` is not a time in the film",
        "write minutes and seconds, such as `1:05`, or `1:02:03` with hours",
    )
    return None


def _millis(digits: str | None) -> int:
    return round(Fraction(int(digits), 10 ** len(digits)) * 1000) if digits else 0


def say_moment(ms: int) -> str:
    """Whole milliseconds as an `at:` is written: "1:05", "1:02:03", "0:42.5". Raises ValueError below 0."""
    if ms < 0:
        raise ValueError("a moment of the film cannot be negative")
    seconds, rest = divmod(ms, 1000)
    minutes, second = divmod(seconds, 60)
    hours, minute = divmod(minutes, 60)
    clock = f"{hours}:{minute:02}:{second:02}" if hours else f"{minute}:{second:02}"
    return clock + (f".{rest:03}".rstrip("0") if rest else "")


def read_time(desk: Desk, text: Text) -> tuple[Duration, ...] | None:
    """How long something takes, as cooks write it; two statements where both stand ("30 minutes or 1/2 hour")."""
    if m := re.fullmatch(r"(\d{1,3}):(\d{2})", text):
        a, b = int(m[1]), int(m[2])
        desk.wrong(
            text.span,
            f"`{text}` may be hours and minutes, or minutes and seconds",
            f"write `{a} h {b} min` or `{a} min {b} s`",
        )
        return None
    if re.fullmatch(r"\d+(?:[.,]\d+)?", text):
        desk.wrong(text.span, f"`{text}` of what?", f"write `{text} min` or `{text} h`")
        return None
    times = read_duration(text)
    if times is None:
        desk.wrong(text.span, f"`{text}` is not a length of time", "write it as `30 min`, `1 h 15 min` or `overnight`")
    return times


def read_yield(desk: Desk, text: Text) -> Yield | None:
    """ "4 loaves", "serves 6", "12-16 cookies", "about 2 dozen rolls", "6"."""
    words = " ".join(text.split())
    pos = 0
    serves = False
    while m := _MAKES.match(words, pos) or _ABOUT.match(words, pos):
        serves = serves or bool(m.re is _MAKES and m["serves"])
        pos = m.end()
        if pos >= len(words):
            break
    got = read_number(words, pos, words=True)
    if got is None:
        desk.wrong(
            text.span,
            f"`{text}` has no number in it",
            "write how much it makes: `4 loaves`, `serves 6`, `12-16 cookies`",
        )
        return None
    number, end = got
    low, high = number.low, number.high
    if m := _DOZEN.match(words, end):
        low, high, end = low * 12, high * 12, m.end()
    if high <= 0:
        desk.wrong(text.span, f"`{text}` makes nothing", "write how much it makes: `4 loaves`, `serves 6`")
        return None
    what = words[end:].strip(" ,.")
    if serves or _PEOPLE.match(what):
        what = "servings"
    return Yield(text, low, high, what)


def read_address(desk: Desk, text: Text) -> Text | None:
    if re.fullmatch(r"https?://[^\s<>\"]+", text):
        return text
    guess = f"https://{text}" if re.fullmatch(r"[\w-]+(?:\.[\w-]+)+(?:/[^\s<>\"]*)?", text) else "https://…"
    desk.wrong(text.span, f"`{text}` is not an address", f"write it in full: `{guess}`")
    return None


def read_file(desk: Desk, text: Text) -> Text | None:
    """A file named from the recipe's folder."""
    if "\n" in text:
        desk.wrong(text.span, "a file's name stands on one line", "write the name only, such as `loaf.jpg`")
    elif re.match(r"[A-Za-z]:[\\/]|[/\\~]|https?:", text):
        last = re.split(r"[\\/]", text.rstrip("\\/"))[-1]
        desk.wrong(
            text.span,
            "a file is named from the recipe's folder",
            f"put it beside the recipe and write `{last}`",
            "a full path is right on one computer only",
        )
    elif text.startswith("../../../../"):
        last = text.split("/")[-1]
        desk.wrong(text.span, "this file lies outside the folder", f"put it beside the recipe and write `{last}`")
    elif "\\" in text:
        desk.wrong(text.span, "folders are set off by `/` here", f"write `{text.replace(chr(92), '/')}`")
    else:
        return text
    return None
