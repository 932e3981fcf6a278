"""The statements of an amount at the head of an ingredient line: "650 g or 2 3/4 cups", "1 (14 oz / 400 g) can"."""

from __future__ import annotations

import re
from fractions import Fraction

from pipeline.measure.amount import Amount
from pipeline.measure.grammar import Read, or_two, read_amount, read_single, read_unit
from pipeline.measure.numbers import Number, read_number
from pipeline.measure.record import replace
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import EACH, Unit, find_unit
from pipeline.recipe.uncommon import one_at

SIZE = re.compile(
    r"(extra[- ]large|extra[- ]small|x-?large|small(?:ish)?|medium(?:-sized)?|large|jumbo|big|tiny|thick|thin|fat"
    r"|plump|(?:thumb|walnut|finger|hazelnut)(?=[ -]siz)|lge?\b\.?|med\b\.?|sml?\b\.?)(?:[ -]sized)?,?\s+",
    re.IGNORECASE,
)
_LIKE = ("thumb", "walnut", "finger", "hazelnut")
_SHORT_SIZES = {"lg": "large", "lge": "large", "med": "medium", "sm": "small", "sml": "small"}
_BETWEEN = re.compile(
    r"\s*(?:/|=|≈|\||;|·)\s*|\s+or\s+|\s+[–—-]\s+(?=[\d¼-¾⅐-⅞])|\s*,\s*(?:or\s+)?(?=[\d¼-¾⅐-⅞])", re.IGNORECASE
)
_TIMES = re.compile(r"\s*[x×]\s*", re.IGNORECASE)
_COUNT = re.compile(r"(?P<count>[1-9])\s?[-–]\s?(?=\d)")
_HYPHEN = re.compile(r"\s?[-–]\s?(?=\d)")
_CONTAINERS = frozenset((
    "can", "jar", "packet", "bag", "box", "bottle", "carton", "block", "ball", "piece", "sheet", "tube", "pot",
))  # fmt: skip
_BEGIN_NAMES, _CONTENTS = ("pot",), re.compile(r"\s*(?:\(|of\s)")
_SIZED_BY_LENGTH = re.compile(r"an?\s+(?=\d)", re.IGNORECASE)
_PLUS = re.compile(r"\s*(?:\+|,?\s*plus)\s+", re.IGNORECASE)
_STATE_ONLY = re.compile(
    r"(?:(?:lightly|firmly|loosely|tightly|well)[ -])?(?:packed|sifted|chopped|grated|melted|ground|sliced|heaped"
    r"|level|shredded|crushed|minced|diced|cooked|mashed|toasted|shelled|peeled|softened)",
    re.IGNORECASE,
)


class Stated:
    """What has been found so far. ``found`` pairs each statement with where it stands in the text; ``added``: an
    amount after the name belongs to the sum."""

    __slots__ = ("added", "found", "size", "state")

    def __init__(self) -> None:
        self.found: list[tuple[Amount, int, int]] = []
        self.size = ""
        self.state = ""
        self.added = False

    def add(self, amount: Amount, start: int, end: int) -> None:
        self.found.append((amount, start, end))


def closing(text: str, pos: int) -> int:
    """The index of the parenthesis that closes the one at ``pos``, or -1."""
    depth = 0
    for i in range(pos, len(text)):
        depth += {"(": 1, ")": -1}.get(text[i], 0)
        if depth == 0:
            return i
    return -1


_INSIDE = re.compile(r"\s*(?:/|=|≈|\||;|·|,(?!\d)|\bor\b|\(|\))\s*", re.IGNORECASE)
_TOTAL = re.compile(
    r"\s*(?:(?P<each>each|apiece|per \w+)|in total|total|in all|altogether|drained|net)\b\.?\s*",
    re.IGNORECASE,
)


def statements_in(text: str, start: int, end: int) -> tuple[list[Read], bool] | None:
    """The statements between two indices where nothing else stands there, and whether they are said of each one."""
    reads: list[Read] = []
    each = False
    pos = start
    while pos < end:
        while m := _INSIDE.match(text, pos, end):
            if m.end() == pos:
                break
            pos = m.end()
        if text[pos:end].strip() == "":
            break
        got = read_amount(text[:end], pos)
        if got is None:
            return None
        reads.append(got)
        pos = got.end
        if m := _TOTAL.match(text, pos, end):
            each = each or bool(m["each"])
            pos = m.end()
        rest = text[pos:end].strip(" .")
        if not rest:
            break
        if not _INSIDE.match(text, pos, end):
            return None
    return (reads, each) if reads else None


