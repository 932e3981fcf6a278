"""Which sentences tell of another time or of somebody else: "she put in three cups", "my sister adds a teaspoon"."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from itertools import pairwise
from typing import Literal

from pipeline.film.spoken.atoms import word_set

# Surely of another time; what somebody does again and again; perhaps of another time.
Telling = Literal["past", "habit", "maybe"]
# What is told and not cooked, whoever did it. Common practice, no source.
_TOLD = word_set("""
    came went said told thought asked wanted looked forgot bought knew lived grew met wrote learned learnt visited
    worked loved hated married moved drove swore dreamed remembered ate drank slept woke felt heard happened laughed
    cried decided tried sold lost won
    """)
# What anybody may have done a minute ago: it tells of another time where somebody else did it.
_DID = word_set("""
    was were had did made used put took gave got cut boiled baked cooked fried added weighed mixed melted poured
    rolled chopped measured left found brought sent showed taught
    """)
_I = word_set("i we you")
_SHE = word_set("she he she'd he'd who")
_THEY = word_set("they they'd there it")
#: People of whom a cook tells. Common practice, no source.
PEOPLE = word_set("""
    mother grandmother father grandfather mum mom mama dad nan nana granny grandma grandpa aunt auntie uncle sister
    brother neighbour neighbor friend wife husband cousin teacher boss chef lady woman man girl boy guy fellow mate
    fella roommate flatmate girlfriend boyfriend partner fiance colleague coworker student landlady landlord priest nun
    butcher baker fishmonger grocer doctor nurse coach captain sergeant major niece nephew godmother stepmother ex
    mother-in-law father-in-law gentleman lass lad person somebody someone babysitter instructor professor
    """)
# What somebody else does. Common practice, no source.
_DOES = word_set("""
    puts uses adds makes does likes takes swears throws has eats serves wants says asks insists prefers reckons
    """)
# What tells of somebody, and not what she cooks.
_NO_DEED = word_set("is was this his its yes likes loves as always sometimes comes lives thinks knows")
_ARE = word_set("are were have love like want think say know live come will can that who and or in for don't")
# What somebody who is named does in her own kitchen, not what she does here and now.
_NAMED_DOES = word_set("puts uses does makes likes swears says insists prefers reckons asks wants used did made asked")
# "In hers", "on theirs": of another's dish.
_THEIRS = word_set("hers theirs his")
_IN = word_set("in on with does makes into for of")
# Where other amounts hold. Common practice, no source.
_ELSEWHERE = re.compile(
    r"\b(?:(?:back|at) home (?:it was|they|we)\b"
    r"|(?:at|in|from) (?:the|my|our|a) (?:old )?(?:club|restaurant|bakery|army|navy|canteen|school|hotel|pub|cafe|café"
    r"|shop|factory|hospital|market|galley|deli|diner|church|camp|barracks|mess) (?:it's|it was|it is|they|we|you|i)\b)"
)
# "There were ninety guests": of another table. Common practice, no source.
_CROWD = re.compile(
    r"\b(?:there (?:was|were)|we (?:was|were)|i had|we had) (?:[a-z]+ ){1,5}?"
    r"(?:of us|of them|guests|people|mouths|kids|children|men|women|lads|students|soldiers|mourners)\b"
)
# What was said right before is not to be done. Common practice, no source.
_NOT_THAT = re.compile(
    r"^(?:(?:but|so|and|now|no|oh|well) )*(?:you'll not|you won't|you don't|you do not|we don't|we won't|we're not"
    r"|i'm not|don't|do not|never|please don't|i won't|i don't) "
    r"(?:(?:be|do|doing|want|wanting|need|needing|make|making|mind|try|copy|listen|going to|to|gonna) )+"
    r"(?:that|that much|so much|all that|to that|this at home)$"
)
# What is written elsewhere. Common practice, no source.
_WRITTEN = word_set("recipes recipe packet package box book books label instructions tin page version")
_SAYS = word_set("say says call calls use uses tell tells want wants ask asks has have had")
# Words that may stand between who and did: "she always put".
_BETWEEN = word_set("always never only just once even still also had would")
# Of a film's sentences so many tell what the cook did where it is the voice that she has.
_VOICE = 0.25
# With such a word the cook comes back to her own pot.
_NOW = [[word] for word in ("now", "okay", "ok", "right", "anyway")]
# So many sentences off, such talk still goes on.
_NEAR = 2
_OWN = word_set("my our his her your their")
# Of the present, whatever it looks like: "I forgot the salt. A teaspoon", "like I said".
_STILL = word_set("like as what")


def of_others(sentences: Sequence[Sequence[str]], names: Collection[str] = ()) -> list[int | None]:
    """For each sentence its first word (counted in it) from which on it tells of another time or of somebody else.

    None where it does not. What may be done a minute ago ("I added two cups") tells of another time in the midst of
    such talk only. ``names``: those of people, in small letters."""
    told = [_told(words, names) for words in sentences]
    mine = [one is not None and sentences[n][one[0]] in _I for n, one in enumerate(told)]
    if sum(mine[n] and one is not None and one[1] == "maybe" for n, one in enumerate(told)) > len(told) * _VOICE:
        # the cook tells all of it as done: only what somebody else did is another's
        told = [None if mine[n] else one for n, one in enumerate(told)]
    past = [one is not None and one[1] == "past" for one in told]
    for way in (1, -1):
        for n in range(len(told))[::way]:
            if told[n] is not None and not past[n]:
                near = range(max(n - _NEAR, 0), n) if way > 0 else range(n + 1, min(n + _NEAR + 1, len(told)))
                past[n] = any(past[i] for i in near)
    result: list[int | None] = []
    for n, one in enumerate(told):
        between = 0 < n < len(told) - 1 and past[n - 1] and past[n + 1] and sentences[n][:1] not in _NOW
        own = one is not None and (past[n] or one[1] == "habit")
        taken_back = n + 1 < len(told) and bool(_NOT_THAT.match(" ".join(sentences[n + 1])))
        result.append(one[0] if one is not None and own else 0 if between or taken_back else None)
    return result


def _told(words: Sequence[str], names: Collection[str]) -> tuple[int, Telling] | None:
    """The first word of a sentence from which on it tells of what was or of what others do, and how surely."""
    if any(a in _IN and b in _THEIRS for a, b in pairwise([*words, ""]) if b != "his" or words[-1] == "his"):
        return 0, "habit"
    if _CROWD.search(" ".join(words)):
        return 0, "past"
    if m := _ELSEWHERE.search(" ".join(words)):
        return " ".join(words)[: m.start()].count(" "), "habit"
    maybe: int | None = None
    for i, word in enumerate(words[:-1]):
        if word in _WRITTEN and words[i + 1] in _SAYS and (i == 0 or words[i - 1] not in ("this", "our")):
            return i, "habit"  # "most recipes call for three hundred grams"
        if word in names and words[i + 1] in _NAMED_DOES:
            return i, "habit"  # "Maureen does it with margarine"
        person = word.split("-")[0] in PEOPLE  # "my sister-in-law"
        if word[:-1] in PEOPLE and word[-1] == "s" and _OWN & {*words[max(i - 2, 0) : i]} and words[i + 1] not in _ARE:
            return i, "habit"  # "his girls pour a cup of stout over"
        if not (person or word in _I or word in _SHE or word in _THEY) or (i and words[i - 1] in _STILL):
            continue
        verb = words[i + 2] if words[i + 1] in _BETWEEN and i + 2 < len(words) else words[i + 1]
        if verb in _TOLD and word not in ("you", "it", "there"):
            return i, "past"
        verb = _of_person(words, i, names) if person else verb
        own = bool(_OWN & {*words[max(i - 2, 0) : i]}) or words[i + 1] in names  # "my sister", "cousin Merle"
        done = verb in _DID or (verb.endswith("ed") and verb not in ("need", "feed"))
        done = done and (word, verb) != ("you", "got")  # "you got two left"
        if done and (word in _SHE or (person and own) or (word in _I and _then(words, i))):
            return i, "past"
        if verb in ("did", "used") and person and own:
            return i, "past"
        if (verb in _DOES and word in ("he", "she")) or (person and own and _acts(verb)):
            return i, "habit"
        if done and maybe is None:
            maybe = i
    return (maybe, "maybe") if maybe is not None else None


def _then(words: Sequence[str], i: int) -> bool:
    """ "When I did it for forty", "I were mean the once": what the cook herself did at another time."""
    return words[max(i - 1, 0) : i] == ["when"] or "once" in words[i + 1 :]


def _acts(verb: str) -> bool:
    """Whether a word is a verb of the third person: "separates", "adds"; "is", "has" and "says" tell of much else."""
    return verb in _DOES or (verb[-1:] == "s" and verb[-2:] not in ("ss", "us", "'s") and verb not in _NO_DEED)


def _of_person(words: Sequence[str], i: int, names: Collection[str]) -> str:
    """What the person at word ``i`` does, behind her name and where she is: "my roommate in grad school did"."""
    j = i + 1
    if words[j] in names:
        j += 1
    if j < len(words) and words[j] in ("in", "at", "from", "over", "across", "down"):
        j = next((k for k in range(j + 1, min(j + 6, len(words))) if words[k] in _DOES | _DID), j)
    if j + 1 < len(words) and words[j] in _BETWEEN:
        j += 1
    return words[j] if j < len(words) else ""
