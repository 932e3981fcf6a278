"""The words around something said: its sentence, what stands before and behind it."""

from __future__ import annotations

import re
from typing import NamedTuple

from pipeline.film.spoken.said import Spoken
from pipeline.film.transcript import Transcript

_BARE = re.compile(r"[^\w']+")
_ENDS = (".", "!", "?", "…")
# Without stops a sentence is taken to be this many words long at most on either side: common practice, no source.
_BACK, _AHEAD = 14, 9
# With stops a sentence is cut where it runs on longer than this.
_LONGEST = 32
# How many words of the sentences before are still remembered.
_EARLIER = 64
# A silence that ends a thought, in ms.
_SILENCE = 2500

# Right behind a name at the beginning of a sentence: "Shaz does hers with beer".
_ACTS = re.compile(
    r"says|said|does|did|puts?|makes?|made|uses?|used|adds?|added|likes?|liked|swears|swore|thinks|reckons|wants|wanted|"
    r"takes|took|wrote|asks?|asked|told|had|would|will|never|always|once"
)


class Around(NamedTuple):
    """Lower-case words, one space between: ``before`` and ``behind`` in the same sentence, ``earlier`` and ``later``
    the sentences beside it (some sixty words back, but not over a silence; some fifteen on)."""

    before: str
    behind: str
    earlier: str
    later: str


class Speech:
    """A transcript's words in their bare form, with the places where sentences end."""

    def __init__(self, transcript: Transcript) -> None:
        raw = [word.text for word in transcript.words]
        self.bare = [_BARE.sub("", word.lower().replace("’", "'")) for word in raw]
        self.starts = [word.start for word in transcript.words]
        self._ends = [word.rstrip("\"'”’)").endswith(_ENDS) for word in raw]
        self._asks = [word.rstrip("\"'”’)").endswith("?") for word in raw]
        self._quotes = _quoted(raw)
        self._capital = [word.lstrip("\"'“‘(")[:1].isupper() for word in raw]
        #: True where the captions have no stops, as machine-made ones do not.
        self.flat = sum(self._ends) * 40 < len(raw)
        self._pause = [
            after.start - word.end > _SILENCE
            for word, after in zip(transcript.words, transcript.words[1:], strict=False)
        ]
        self._pause.append(True)
        self.length = transcript.words[-1].end if transcript.words else 0

    def ends_at(self, i: int) -> bool:
        """Whether a sentence ends behind word ``i``."""
        return self._ends[i] or self._pause[i]

    def asks(self, i: int) -> bool:
        """Whether the sentence that word ``i`` stands behind the end of, or in, is a question."""
        low = i
        while low > 0 and i - low < _LONGEST and not self.ends_at(low - 1):
            low -= 1
        if low == i and i:  # right behind the end of a sentence
            return self._asks[i - 1]
        high = i
        while high < len(self.bare) and high - i < _LONGEST and not self.ends_at(high):
            high += 1
        return high < len(self.bare) and self._asks[high]

    def quoted(self, i: int) -> bool:
        """Whether word ``i`` stands between quotation marks."""
        return i < len(self._quotes) and self._quotes[i]

    def text(self, first: int, last: int) -> str:
        return " ".join(word for word in self.bare[max(first, 0) : max(last, 0)] if word)

    def with_people(self, first: int, last: int, known: frozenset[str]) -> str:
        """The text with "somebody" for what can only be a name: a capital inside a sentence, or at its beginning right
        before what somebody does. ``known`` words are none."""
        found: list[str] = []
        for i in range(max(first, 0), max(last, 0)):
            word = self.bare[i]
            if self._capital[i] and not self.flat and len(word) > 1 and word not in known and not word.startswith("i'"):
                begins = i == 0 or self.ends_at(i - 1)
                if not begins or (i + 1 < len(self.bare) and _ACTS.fullmatch(self.bare[i + 1])):
                    word = f"somebody{word[word.index(chr(39)) :]}" if "'" in word else "somebody"
            if word:
                found.append(word)
        return " ".join(found)

    def around(self, said: Spoken) -> Around:
        """What stands around something said."""
        first, last = said.first, said.last
        low, high = self.sentence(first, last)
        return Around(
            self.text(low, first),
            self.text(last, high),
            self.before(low),
            self.text(high, high + 15),
        )

    def before(self, low: int) -> str:
        """What was said before word ``low``: some sixty words, but not over a silence."""
        return self.text(self.back(low, _EARLIER), low)

    def back(self, low: int, words: int) -> int:
        """So many words before word ``low``, but not over a silence."""
        back = low
        while back > 0 and low - back < words and not self._pause[back - 1]:
            back -= 1
        return back

    def sentence(self, first: int, last: int) -> tuple[int, int]:
        """The words of the sentence that ``first`` to ``last`` (behind the last) stand in."""
        back, ahead = (_BACK, _AHEAD) if self.flat else (_LONGEST, _LONGEST)
        low = first
        while low > 0 and first - low < back and not self.ends_at(low - 1):
            low -= 1
        high = last
        while high < len(self.bare) and high - last < ahead and not self.ends_at(high - 1):
            high += 1
        return low, high


def _quoted(raw: list[str]) -> list[bool]:
    """For each word whether it stands between quotation marks, of which the second is not far behind the first."""
    found = [False] * len(raw)
    opened: int | None = None
    for n, word in enumerate(raw):
        if opened is not None and n - opened > _LONGEST:
            opened = None
        if opened is None and word[:1] in ('"', "“"):
            opened = n
        if opened is not None and re.search(r"[\"”][.,;:!?…]*$", word[1 if opened == n else 0 :]):
            found[opened : n + 1] = [True] * (n + 1 - opened)
            opened = None
    return found