def _count_unit(text: str, pos: int) -> tuple[Unit, int, str] | None:
    """A counting unit ("can") at ``pos``, maybe with a size before it ("large clove")."""
    start = pos
    while text[start : start + 1] == " ":
        start += 1
    size = ""
    if m := SIZE.match(text, start):
        size, start = size_word(m), m.end()
    got = read_unit(text, start)
    if got and got[0].kind == "count" and text[got[1] : got[1] + 1] in ("", " ", ",", "(", "/", ")", ";"):
        return got[0], got[1], size
    return None


def size_word(found: re.Match[str]) -> str:
    """The size word in full: "lge." is large."""
    word = found[1].lower()
    if word in _LIKE:
        return f"{word}-sized"
    return _SHORT_SIZES.get(word.rstrip("."), word)


def _glued(text: str, pos: int) -> tuple[Number, int] | None:
    """The count of ``1-28oz can``, ``2-8 oz packages``, which is no range: a can of one ounce to 28 is none."""
    m = _COUNT.match(text, pos)
    size = read_single(text, m.end(), words=False) if m else None
    if not m or not size or size.amount.unit.kind not in ("mass", "volume") or not _count_unit(text, size.end):
        return None
    count = Fraction(m["count"])
    return (Number(count, count), m.end("count")) if size.amount.low >= 4 * count else None


def _each(text: str, pos: int, line: Stated) -> int | None:
    """``1 (14 oz / 400 g) can``, ``2 14-oz cans``, ``2 x 400 g tins``: a count of things of a stated size."""
    number = _glued(text, pos) or read_number(text, pos, words=True)
    if number is None:
        return None
    count, after = number
    while text[after : after + 1] == " ":
        after += 1
    sizes: list[Read]
    if text[after : after + 1] == "(":
        shut = closing(text, after)
        inside = statements_in(text, after + 1, shut) if shut > 0 else None
        if inside is None:
            return None
        sizes, end = inside[0], shut + 1
    else:
        if m := _TIMES.match(text, number[1]) or _HYPHEN.match(text, number[1]):
            after = m.end()
        elif after == number[1]:
            return None
        got = read_amount(text, after, words=False)
        if got is None or got.amount.unit.kind not in ("mass", "volume"):
            return None
        sizes, end = [got], got.end
        while m := _BETWEEN.match(text, end):
            more = read_amount(text, m.end(), words=False)
            if more is None or more.amount.unit.kind not in ("mass", "volume"):
                break
            sizes.append(more)
            end = more.end
    unit = _count_unit(text, end)
    bracket = text[after : after + 1] == "("
    hyphened = not bracket and "-" in sizes[0].amount.text and len(sizes) == 1  # "2 6-ounce salmon fillets"
    if unit is None and not _TIMES.match(text, number[1]) and not bracket and not hyphened:
        return None
    if unit is None and count.low == count.high and (bracket or hyphened):
        # "2 (6 oz) salmon steaks": things without a unit word, each of that size
        line.add(amount_of(count, EACH, text[pos : number[1]]), pos, number[1])
    elif unit is not None:
        line.size = unit[2]
        line.add(amount_of(count, unit[0], text[pos : unit[1]]), pos, number[1])
        end = unit[1]
    for read in sizes:
        one = read.amount.scaled(count.high)  # "1 to 2 (13.5 oz) cans" weigh as little as one and as much as two
        line.add(replace(one, low=read.amount.low * count.low, text=read.amount.text), read.start, read.end)
    return end


def _first(text: str, pos: int, line: Stated, last: bool) -> int | None:
    """The first statement of a line at ``pos``; where it ends, or None if the line does not begin with an amount."""
    end = _each(text, pos, line)
    if end is not None:
        return end
    if m := _SIZED_BY_LENGTH.match(text, pos):  # "a 2 cm chunk of ginger"
        long = read_single(text, m.end(), words=False)
        pos = m.end() if long and long.amount.unit.kind == "length" else pos
    got = read_amount(text, pos, bare=True)
    if got is None:
        return _one_of(text, pos, line)
    amount, end = got.amount, got.end
    line.state = got.state
    if amount.unit is EACH:
        unit = _count_unit(text, end)
        if unit is not None:  # "1 large bunch", "2 fat cloves"
            amount, end, line.size = replace(amount, unit=unit[0]), unit[1], unit[2]
            if amount.low == amount.high == 1 and (most := or_two(text, end)):
                amount, end = replace(amount, high=most[0]), most[1]
        else:
            gap = re.compile(r"\s+").match(text, end)
            if gap and (m := SIZE.match(text, gap.end())):
                line.size, end = size_word(m), m.end() - 1
    elif amount.unit.kind == "length" and (unit := _count_unit(text, end)):
        end = unit[1]  # "1-inch piece of ginger"
    elif (amount.unit.kind == "count" and not last and _no_name(text, end)) or (
        amount.unit.name in _BEGIN_NAMES and not _CONTENTS.match(text, end)
    ):
        # "2 cloves" with no name after it is the spice, not a part of something; a pot roast is no pot of roast
        low = text.lower()
        back = max(low.rfind(word, 0, end) for word in (amount.unit.plural, amount.unit.name))
        if back >= 0:
            amount, end = replace(amount, unit=EACH), back
    else:
        end = _past_container(text, end, amount)
    line.add(amount, got.start, got.end)
    return end


