"""What a spoken number is for: a use in this recipe, the opening list, the recap, or nothing that the page must match.

Told by language alone. Whatever offers another amount than this recipe's (a condition, a swap, a bigger batch, a
viewer's kitchen, a grandmother's) is set apart: a false alarm costs more trust than a miss.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Literal

from pipeline.film.compare.speech import Around, Speech
from pipeline.film.spoken.said import Spoken

Scope = Literal["use", "list", "recap", "repeat", "apart"]


def _any(*alternatives: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(alternatives)})\b")


_KIN = (
    "mother|mum|mom|mama|ma|nan|nana|gran|grandma|grandmother|granny|grandfather|granddad|granddaddy|dad|daddy|father|"
    "aunt|auntie|uncle|sister|brother|cousin|friend|neighbour|neighbor|husband|wife|teacher|chef"
)

# In the same sentence before the number: it is no instruction of this recipe.
_BEFORE = _any(
    # conditions, but not "if you're weighing"
    r"if (?!you(?:'re| are)? (?:weigh|measur)|your jug|you want (?:it|that) in|you like (?:grams|cups)|i remember)",
    r"unless|suppose|supposing|in case",
    r"(?:can|could|may|might) (?:also |always |even |just )?(?:use|do|have|add|swap|try|make|go|put|take|get|leave)",
    r"would (?:be|do|use|want|need)|i'd (?:use|go|do|add|try)|you'd (?:use|need|want|have|do)|that'd be|it'd be",
    r"instead|in place of|rather than|swap|swapping|substitute|replace|replaces|in lieu",
    r"skip|skipping|leave out|do without|for those who|gluten free|dairy free|vegan",
    # bigger and smaller batches
    r"doubl(?:e|ing) (?:it|this|that|the|everything|up)|triple|halv(?:e|ing) (?:it|this|that|the|everything)",
    r"half (?:the|a|this) (?:recipe|batch)|bigger batch|for a crowd|scale (?:it|this) (?:up|down)",
    r"for (?:two|three|four|five|six|ten|twelve) (?:loaves|cakes|batches|tins|pans|trays|pies|families)",
    # other people, other times
    rf"my (?:\w+ )?(?:{_KIN})|your (?:{_KIN})|grandma|grandmother|auntie",
    r"used to|when i was|last (?:time|week|month|year|summer|winter)|the first time|years ago|back then|i tried|i once",
    r"most (?:recipes|people|cooks|books)|some (?:people|recipes|folks|books|cooks|brands|tins|cans|packets|shops)|other (?:people|recipes)|people (?:will|say|tell)",
    r"another (?:recipe|version)|the original|the (?:packet|package|box|label) (?:says|said)|traditionally|i (?:saw|read)",
    r"last film|last video|previous (?:film|video)|next (?:week|time|film|video)",
    # viewers
    r"asks?|asked|asking|wrote|writes|written in|comments?|emails?|letter|viewers?|somebody|someone|wants? to know|"
    r"wonder(?:s|ed|ing)?|says|was told|told me",
    # what comes of doing it wrong, and prices
    r"end up with|ended up with|bought|buy|buying|came home with|ordered|get through|"
    r"(?:pieces?|balls?|portions?|lumps?|scoops?|dollops?) of|divide[ds]?|makes?(?: about)?$|yields?|"
    r"then you've got|you'd get|too much|too little|by accident|accidentally|by the way|fun fact|did you know|mistake|cost|costs",
)  # fmt: skip

# Right before the number.
_RIGHT_BEFORE = re.compile(
    r"(?:\b(?:not|never|isn't|aren't|than|instead of|rather than|don't (?:use|add|put|want|need)|up to|go to|"
    r"versus|no longer)(?: just| only| even| the| a full| a whole| those| add| use)?|"
    r"\bno (?:\w+ ){1,2}then)$"
)

# Right behind the number: a vessel or a tool of that size.
_BEHIND = re.compile(
    r"^(?:\w+ )?(?:tin|pan|pot|dish|bowl|jar|jars|jug|skillet|mug|casserole|saucepan|mould|mold|basket|scoop|ladle|"
    r"ramekins?|moulds?|tins|pans|bottles?|measure|container)\b|^(?:one|ones|out)\b"
)
_SWAPPED = _any(
    "instead",
    "in its place",
    "(?:shop|store) bought",
    r"(?:of |about )?(?:protein|calories|carbs|fibre|fiber)",
    "in place of",
    "works too",
    "would work",
    "will do",
    "if you prefer",
    "or more",
    "at a time",
)

# In the sentences before: a viewer speaks, and the answer is still about that.
_VIEWER = _any(
    r"wants? to know", r"wrote in|wrote to|writes in|writes to", r"(?:a|the|another|this|next|more|some|one) questions?",
    r"in the comments|a comment|your comments", r"asks (?:me|whether|if)|asked me|keep asking", r"a letter|an email|a message from",
    r"somebody called|someone called|this one says|another one (?:just )?says|here's one|she says|he says|they say",
    r"can i (?:double|use|make|swap|substitute|freeze)|can you (?:double|use|swap|substitute|freeze)",
)  # fmt: skip
# A stand-in was offered; the next sentence still speaks of it.
_OFFERED = _any(r"you (?:can|could) (?:also |always )?use|instead of|in place of|swap in|works? instead")
_BACK_AGAIN = re.compile(
    r"\b(?:so now|so anyway|anyway|anyhow|right then|okay so|ok so|back to|now the|now for|next|let's|in goes|in go|"
    r"alright|all right|moving on|where was i|meanwhile)\b"
)
_NONE_LEFT = re.compile(
    r"\bno (?:\w+ ){1,2}(?:then|no problem|no worries|use|take|just use)\b|\bhaven't got (?:any )?\w+ "
)

_LISTED = _any(
    r"you'll need|you will need|you're gonna need|you need|what we need|we'll need|ingredients|shopping list|gather|"
    r"what's going in|what goes in|take you through|run through|here's what"
)
_RECAP = _any(
    r"recap|once more|one more time|one last time|numbers again|shopping list|don't forget|to sum up|sum it up|"
    r"so that's|so that was|again quickly|quickly for|run through (?:it|that|them) again|in short|write this down|"
    r"for the people at the back|for the back row|get your pencils?|as a reminder|all together then"
)
_REPEAT = _any(r"as i said|like i said|i said|remember|we said|same (?:as|again|\w+ (?:cups|grams|minutes))|still")
_CORRECTED = re.compile(
    r"^(?:\w+ ){0,2}?(?:no|sorry|wait|scratch that|correction|make that|excuse me|i mean|oops|rather)\b"
)


def scopes(speech: Speech, spoken: Sequence[Spoken]) -> tuple[Scope, ...]:
    """One for each thing said, in the same order."""
    around = [speech.around(said) for said in spoken]
    result: list[Scope] = [_alone(a) for a in around]
    for n, said in enumerate(spoken):
        if result[n] != "apart" and _taken_back(speech, spoken, n):
            result[n] = "apart"
        if said.kind == "size":
            result[n] = "apart"
    for low, high in _runs(speech, spoken):
        region = _region(speech, spoken, low, high)
        if region:
            for n in range(low, high):
                if result[n] in ("use", "repeat"):
                    result[n] = region
    return tuple(result)


def _alone(a: Around) -> Scope:
    if _BEFORE.search(a.before) or _RIGHT_BEFORE.search(a.before) or _BEHIND.match(a.behind):
        return "apart"
    if _SWAPPED.search(a.behind) or _NONE_LEFT.search(f"{a.earlier[-60:]} {a.before}"):
        return "apart"
    offered = _OFFERED.search(" ".join(a.earlier.split()[-14:]))
    if offered and not _BACK_AGAIN.search(f"{a.earlier[-80:]} {a.before}"):
        return "apart"
    recent = " ".join(a.earlier.split()[-28:])
    viewer = list(_VIEWER.finditer(recent))
    if viewer and not _BACK_AGAIN.search(f"{recent[viewer[-1].end() :]} {a.before}"):
        return "apart"
    if _REPEAT.search(a.before):
        return "repeat"
    return "use"


def _taken_back(speech: Speech, spoken: Sequence[Spoken], n: int) -> bool:
    """ "Two cups, sorry, three cups": the speaker has put it right herself."""
    if n + 1 == len(spoken) or spoken[n + 1].kind != spoken[n].kind:
        return False
    gap = spoken[n + 1].first - spoken[n].last
    return 0 < gap <= 6 and bool(_CORRECTED.match(speech.text(spoken[n].last, spoken[n + 1].first)))


def _runs(speech: Speech, spoken: Sequence[Spoken]) -> list[tuple[int, int]]:
    """Stretches of three or more numbers close to each other, as (first, behind the last)."""
    runs: list[tuple[int, int]] = []
    low = 0
    for n in range(1, len(spoken) + 1):
        if n == len(spoken) or spoken[n].first - spoken[n - 1].last > 14:
            if n - low >= 3:
                runs.append((low, n))
            low = n
    return runs


def _region(speech: Speech, spoken: Sequence[Spoken], low: int, high: int) -> Scope | None:
    lead = speech.text(spoken[low].first - 30, spoken[low].first)
    early, late = spoken[low].start < speech.length * 0.35, spoken[low].start > speech.length * 0.6
    # a list says little but the numbers
    said = sum(s.last - s.first for s in spoken[low:high])
    dense = (spoken[high - 1].last - spoken[low].first) < 2.2 * said
    if late and (_RECAP.search(lead) or (dense and spoken[low].start > speech.length * 0.88)):
        return "recap"
    if early and dense and _LISTED.search(lead):
        return "list"
    return None
