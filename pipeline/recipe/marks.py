"""A step's text: plain Markdown, and the marks in braces.

    {water}  {water: 1 cup}  {water: half}  {water: rest}  {water of sauce}  {sauce}  {450 F or 230 C}  {30 min}

``{{`` and ``}}`` stand for plain braces.
"""

from __future__ import annotations

import re
from fractions import Fraction

from pipeline.measure.amount import Amount
from pipeline.measure.duration import read_duration
from pipeline.measure.grammar import read_statements
from pipeline.measure.heat import HeatError, read_heat, say_heat
from pipeline.measure.numbers import read_number
from pipeline.measure.oven import oven_in_words, to_dial
from pipeline.measure.record import replace
from pipeline.measure.rounding import amount_of
from pipeline.measure.units import EACH
from pipeline.recipe.desk import Desk
from pipeline.recipe.line import key_of, read_line
from pipeline.recipe.model import ComponentUse, HeatMark, IngredientLine, Piece, Prose, TimeMark, Use
from pipeline.recipe.names import Meant, Names
from pipeline.recipe.span import Text

_BRACE = re.compile(r"\{\{|\}\}|\{|\}")
_CLOSE = re.compile(r"[{}]")
_REST = re.compile(r"(?:the )?(?:rest|remainder|remaining|what(?:'s| is) left)(?: of (?:it|the .+))?", re.IGNORECASE)
_ALL = re.compile(r"(?:all|whole|everything)(?: of it)?|the whole", re.IGNORECASE)
_SHARES = {
    "half": (1, 2),
    "a half": (1, 2),
    "one half": (1, 2),
    "third": (1, 3),
    "a third": (1, 3),
    "one third": (1, 3),
    "two thirds": (2, 3),
    "quarter": (1, 4),
    "a quarter": (1, 4),
    "one quarter": (1, 4),
    "three quarters": (3, 4),
}
_PERCENT = re.compile(r"(\d{1,3}(?:[.,]\d+)?) ?%")
_SHARE_OF = re.compile(
    r"(?P<said>(?:the )?(?:rest|remainder|remaining|all)|(?:an? |one )?(?:half|third|quarter)|two[ -]thirds"
    r"|three[ -]quarters|\d{1,3} ?%)(?: of)?(?: the| your)? (?P<name>.+)",
    re.IGNORECASE,
)
_UNTIL = re.compile(r",?\s+(?:(?:or|and)\s+)?(?:until|till|or|per|on|in|more)\b", re.IGNORECASE)
_OF_IT = re.compile(r" of (?:it|them|the .+)$", re.IGNORECASE)
# A time has a number, or a word such as "hour" or "overnight"; most marks have neither, and reading is not free.
_TIMED = re.compile(r"[\d¼-¾⅐-⅞]|sec|min|hour|hr|day|night|week|month", re.IGNORECASE)
_LONGEST = 200  # characters between two braces; more is an unclosed one


def read_pieces(desk: Desk, text: Text, names: Names, component: int) -> tuple[Piece, ...]:
    """The text in pieces, in order. ``component`` is the step's own. What is wrong goes to the desk."""
    if "{" not in text and "}" not in text:
        return (Prose(text),) if text else ()
    pieces: list[Piece] = []
    prose: list[Text] = []
    pos = 0

    def keep(start: int, end: int) -> None:
        if end > start:
            prose.append(text.slice(start, end))

    def flush() -> None:
        if prose:
            whole = prose[0]
            if len(prose) > 1:
                whole = Text.joined(prose, desk.source.span(prose[0].span.start, prose[-1].span.end))
            pieces.append(Prose(whole))
            prose.clear()

    while m := _BRACE.search(text, pos):
        if len(m.group()) == 2:
            keep(pos, m.start() + 1)
            pos = m.end()
            continue
        keep(pos, m.start())
        if m.group() == "}":
            desk.wrong(
                text.part(m.start(), m.end()), "this `}` closes nothing", "take it out, or write `}}` for a plain brace"
            )
            pos = m.end()
            continue
        close = _CLOSE.search(text, m.end())
        if close is None or close.group() == "{" or close.start() - m.end() > _LONGEST:
            desk.wrong(
                text.part(m.start(), m.end()),
                "this `{` is never closed",
                "put a `}` after the name, or write `{{` for a plain brace",
            )
            pos = m.end() if close is None or close.group() == "{" else close.end()
            continue
        flush()
        piece = _mark(desk, text.slice(m.start(), close.end()), names, component)
        if piece is not None:
            pieces.append(piece)
        pos = close.end()
    keep(pos, len(text))
    flush()
    return tuple(pieces)


def _mark(desk: Desk, whole: Text, names: Names, own: int) -> Piece | None:
    """One mark; ``whole`` has its braces."""
    inner = whole.slice(1, len(whole) - 1).trimmed()
    if not inner:
        desk.wrong(
            whole.span,
            "nothing stands between these braces",
            "name an ingredient: `{water}`; write `{{}}` for plain braces",
        )
        return None
    if _TIMED.search(inner) and (times := read_duration(inner)):
        return TimeMark(inner, times)
    try:
        if heats := read_heat(inner):
            return HeatMark(inner, heats)
    except HeatError as error:
        ways = " or ".join(f"`{{{w}}}`" for w in error.fixes)
        desk.wrong(inner.span, str(error), f"write {ways}" if ways else "write it as `{450 F or 230 C}`")
        return None
    if inner.lower().endswith("oven") and (meant := oven_in_words(inner)):
        both = say_heat(meant), say_heat(to_dial(meant, "C"))
        desk.wrong(
            inner.span,
            f"`{inner}` has no number, and every oven takes it otherwise",
            f"write the heat, such as `{{{int(meant.low)} F or {int(to_dial(meant, 'C').low)} C}}`",
            f"cooks' tables put it at {both[0]} ({both[1]})",
        )
        return None
    return _use(desk, inner, names, own)


