"""``assets/kitchen.js``: what the pages' scripts share with the program, so that there is one rule and one wording.

It holds the table of kitchen measures and units as the program has them, the gas marks, and the catalogue's words for
the scripts. It is made at each build, never kept.
"""

from __future__ import annotations

import json
from typing import Any

from pipeline.measure.fractions import GLYPHS, rules
from pipeline.measure.units import STANDARDS, factor, unit
from pipeline.site.words import FORMS_TOLD, Words

KITCHEN = "kitchen.js"
_SECTIONS = ("archive", "counter", "cups", "found", "measure", "recipe", "units")
_UNITS = ("gallon", "quart", "cup", "tablespoon", "teaspoon", "pinch", "fluid ounce")

_SAY = """
// A text of the catalogue with its holes filled; a missing one shows as its key, never as nothing.
kitchen.say = (key, holes = {}) => {
  const at = key.indexOf(".");
  let text = kitchen.words[key.slice(0, at)]?.[key.slice(at + 1)] ?? key;
  if (Array.isArray(text)) {
    const n = holes.n ?? 1;
    const form = kitchen.forms[n < kitchen.forms.length ? n : 100 + (n % 100)];
    text = text[Math.min(form, text.length - 1)];
  }
  return text.replace(/\\{([a-z]+)\\}/g, (hole, name) => holes[name] ?? hole);
};
"""


def measures_data() -> dict[str, Any]:
    """``fractions.json`` without its comments, and the units' sizes in ml by standard, as exact fractions."""
    table = {key: value for key, value in rules().items() if key != "about"}
    units = [unit(name) for name in _UNITS]
    return {
        **table,
        "sizes": {s: {u.name: str(factor(u, s)) for u in units} for s in STANDARDS},
        "ounce": str(factor(unit("ounce"))),
        "glyphs": {str(part): glyph for part, glyph in GLYPHS.items()},
    }


def kitchen_script(words: Words) -> str:
    """The script file's text."""
    data = {
        "measures": measures_data(),
        "words": {name: words.section(name) for name in _SECTIONS},
        "forms": [words.form(n) for n in range(FORMS_TOLD)],
    }
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    return f'// Made by the build from the program\'s own tables.\n"use strict";\nglobalThis.kitchen = {text};\n{_SAY}'
