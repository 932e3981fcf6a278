"""Ways of speaking that few ingredient lines have: juice and zest of a fruit, a measure without a number, no
measure at all, "each" of several.

A pattern here is compiled when the first line may need it; a check of one recipe, which must start quickly, mostly
does without.
"""

from __future__ import annotations

import re
from functools import cache

_PART = r"(?:juice|zest|rind|peel)"
_GRATED = r"(?:(?:finely|freshly|strained)\s+)*(?:grated\s+|squeezed\s+)?"
_FRUIT = (
    rf"(?:the\s+)?(?P<parts>{_GRATED}(?P<what>juice|zest|rind|peel)"
    rf"(?P<both>\s*(?:and|&|\+|plus|,)\s+(?:the\s+)?{_GRATED}{_PART})?)\s+(?:(?:of|from)\s+|(?=[\d¼-¾⅐-⅞]))"
)
_OTHER = (
    rf"(?P<lead>\s*(?:,|\band\b|&|\bplus\b)\s*(?:and\s+)?(?:the\s+)?(?:grated\s+)?{_PART}\s+(?:of|from)\s+)(?=[\d½¼a])"
)
_VAGUE = (
    r"(?P<how>(?:an?\s+|some\s+|several\s+)?(?:(?:very|good|generous|small|tiny|big|large|light|healthy|few)\s+)*"
    r"(?:(?:splash|drizzle|glug|lug|dollop|sprinkl(?:e|ing)|squeeze|grating|grind(?:ing)?|twist|touch|lick|slug|smear"
    r"|scattering|dusting|hint|spritz|shake|blob|smidge|smidgen)(?:es|s)?(?=\s+of\s)"
    r"|(?:splash|drizzle|glug|dollop|sprinkl(?:e|ing)|squeeze)(?=\s+[a-z])"
    r"|(?<=few )(?:[a-z]+(?=\s+of\s)|(?:dashes|drops|sprigs|grinds|shakes|strips|threads)(?=\s+[a-z]))?"
    r"|(?<=several )(?:[a-z]+(?=\s+of\s)|(?:dashes|drops|sprigs|grinds|shakes|strips|threads)(?=\s+[a-z]))?"
    r"|(?<=a )(?:little(?:\s+bit)?|bit(?=\s+of\s))))"
    r"\s*(?:of\s+)?(?:the\s+|your\s+)?(?=[^\W\d_])"
)
# Names without numbers or brackets.
_NAMES = r"(?P<names>[^\d,;:()¼-¾⅐-⅞]+(?:,[^\d,;:()¼-¾⅐-⅞]+)*(?:,|\band\b|&)[^\d,;:()¼-¾⅐-⅞]+)"
_EACH_FIRST = rf"(?P<amount>[\d¼-¾⅐-⅞a].*?)\s+each(?:\s+of)?\s*:?\s+{_NAMES}"
_EACH_LAST = rf"{_NAMES},\s*(?P<amount>[\d¼-¾⅐-⅞a][^,;]*?)\s+(?:of\s+)?each\.?"
# "pinch of salt", "heaped tsp cumin", "small bunch dill", "scant cup flour".
_ONE = (
    r"(?:(?:(?P<less>scant)|(?P<more>good|big|generous)|(?P<heap>heaped|heaping|rounded)|(?P<size>large|small|tiny)"
    r"|level|full)\s+)?"
    r"(?P<unit>pinch|dash|handful|knob|bunch|sprig|stick|tablespoon|tbsp\.?|teaspoon|tsp\.?|cup|pint|clove|slice)"
    r"(?P<of>\s+of)?\s+(?=[^\W\d_(]|\()"
)
# With nothing around them these may begin a name: "cup mushrooms", "stick cinnamon".
_MAY_BE_NAMES = ("stick", "cup", "pint", "clove", "slice")
_ONE_SIGNS = (" of ", "pinch", "dash", "hand", "knob", "bunch", "sprig", "spoon", "tbsp", "tsp", "scant", "heap", "cup")
_VAGUE_SIGNS = (
    " of ", "little ", "few ", "several ", "splash ", "drizzle ", "glug ", "dollop ", "sprinkl", "squeeze ",
)  # fmt: skip
_FRUIT_SIGNS = ("juice", "zest", "rind", "peel")


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern, re.IGNORECASE)


def fruit_at(text: str, pos: int) -> re.Match[str] | None:
    """ "zest and juice of " at ``pos``: groups ``parts``, ``what`` (the first) and ``both`` (the second, or None)."""
    low = text.lower()
    return _compiled(_FRUIT).match(text, pos) if any(sign in low for sign in _FRUIT_SIGNS) else None


def other_part(text: str, pos: int) -> re.Match[str] | None:
    """ ", juice of " of another number of the same fruit after ``pos``: its group ``lead`` ends where that begins."""
    return _compiled(_OTHER).search(text, pos)


def vague_at(text: str, pos: int) -> re.Match[str] | None:
    """No measure at all ("a drizzle of ", "a few sprigs of ", "a little ") at ``pos``; group ``how`` says it."""
    if text[pos : pos + 1].isdigit():
        return None
    low = text.lower()
    return _compiled(_VAGUE).match(text, pos) if any(sign in low for sign in _VAGUE_SIGNS) else None


def one_at(text: str, pos: int) -> re.Match[str] | None:
    """A unit at ``pos`` with no number before it, which stands for one: groups ``unit`` and, of the word before it,
    ``less``, ``more``, ``heap`` or ``size``."""
    low = text[pos : pos + 40].lower()
    m = _compiled(_ONE).match(text, pos) if any(sign in low for sign in _ONE_SIGNS) else None
    if m and m["unit"].lower() in _MAY_BE_NAMES and m.start("unit") == pos and not m["of"]:
        return None
    return m


def each_of(text: str) -> re.Match[str] | None:
    """ "1 tsp each salt and pepper", "salt and pepper, 1 tsp each": groups ``amount`` and ``names``."""
    if "each" not in text.lower():
        return None
    return _compiled(_EACH_FIRST).fullmatch(text) or _compiled(_EACH_LAST).fullmatch(text)


def parted(names: str) -> list[tuple[int, int]]:
    """Where each of several names stands in "cumin, coriander and paprika"."""
    cuts = [at for c in _compiled(r"\s*(?:,\s*(?:and\s+)?|\band\b|&)\s*").finditer(names) for at in c.span()]
    ends = [0, *cuts, len(names)]
    return list(zip(ends[::2], ends[1::2], strict=True))