def _use(desk: Desk, inner: Text, names: Names, own: int) -> Piece | None:
    colon = inner.find(":")
    name = (inner.slice(0, colon) if colon >= 0 else inner).trimmed()
    said = inner.slice(colon + 1, len(inner)).trimmed() if colon >= 0 else None
    if not name:
        desk.wrong(inner.span, "the ingredient's name is missing before the colon", "write `{water: 1 cup}`")
        return None
    if said is not None and not said:
        desk.wrong(inner.span, f"the amount of {name} is missing after the colon", f"write `{{{name}}}` for all of it")
        return None
    if said is not None and desk.no_number(said):
        return None
    meant = names.find(name, own)
    if said is None and meant == Meant():
        if (shared := _SHARE_OF.fullmatch(name)) and names.find(shared["name"], own) != Meant():
            said, name = name.slice(*shared.span("said")), name.slice(*shared.span("name"))
            meant = names.find(name, own)
        elif amount_first := _amount_first(inner, names, own):
            return amount_first
        elif _more_than_a_mark(desk, inner):
            return None
    if meant.choices:
        ways = " or ".join(f"`{{{names.call(p, own)}}}`" for p in meant.choices[:4])
        desk.wrong(name.span, f"`{name}` may be {len(meant.choices)} ingredients", f"write {ways}")
        return None
    if meant.component is not None:
        if said is None:
            return ComponentUse(inner, meant.component)
        if _ALL.fullmatch(said) or _REST.fullmatch(said) or _share(said):
            return ComponentUse(inner, meant.component)
        desk.wrong(
            said.span,
            f"`{name}` is a component and has no amount of its own",
            f"write `{{{name}}}`, with the words around it",
        )
        return None
    line = names.components[meant.place.component].ingredients[meant.place.line] if meant.place else None
    use = Use(inner, name, meant.place.component, meant.place.line) if meant.place else Use(inner, name, None, None)
    if said is None or _ALL.fullmatch(said):
        return use
    if _REST.fullmatch(said):
        return replace(use, rest=True)
    amounts, share = _part(said, name, line)
    if amounts is None:
        desk.wrong(
            said.span,
            f"`{said}` is not an amount",
            f"write `{{{name}: 1 cup}}`, `{{{name}: half}}` or `{{{name}: rest}}`;"
            " words such as `a little` stand outside the braces",
        )
        return None
    return replace(use, amounts=amounts, share=share)


def _more_than_a_mark(desk: Desk, inner: Text) -> bool:
    """Whether a time and more stands in one mark, or a heat in words, which prints as it is; told to the desk."""
    if (more := _UNTIL.search(inner)) and read_duration(inner[: more.start()]):
        time, rest = inner[: more.start()], inner[more.start() :]
        desk.wrong(inner.span, "a mark of a time holds nothing but the time", f"write `{{{time}}}{rest}`")
        return True
    if inner.lower().endswith(" heat"):
        desk.wrong(inner.span, f"`{inner}` has no number, so there is nothing to convert", "leave out the braces")
        return True
    return False


def _amount_first(inner: Text, names: Names, own: int) -> Use | None:
    """``{2 tbsp butter}``, ``{2 eggs}``, ``{flour 200 g}``: a part said as in the list; None for anything else."""
    read = read_line(inner)
    place = names.find(read.name, own).place if read.amounts and read.key and not read.note else None
    if place is None:
        return None
    line = names.components[place.component].ingredients[place.line]
    amounts = read.amounts
    if amounts[0].unit is EACH:
        one = _counted(amounts[0].text, line)
        amounts = (one,) if one else amounts
    return Use(inner, read.name, place.component, place.line, amounts=amounts)


def _share(said: str) -> Fraction | None:
    low = _OF_IT.sub("", said.lower().replace("-", " "))
    if low in _SHARES:
        return Fraction(*_SHARES[low])
    if (m := _PERCENT.fullmatch(low)) and 0 < (part := Fraction(m[1].replace(",", ".")) / 100) <= 1:
        return part
    return None


def _part(said: Text, name: Text, line: IngredientLine | None) -> tuple[tuple[Amount, ...] | None, Fraction | None]:
    """The amounts said of an ingredient, and the share of the line's total that they are where it was said so."""
    share = _share(said)
    got = read_number(said, words=True)
    bare = got is not None and got[1] == len(said)
    if share is None and bare and got:
        # A bare number counts things where the line counts things; a bare fraction of anything else is a share.
        counted = line is None or any(a.unit.kind == "count" for a in line.amounts)
        if not counted and got[0].low < 1 and got[0].low == got[0].high:
            share = got[0].low
    if share is not None:
        return (tuple(a.scaled(share) for a in line.amounts) if line else ()), share
    if bare:
        one = _counted(said, line)
        return ((one,) if one else None), None
    reads = read_statements(said)
    if reads is not None:
        return tuple(r.amount for r in reads), None
    # "1 cup packed", "1 (14 oz) can", "2 large": what an ingredient line may say, a step may say
    read = read_line(Text.joined((said, " ", name), said.span))
    return (read.amounts if read.amounts and read.key == key_of(name) else None), None


def _counted(said: str, line: IngredientLine | None) -> Amount | None:
    """A number without a unit, for a line that counts things: `{eggs: 1}`, `{garlic: 2}`."""
    number = read_number(said, words=True)
    if number is None:
        return None
    units = [a.unit for a in line.amounts if a.unit.kind == "count"] if line else [EACH]
    return amount_of(number[0], units[0], said) if units else None
