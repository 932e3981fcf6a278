"""schema.org Recipe, property by property: what stands there, as plain values. Never raises."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from pipeline.measure.duration import read_duration, say_duration
from pipeline.recipe.page.markup import Item, plain

# ISO 8601 (4.4.3.2): P3Y6M4DT12H30M5S, or weeks. Months and years are no kitchen time and are not read.
_ISO = re.compile(
    r"[+-]?P(?:(?P<w>[\d.,]+)W)?(?:0+Y)?(?:0+M)?(?:(?P<d>[\d.,]+)D)?"
    r"(?:T(?:(?P<h>[\d.,]+)H)?(?:(?P<m>[\d.,]+)M)?(?:(?P<s>[\d.,]+)S)?)?\Z",
    re.IGNORECASE,
)
_SECONDS = {"w": 604_800, "d": 86_400, "h": 3_600, "m": 60, "s": 1}
_STEP_KEYS = ("text", "description")
_INNER = ("itemListElement", "steps", "step")


@dataclass(frozen=True, slots=True)
class Part:
    """Steps under one heading ("" where there is none): (title, text) each."""

    name: str
    steps: tuple[tuple[str, str], ...]


def seconds_of(text: str) -> int | None:
    """Whole seconds of an ISO 8601 duration, or of a time in words; None where it is neither, or nothing."""
    text = text.strip()
    m = _ISO.match(text)
    if m is None:
        try:
            read = read_duration(text)
        except (ValueError, OverflowError):
            return None
        return read[0].low if read and read[0].low == read[0].high else None
    total = Fraction(0)
    for name, size in _SECONDS.items():
        if m[name]:
            try:
                total += Fraction(m[name].replace(",", ".")) * size
            except ValueError:
                return None
    return round(total) or None


def time_of(recipe: Item, *names: str) -> tuple[str, str]:
    """(a time as the file has it, the words that could not be read), "" for each that is not."""
    said = recipe.text(*names)
    value = recipe.first(*names)
    if isinstance(value, Item):  # a Duration or a QuantitativeValue
        said = value.text("maxValue", "value", "name")
    if not said:
        return "", ""
    seconds = seconds_of(said)
    if seconds is None:
        return "", "" if re.fullmatch(r"P?T?0*[HMS]?", said) else said
    return say_duration(seconds), ""


def yield_of(recipe: Item) -> str:
    """How much it makes, the most telling of its values: "24 cookies" rather than "24"."""
    said: list[str] = []
    for value in (*recipe.all("recipeYield"), *recipe.all("yield")):
        if isinstance(value, Item):
            number = value.text("value", "minValue")
            said.append(f"{number} {value.text('unitText', 'name')}".strip())
        else:
            said.append(" ".join(plain(value).split()))
    said = [s for s in said if re.search(r"\d|\b(?:one|two|three|four|five|six|eight|ten|twelve|dozen)\b", s)]
    return max(said, key=lambda s: (bool(re.search(r"[^\W\d]", s)), -len(s)), default="")


def words_of(recipe: Item, name: str) -> list[str]:
    """A list of words: several values, or one with commas between."""
    found: list[str] = []
    for text in recipe.texts(name):
        text = re.sub(r"^https?://\S*/(?=[^/]+$)", "", text)
        found += [" ".join(w.split()) for w in re.split(r"[,;\n]", text)]
    return list(dict.fromkeys(w for w in found if w))


def ingredients_of(recipe: Item) -> list[tuple[str, list[str]]]:
    """(heading, lines) in the page's order; the heading is "" for lines under none."""
    groups: list[tuple[str, list[str]]] = []
    for value in (*recipe.all("recipeIngredient"), *recipe.all("ingredients"), *recipe.all("ingredient")):
        for name, line in _ingredient(value):
            if name is not None:
                groups.append((name, []))
            if line:
                if not groups:
                    groups.append(("", []))
                if line not in groups[-1][1] or len(line) < 4:
                    groups[-1][1].append(line)
    return [group for group in groups if group[1]]


