"""An ingredient line as a cook types it: one or more statements of its amount, its name, and what is said of it.

The grammar stands in README.md. Reading never fails: what is not understood as an amount stays part of the name, and
the checks ask about it.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from pipeline.measure.amount import Amount
from pipeline.measure.grammar import Read, read_amount
from pipeline.measure.units import EACH
from pipeline.recipe.model import IngredientLine
from pipeline.recipe.span import Text
from pipeline.recipe.stated import SIZE, Stated, closing, more, read_head, size_word, statements_in, take
from pipeline.recipe.trailing import of_what_is_left, trailing
from pipeline.recipe.uncommon import fruit_at, other_part, vague_at

# "1 cup water, plus 2 tbsp": said after the name, and no more than an amount, it belongs to the whole.
_ENDS = re.compile(r"\s*(?:$|\)|[,;](?!\s*(?:for|to)\b))", re.IGNORECASE)
_ADDED = re.compile(r"[(,\s]*(?:\+|\b(?:plus|and)\b)\s*(?=[\d¼-¾⅐-⅞]|an?\s)", re.IGNORECASE)
_OPTIONAL = re.compile(r"\bopt(?:ional(?:ly)?)?\b", re.IGNORECASE)
_DIVIDED = re.compile(r"\b(?:divided|in two parts|in (?:two|three) lots)\b", re.IGNORECASE)
_PURPOSE = (
    r"(?:to taste|as needed|as required|as you like|for (?:dusting|greasing|frying|serving|garnish|sprinkling|brushing"
    r"|rolling|drizzling|finishing|coating|topping"
    r"|(?:deep|shallow)[- ]frying|the (?:pan|tin|dish|board|bowl|work surface|counter|top)))\b"
)
_TASTE = re.compile(rf"\b{_PURPOSE}", re.IGNORECASE)
_MORE = re.compile(
    r"\s+(?=or (?:\d|[¼-¾⅐-⅞]|a )|\+ \d|(?:plus|and) (?:(?:a little|some) )?(?:more|extra)\b|plus \d"
    rf"|{_PURPOSE})",
    re.IGNORECASE,
)
_BRACKETS = str.maketrans("[]{}", "()()")
_QUOTES = str.maketrans("", "", '"“”„«»')  # "00" flour
_AROUND = re.compile(r"\s*\(([^()]*)\) ([^\W\d_][^,;()]*)$")
_BREAK = re.compile(r"[(;]|,(?!\d)")
_DASH = re.compile(r"\s+[-–—=]\s+")
_LEAD = re.compile(r"(?:[-–—•*]\s+|\(?optional\)?:?\s+)", re.IGNORECASE)
_BEFORE_NAME = (" ", "\t", "\u00a0", "\u202f", ",", ")", ".")
# Words that stand before a name, after which a comma does not end it ("boneless, skinless chicken thighs").
_QUALITIES = frozenset((
    "boneless", "skinless", "skinned", "bone-in", "skin-on", "fresh", "ripe", "firm", "cold", "warm", "hot", "lukewarm",
    "tepid", "small", "medium", "large", "long", "thin", "thick", "young", "tender", "dried", "dry", "raw", "cooked",
    "uncooked", "unsalted", "salted", "sweet", "crisp", "tart", "lean", "plump", "peeled", "unpeeled", "pitted",
    "day-old", "stale", "good-quality", "free-range", "organic", "mixed", "very", "unwaxed", "low-sodium", "full-fat",
    "plain", "light", "dark", "shell-on",
))  # fmt: skip


def _name_first(text: str, line: Stated) -> tuple[int, int] | None:
    """``butter, 113 g``, ``flour 500 g``: the name's end and the amount's end, where the amount stands last."""
    for m in re.finditer(r"(?:\s*[,:–—-]\s*|\s+)(?=[\d¼-¾⅐-⅞]|about |a pinch|half )", text):
        trial = Stated()
        end = read_head(text, m.end(), trial, last=True)
        rest = text[end:].lstrip()
        if trial.found and (size := SIZE.fullmatch(f"{rest} ")):  # "eggs, 2 large"
            trial.size, rest, end = size_word(size), "", len(text)
        if (
            trial.found
            and (trial.found[0][0].unit is not EACH or (m.group().strip() and not rest))
            and trial.found[0][0].unit.kind != "length"
            and (not rest or rest[0] in ",(;")
            and m.start() > 0
            and text[: m.start()].count("(") == text[: m.start()].count(")")
        ):
            line.found, line.size, line.state = trial.found, trial.size, trial.state
            return m.start(), end
    return None


def _split_name(text: str, pos: int, line: Stated) -> tuple[int, int, list[tuple[int, int]]]:
    """(start, end of the name, the stretches that are notes). Statements in parentheses after it are taken."""
    while text[pos : pos + 1] in _BEFORE_NAME:
        pos += 1
    if m := re.compile(r"(?:of|an?)\s+(?:an?\s+|the\s+)?", re.IGNORECASE).match(text, pos):
        pos = m.end()
    notes: list[tuple[int, int]] = []
    if text[pos : pos + 1] == "(" and (shut := closing(text, pos)) > 0 and text[shut + 1 :].strip():
        notes, pos = [(pos + 1, shut)], shut + 1  # "200 g (drained weight) peppers"
        while text[pos : pos + 1] in _BEFORE_NAME:
            pos += 1
    stop = len(text)
    for i in range(pos, len(text)):
        decimal_comma = text[i] == "," and text[i + 1 : i + 2].isdigit() and text[i - 1 : i].isdigit()
        if text[i] in ",;(" and not decimal_comma and i > pos:
            if text[i] == "," and _QUALITIES.issuperset(text[pos:i].lower().replace(",", " ").split()):
                continue
            stop = i
            break
    for pattern in (_MORE, _DASH):
        if cut := pattern.search(text, pos, stop):
            stop = cut.start()
    here = stop = trailing(text, pos, stop, _QUALITIES)
    while here < len(text):
        if line.found and (added := _added(text, here, line)):
            here = added
        elif text[here] == "(":
            shut = closing(text, here)
            if shut < 0:
                notes.append((here + 1, len(text)))
                break
            inside = statements_in(text, here + 1, shut)
            weighed = any(amount.unit.kind == "mass" for amount, _, _ in line.found)
            left = inside is not None and weighed and of_what_is_left(text, here, shut, inside[0])
            if inside is None or left or not take(inside, line):
                notes.append((here + 1, shut))
            here = shut + 1
        elif text[here] in ",;) ":
            here += 1
        else:
            # "1 cup milk - 240 ml", "1 cup milk, warm, 240 ml": the other measure, not a note
            cut = _BREAK.search(text, here)
            end = cut.start() if cut else len(text)
            lead = _DASH.match(text, here - 1) if here else None
            inside = statements_in(text, lead.end() if lead else here, end)
            if not (
                inside is not None
                and all(read.amount.unit.kind in ("mass", "volume") for read in inside[0])
                and take(inside, line)
            ):
                notes.append((here, end))
            here = end
    return pos, stop, notes


def _added(text: str, pos: int, line: Stated) -> int | None:
    """``1 cup water, plus 2 tbsp``: adds it; where it ends, None where more is said of it ("plus 2 tbsp to serve")."""
    m = _ADDED.match(text, pos)
    if m is None:
        return None
    trial = Stated()
    end = read_head(text, m.end(), trial)
    bracket = text[pos] == "("
    if not trial.found or not _ENDS.match(text, end) or (bracket and text[end : end + 1] != ")"):
        return None
    line.added = True
    return more(text, m.end(), line)


def _both_parts(
    raw: str, fruit: re.Match[str], got: Read, other: re.Match[str] | None, line: Stated
) -> tuple[int, int, list[tuple[int, int]]]:
    """``zest and juice of 1 orange``, ``zest of 1 lemon, juice of 2``: the line is the fruit's, which is bought once.

    What stands in brackets is said of the juice, so it is a note.
    """
    line.add(got.amount, got.start, got.end)
    of_it = Stated()
    start, stop, notes = _split_name(raw, got.end, of_it)
    if size := SIZE.match(raw, start):
        line.size, start = size_word(size), size.end()
    notes = [fruit.span("parts"), *notes, *((a, b) for _, a, b in of_it.found)]
    if other and (second := read_amount(raw, other.end("lead"), bare=True)):
        if second.amount.high > got.amount.high:  # the more of the two is what to buy
            line.found = [(second.amount, second.start, second.end)]
        stop = min(stop, other.start())
        notes = [(fruit.start("parts"), len(raw))]
    return start, stop, notes


def _parts(raw: str, line: Stated) -> tuple[int, int, list[tuple[int, int]], str]:
    """Where the name starts and stops, the notes, and "juice" or "zest" where the line asks for that of a fruit."""
    pos = len(raw) - len(raw.lstrip())
    if bullet := _LEAD.match(raw, pos):
        pos = bullet.end()
    if (fruit := fruit_at(raw, pos)) and (got := read_amount(raw, fruit.end(), bare=True)):
        other = other_part(raw, got.end)
        if fruit["both"] or other:
            return *_both_parts(raw, fruit, got, other, line), ""
        line.add(got.amount, got.start, got.end)
        start, stop, notes = _split_name(raw, got.end, line)
        if size := SIZE.match(raw, start):
            start = size.end()
        line.size = "fruit"
        return start, stop, notes, fruit["what"].lower().replace("rind", "zest").replace("peel", "zest")
    if vague := vague_at(raw, pos):
        start, stop, notes = _split_name(raw, vague.end(), line)
        return start, stop, [vague.span("how"), *notes], ""
    after = read_head(raw, pos, line)
    if not line.found and (named := _name_first(raw, line)):
        end = named[1]
        notes = [(end, len(raw))] if raw[end:].strip(" ,") else []
        if "(" in raw[end:]:
            _, _, notes = _split_name(raw, end, line)
        return pos, named[0], notes, ""
    return *_split_name(raw, after if line.found else pos, line), ""


def _bare(words: str) -> str:
    """A remark without the punctuation around it; a bracket stays where its other half does."""
    bare = words.strip(" ,;.-–—")
    while bare.endswith(")") and bare.count(")") > bare.count("("):
        bare = bare[:-1].rstrip(" ,;.-–—")
    return bare


def _note(raw: str, stop: int, notes: list[tuple[int, int]], added: bool) -> str:
    """What is said of the ingredient after its name, without "optional" and "divided"."""
    said = ""
    for a, b in notes:
        if words := _bare(raw[a:b]):
            if not raw[:a].strip():
                words = words[:1].lower() + words[1:]  # "A few sprigs of thyme"
            aside = said and raw[a - 1 : a] == "(" and not _OPTIONAL.search(words) and not _DIVIDED.search(words)
            said += f" ({words})" if aside else f", {words}" if said else words
    if not added and (tail := _MORE.match(raw, stop)) and not said.startswith(raw[tail.end() : tail.end() + 4]):
        said = raw[tail.end() :].strip(" .")
    said = _DIVIDED.sub("", _OPTIONAL.sub("", said))
    said = re.sub(r"\s*,(?:\s*,)+", ",", said).strip(" ,;")
    return said[1:-1] if said[:1] == "(" and closing(said, 0) == len(said) - 1 else said


class _Parsed(NamedTuple):
    """A line without its place: ``name`` is where the name stands, ``spots`` where each amount does, as offsets."""

    amounts: tuple[Amount, ...]
    spots: tuple[tuple[int, int], ...]
    name: tuple[int, int]
    words: str
    key: str
    size: str
    note: str
    optional: bool
    divided: bool
    to_taste: bool


@lru_cache(maxsize=16384)  # "1 tsp salt" stands in every other recipe of a back catalogue
def _parsed(raw: str) -> _Parsed:
    plain = raw.translate(_BRACKETS)
    line = Stated()
    start, stop, notes, part = _parts(plain, line)
    stop = max(start, len(plain[:stop].rstrip()))
    note = _note(plain, stop, notes, line.added)
    words = raw[start:stop]
    if (around := _AROUND.match(plain, stop)) and around[1] in note:  # "warm (110 F) water"
        words = f"{words} {around[2]}"
        note = ", ".join(said for said in note.split(", ") if said != around[2].strip())
    if part:
        words = f"{re.sub(r'(?<=[^s])s$', '', words)} {part}"
    if line.state:
        note = f"{line.state}, {note}" if note else line.state
    return _Parsed(
        tuple(amount for amount, _, _ in line.found),
        tuple((a, b) for _, a, b in line.found),
        (start, stop),
        words,
        key_of(words),
        line.size,
        note,
        bool(_OPTIONAL.search(plain)),
        bool(_DIVIDED.search(plain[stop:])),
        not line.found and bool(_TASTE.search(plain)),
    )


def read_line(text: Text) -> IngredientLine:
    """The ingredient line in ``text``. Never raises: see the module's docstring."""
    line = _parsed(str(text))
    return IngredientLine(
        text=text,
        name=_renamed(text.slice(*line.name), line.words),
        key=line.key,
        amounts=line.amounts,
        item_spans=tuple(text.part(a, b) for a, b in line.spots),
        size=line.size,
        note=line.note,
        optional=line.optional,
        divided=line.divided,
        to_taste=line.to_taste,
    )


def _renamed(name: Text, words: str) -> Text:
    """``name`` saying ``words``, still pointing at where the name was typed ("juice of 1 lemon" is lemon juice)."""
    if str(name) == words:
        return name
    places = tuple(name.places)
    padded = (places + (places[-1],) * (len(words) + 1))[: len(words) + 1] if places else places
    return Text.at(words, name.span, padded, name._starts)


def key_of(words: str) -> str:
    """The name as steps call it: lower case, single spaces, no article, no full stop at the end."""
    low = " ".join(words.lower().translate(_QUOTES).split()).strip(" .:*")
    for article in ("the ", "a ", "an ", "some "):
        low = low.removeprefix(article)
    return low
