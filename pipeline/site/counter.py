"""What the recipe page's script works with at the counter: every amount as exact fractions, the yield, the pans.

Without the script nothing of this shows; the page is whole without it.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache, lru_cache
from html import escape
from pathlib import Path
from typing import Any

from markupsafe import Markup

import pipeline.measure
from pipeline.measure.pan import read_pans
from pipeline.measure.scaling import data
from pipeline.recipe.channel import Channel
from pipeline.recipe.model import Yield
from pipeline.site.figures import Figures
from pipeline.site.structured import script_json


def is_english(language: str) -> bool:
    """Whether a language tag (BCP 47) is English, of any country."""
    return language.lower().partition("-")[0] == "en"


@cache
def _regional() -> dict[str, tuple[str, str]]:
    """A name in lower case → what it is called in the US and in Britain."""
    path = Path(pipeline.measure.__path__[0]) / "data" / "regional.csv"
    rows = csv.DictReader(line for line in path.read_text("utf-8").splitlines() if not line.startswith("#"))
    out: dict[str, tuple[str, str]] = {}
    for row in rows:
        us, uk = row["us"].split(";"), row["uk"].split(";")
        for name in (*us, *uk):
            out[name] = (us[0], uk[0])
    return out


def regional(name: str) -> tuple[str, str] | None:
    """A name as an American and as a Briton has it, or None where both say the same or nobody knows.

    The last words decide: "large eggplants" are "large aubergines".
    """
    table = _regional()
    words = name.split()
    for start in range(len(words)):
        found = table.get(" ".join(words[start:]).lower())
        if found:
            before = " ".join(words[:start])
            us, uk = (f"{before} {one}".strip() for one in found)
            if name[:1].isupper():
                us, uk = us[:1].upper() + us[1:], uk[:1].upper() + uk[1:]
            return us, uk
    return None


# Countries whose kitchens say courgette and icing sugar (common practice, no source).
_BRITISH = frozenset({"gb", "ie", "au", "nz", "za", "in"})


def at_home(name: str, language: str) -> str:
    """A name of the ingredient table, which is American, in the English of the language tag's country."""
    country = language.lower().rpartition("-")[2]
    found = regional(name) if is_english(language) and country in _BRITISH else None
    return found[1] if found else name


@lru_cache(maxsize=4096)
def name_html(name: str, language: str = "en") -> str:
    """A name, with what it is called elsewhere beside it for the script: two countries' English is known."""
    found = regional(name) if is_english(language) else None
    if found is None:
        return escape(name)
    us, uk = (escape(one, quote=True) for one in found)
    return f'<span class="named" data-us="{us}" data-uk="{uk}">{escape(name)}</span>'


@dataclass(slots=True)
class Tray:
    """The amounts of one page, each once, in the order in which they are met."""

    figures: list[list[Any]] = field(default_factory=list)
    # By identity: comparing amounts costs more than saying one twice. Each is held, so that its number stays its own.
    _known: dict[int, tuple[int, Figures]] = field(default_factory=dict)

    def add(self, shown: Figures) -> str:
        """An attribute that leads to this amount, "" where there is none."""
        scale, cup = shown.grows
        if not scale and not cup and not shown.fruits:
            return ""
        known = self._known.get(id(shown))
        if known is None:
            known = self._known[id(shown)] = (len(self.figures), shown)
            self.figures.append([data(scale), data(cup), int(shown.counted), data(shown.fruits)])
        return f' data-of="{known[0]}"'


def pans_attribute(text: str) -> Markup:
    """The sizes of a pan in a text, for the script: ``unit side side`` in mm, `;` between; or nothing."""
    pans = read_pans(text)
    if not pans:
        return Markup("")
    said = ";".join(" ".join([pan.unit, *map(str, pan.sides)]) for pan in pans)
    return Markup(f' data-pan="{escape(said)}"')


_HEAD = re.compile(r"^(.*?)([^\W\d_]+)(?=$| of | with | in |[ ]?[(,])", re.IGNORECASE)
_LOAF = {"loaf": "loaves", "half": "halves", "knife": "knives", "person": "people", "serving": "servings"}


def forms(what: str, language: str = "en") -> tuple[str, str]:
    """What is made, as one and as several: "loaf", "loaves". In another language than English as it was typed."""
    found = _HEAD.match(what)
    if not found or not is_english(language):
        return what, what
    before, word, after = found[1], found[2], what[found.end() :]
    back = {many: one for one, many in _LOAF.items()}
    if word in back:
        return f"{before}{back[word]}{after}", what
    if word in _LOAF:
        return what, f"{before}{_LOAF[word]}{after}"
    if word.endswith("s") and not word.endswith("ss"):
        one = word[:-3] + "y" if word.endswith("ies") and len(word) > 4 else word[:-1]
        if re.search(r"(?:ch|sh|x|ss)es$", word):
            one = word[:-2]
        return f"{before}{one}{after}", what
    many = word[:-1] + "ies" if re.search(r"[^aeiou]y$", word) else word + "s"
    if re.search(r"(?:ch|sh|x|ss)$", word):
        many = word + "es"
    return what, f"{before}{many}{after}"


def counter_data(tray: Tray, yields: Yield | None, channel: Channel) -> Markup:
    """All of it as JSON, safe inside a ``<script>`` element that is data."""
    made: dict[str, str] = {}
    if yields is not None and yields.low > 0:
        middle: Fraction = (yields.low + yields.high) / 2
        one, many = forms(yields.what, channel.language)
        made = {"number": str(middle), "one": one, "many": many}
    return script_json({"figures": tray.figures, "yield": made, "cup": channel.cup, "weight": channel.lead == "weight"})