def _ingredient(value: str | Item) -> list[tuple[str | None, str]]:
    if isinstance(value, Item):
        inner = [v for name in ("itemListElement", "item", "recipeIngredient") for v in value.all(name)]
        if inner:
            name = value.text("name")
            return [*([(name.rstrip(":"), "")] if name else []), *(x for v in inner for x in _ingredient(v))]
        amount = value.text("amount", "requiredQuantity", "value")
        name = value.text("name", "text")
        return [(None, f"{amount} {name}".strip())]
    found: list[tuple[str | None, str]] = []
    for line in plain(value).split("\n"):
        line = re.sub(r"^[-–—•*▢☐]\s*", "", line)
        heading = re.fullmatch(r"([^\d¼-¾⅐-⅞:]{2,40}):", line)
        if heading:
            found.append((heading[1].strip(), ""))
        elif line:
            found.append((None, line))
    return found


def steps_of(recipe: Item) -> list[Part]:
    """The instructions in parts, in the page's order."""
    parts: list[Part] = []
    loose: list[tuple[str, str]] = []

    def close() -> None:
        if loose:
            parts.append(Part("", tuple(loose)))
            loose.clear()

    values = [v for n in ("recipeInstructions", "instructions") for v in recipe.all(n)]
    for value in values:
        if isinstance(value, Item) and "HowToSection" in value.types:
            close()
            steps = tuple(s for v in _inside(value) for s in _step(v))
            if not steps:
                steps = tuple(_step(value.text(*_STEP_KEYS)))
            if steps:
                parts.append(Part(value.text("name"), steps))
        elif isinstance(value, Item) and any(isinstance(v, Item) and "HowToSection" in v.types for v in _inside(value)):
            close()
            inner = Item(properties={"recipeInstructions": _inside(value)})
            parts += steps_of(inner)
        else:
            loose += _step(value)
    close()
    return parts


def _inside(value: Item) -> list[str | Item]:
    found: list[str | Item] = []
    for name in _INNER:
        for one in value.all(name):
            if isinstance(one, Item) and "ListItem" in one.types and (inner := one.first("item")) is not None:
                one = inner
            found.append(one)
    return found


def _step(value: str | Item, depth: int = 0) -> list[tuple[str, str]]:
    """One step as (title, text); a text of several lines is as many steps."""
    if isinstance(value, str):
        lines = [
            re.sub(r"^(?:step\s*)?\d{1,2}\s*[.):]\s+", "", s, flags=re.IGNORECASE) for s in plain(value).split("\n")
        ]
        return [("", line) for line in lines if line and not re.fullmatch(r"step\s*\d*:?", line, re.IGNORECASE)]
    inside = _inside(value)
    title = value.text("name")
    text = "\n".join(t for k in _STEP_KEYS for t in value.texts(k)[:1])
    if inside and depth < 8:
        told = [t for v in inside for _, t in _step(v, depth + 1)]
        if text and text.replace("\n", " ") not in " ".join(told):
            told.insert(0, text)
        if "HowToStep" not in value.types:
            return [s for v in inside for s in _step(v, depth + 1)]
        text = " ".join(told)
    text = text or title
    if not text:
        return []
    flat = re.sub(r"^(?:step\s*)?\d{1,2}\s*[.):]\s+(?=\S)", "", " ".join(text.split()), flags=re.IGNORECASE)
    # Pages repeat a step's first words as its name; a short one is a title all the same.
    again = flat.lower().startswith(title.lower().rstrip(".… "))
    if len(title) > 60 or (again and (len(title.split()) > 5 or len(title) + 2 > len(flat))):
        title = ""
    if re.fullmatch(r"step\s*\d*:?", title, re.IGNORECASE):
        title = ""
    return [(title, flat)]


def links_of(recipe: Item, name: str) -> list[str]:
    """Addresses of pictures and the like, each once."""
    found: list[str] = []
    for value in recipe.all(name):
        said = (
            value.text("contentUrl", "url", "embedUrl") or value.identity if isinstance(value, Item) else value.strip()
        )
        if said:
            found.append(" ".join(said.split()))
    return list(dict.fromkeys(found))