def _one_of(text: str, pos: int, line: Stated) -> int | None:
    """``pinch of salt``, ``handful of parsley``: one of it, though no number stands there."""
    m = one_at(text, pos)
    unit = find_unit(m["unit"].rstrip(".")) if m else None
    if m is None or unit is None:
        return None
    end = m.end("unit")
    qualifier = next((q for q in ("less", "more", "heap") if m[q]), "")
    if unit.kind == "count":
        line.size = (m["size"] or "").lower()
    elif m["size"]:  # a large pinch, a small cup
        qualifier = "more" if m["size"].lower() == "large" else "less"
    line.add(amount_of(Number(Fraction(1), Fraction(1)), unit, text[pos:end], qualifier), pos, end)
    return end


def _past_container(text: str, pos: int, amount: Amount) -> int:
    """Where the name begins after a weight: "5 oz bag spinach" and "400 g / 14 oz tin chickpeas" name no bag or tin."""
    unit = _count_unit(text, pos) if amount.unit.kind in ("mass", "volume") else None
    return unit[1] if unit and unit[0].name in _CONTAINERS else pos


def _no_name(text: str, pos: int) -> bool:
    return not re.compile(r"\s*(?:\([^)]*\)\s*|(?:/|or|=)\s*[\d¼-¾⅐-⅞])*\s*[^\W\d_(,;]").match(text, pos)


def read_head(text: str, pos: int, line: Stated, last: bool = False) -> int:
    """All statements from ``pos`` on; where the name begins. ``line`` takes them. ``last``: the name stood before."""
    end = _first(text, pos, line, last)
    if end is None:
        return pos
    while True:
        here = end
        while text[here : here + 1] == " ":
            here += 1
        if text[here : here + 1] == "(":
            shut = closing(text, here)
            inside = statements_in(text, here + 1, shut) if shut > 0 else None
            if inside is None:
                said = text[here + 1 : shut].strip() if shut > 0 else ""
                if _STATE_ONLY.fullmatch(said):
                    line.state, end = said, shut + 1
                    continue
                if said.lower() == "optional":  # the line is looked through for it as a whole
                    end = shut + 1
                    continue
                return end
            if not take(inside, line):
                return end
            end = _past_container(text, shut + 1, inside[0][-1].amount)
            continue
        if (m := _STATE_ONLY.match(text, here)) and re.match(r"\s*\(", text[m.end() :]):
            line.state, end = m.group(), m.end()  # "1 cup packed (215 g) dark brown sugar"
            continue
        if (m := _BETWEEN.match(text, end)) and (got := read_amount(text, m.end())):
            line.add(got.amount, got.start, got.end)
            line.state = line.state or got.state
            end = _past_container(text, got.end, got.amount)
            continue
        if (m := _PLUS.match(text, end)) and (added := more(text, m.end(), line)):
            end = added
            continue
        return end


def take(inside: tuple[list[Read], bool], line: Stated) -> bool:
    """Takes what was said in brackets; False where it is of each, and nothing was counted ("3 tbsp (1 tsp per lb)")."""
    reads, each = inside
    if each and line.found and line.found[0][0].unit.kind != "count":
        return False
    times = line.found[0][0].value if each and line.found else None
    for read in reads:
        amount = read.amount if times is None else replace(read.amount.scaled(times), text=read.amount.text)
        line.add(amount, read.start, read.end)
    return True


def more(text: str, pos: int, line: Stated) -> int | None:
    """``1 cup (200 g) plus 2 tbsp (25 g)``: adds statement to statement where the kinds fit; where it ends."""
    extra = Stated()
    end = read_head(text, pos, extra)
    if not extra.found:
        return None
    summed: list[tuple[Amount, int, int]] = []
    for amount, start, stop in line.found:
        typed, kind = amount.text, amount.unit.kind
        if amount.unit.name == "stick" and amount.low == amount.high:  # of butter: 8 tbsp (4 oz, common practice)
            typed, kind = f"{float(amount.low * 8):g} tbsp", "volume"
        fits = [x for x, _, _ in extra.found if x.unit.kind == kind and kind in ("mass", "volume")]
        joined = read_amount(f"{typed} + {fits[0].text}") if fits else None
        if joined is not None:
            words = joined.amount.text if typed == amount.text else f"{amount.text} + {fits[0].text}"
            summed.append((replace(joined.amount, text=words), start, stop))
    if not summed:
        return None
    line.found = summed
    return end
