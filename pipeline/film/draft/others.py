"""Which sentences tell of another time or of somebody else: "she put in three cups", "my sister adds a teaspoon"."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.spoken.atoms import word_set

# What is told and not cooked, whoever did it. Common practice, no source.
_TOLD = word_set("""
    came went said told thought asked wanted looked forgot bought knew lived grew met wrote learned learnt visited
    worked loved hated married moved drove swore dreamed remembered ate drank slept woke felt heard happened laughed
    cried ran started decided tried kept sold served lost won
    """)
# What anybody may have done a minute ago: it tells of another time where somebody else did it.
_DID = word_set("""
    was were had did made used put took gave got cut boiled baked cooked fried added weighed mixed melted poured
    rolled chopped measured left found brought sent showed taught
    """)
_I = word_set("i we you")
_SHE = word_set("she he she'd he'd who")
_THEY = word_set("they they'd there it")
# People of whom a cook tells. Common practice, no source.
_PEOPLE = word_set("""
    mother grandmother father grandfather mum mom mama dad nan nana granny grandma grandpa aunt auntie uncle sister
    brother neighbour neighbor friend wife husband cousin teacher boss chef lady woman man girl boy guy fellow mate
    """)
# What somebody else does. Common practice, no source.
_DOES = word_set("""
    puts uses adds makes does likes takes swears throws has eats serves wants says asks insists prefers reckons
    """)
# Words that may stand between who and did: "she always put".
_BETWEEN = word_set("always never only just once even still also had would")
# So many sentences off, such talk still goes on.
_NEAR = 2
_OWN = word_set("my our his her your their")
# Of the present, whatever it looks like: "I forgot the salt. A teaspoon", "like I said".
_STILL = word_set("like as what")


def of_others(sentences: Sequence[Sequence[str]]) -> list[int | None]:
    """For each sentence its first word (counted in it) from which on it tells of another time or of somebody else.

    None where it does not. What may be done a minute ago ("I added two cups") tells of another time in the midst of
    such talk only."""
    told = [_told(words) for words in sentences]
    sure = [one is not None and one[1] for one in told]
    for way in (1, -1):
        for n in range(len(told))[::way]:
            if told[n] is not None and not sure[n]:
                near = range(max(n - way * _NEAR, 0), n) if way > 0 else range(n + 1, min(n + _NEAR + 1, len(told)))
                sure[n] = any(sure[i] for i in near)
    result: list[int | None] = []
    for n, one in enumerate(told):
        between = 0 < n < len(told) - 1 and sure[n - 1] and sure[n + 1]
        result.append(one[0] if one is not None and sure[n] else 0 if between else None)
    return result


def _told(words: Sequence[str]) -> tuple[int, bool] | None:
    """The first word of a sentence from which on it tells of what was, and whether that is surely another time."""
    weak: int | None = None
    for i, word in enumerate(words[:-1]):
        person = word.split("-")[0] in _PEOPLE  # "my sister-in-law"
        who = person or word in _I or word in _SHE or word in _THEY
        if not who or (i and words[i - 1] in _STILL):
            continue
        j = i + 2 if words[i + 1] in _BETWEEN and i + 2 < len(words) else i + 1
        verb = words[j]
        other = person or word in _SHE
        if verb in _TOLD and (word not in _THEY or word == "they") and word != "you":
            return i, True
        past = verb in _DID or (verb.endswith("ed") and verb not in ("need", "feed"))
        own = i > 0 and (words[i - 1] in _OWN or (i > 1 and words[i - 2] in _OWN))
        if (past and other and (own or not person)) or (verb in _DOES and ((person and own) or word in ("he", "she"))):
            return i, True
        if past and weak is None:
            weak = i
    return (weak, False) if weak is not None else None
