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

    def text(self, first: int, last: int) -> str:
        return " ".join(word for word in self.bare[max(first, 0) : max(last, 0)] if word)

    def around(self, said: Spoken) -> Around:
        """What stands around something said."""
        first, last = said.first, said.last
        low, high = self.sentence(first, last)
        back = low
        while back > 0 and low - back < _EARLIER and not self._pause[back - 1]:
            back -= 1
        return Around(
            self.text(low, first),
            self.text(last, high),
            self.text(back, low),
            self.text(high, high + 15),
        )

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
