"""Captions' times put right: unknown, negative, reversed, out of order, overlapping."""

from __future__ import annotations

from collections.abc import Sequence

from pipeline.film.clock import HOUR, MINUTE, say_moment
from pipeline.film.raw import RawCue, Read
from pipeline.film.rolling import Spoken
from pipeline.measure.record import replace

# A word takes about 0.4 s in ordinary speech (150 words a minute, common practice, no source). A paragraph
# of timed text that is followed by a long pause is not stretched over it: nobody speaks slower than one
# word in 0.7 s.
WORD = 400
SLOWEST = 700


def mend_raw(read: Read, words: Sequence[int]) -> list[RawCue]:
    """Captions with whole times, ascending by start; every repair is noted in ``read``.

    ``words`` counts each caption's spoken words. A time that starts again (two files joined) cannot be put
    right and becomes a problem in ``read``, as do captions of which more than a tenth have no readable time.
    """
    unknown = [cue for cue in read.cues if cue.start is None]
    if len(unknown) > max(1, len(read.cues) // 10) or len(unknown) == len(read.cues):
        message = "this caption's time cannot be read; write 00:01:05.000"
        read.problems += [(cue.line, message) for cue in unknown]
        return []
    cues = _over_the_hour(_known(read.cues), read)
    for cue in cues:
        if cue.start is not None and cue.start < 0:
            read.note(cue.line, "this caption begins before the film; it was moved to 0:00")
    cues = [replace(cue, start=max(cue.start or 0, 0)) for cue in cues]
    order = sorted(range(len(cues)), key=lambda i: (cues[i].start or 0, i))
    if order != list(range(len(cues))):
        joined = _joined(cues)
        if joined is not None:
            read.problems.append(
                (
                    joined.line,
                    f"the times start again here at {say_moment(joined.start or 0)}, as where two captions "
                    "files were joined; add the first part's length to the times of the second",
                )
            )
            return []
        late = next(cues[b] for a, b in zip(order[1:], order, strict=False) if b > a)
        read.note(late.line, "captions are out of order around here; they were put in the order of their times")
        cues, words = [cues[i] for i in order], [words[i] for i in order]
    return _ended(cues, words, read)


def _known(cues: Sequence[RawCue]) -> list[RawCue]:
    """A caption without a start begins where the one before it ends."""
    result: list[RawCue] = []
    for i, cue in enumerate(cues):
        if cue.start is None:
            before = result[-1] if result else None
            start = (before.end or before.start or 0) if before else 0
            after = next((c.start for c in cues[i + 1 :] if c.start is not None), None)
            if after is not None and after > start and (cue.end is None or not start < cue.end <= after):
                cue = replace(cue, end=after)
            cue = replace(cue, start=start)
        result.append(cue)
    return result


def _over_the_hour(cues: Sequence[RawCue], read: Read) -> list[RawCue]:
    """The captions with the hours added that a clock of minutes and seconds does not show: it goes from 59:58 on to
    0:04. Files that were joined seldom meet just there, and would want the same hour."""
    result: list[RawCue] = []
    top, added = 0, 0
    for cue in cues:
        start, end = cue.start or 0, cue.end
        if top % HOUR >= HOUR - MINUTE and 0 <= start < MINUTE and start + added < top:
            if not added:
                before = f"the times begin again at 0:00 after {say_moment(top)}"
                read.note(cue.line, f"{before}; an hour was added from here on")
            added = (top // HOUR + 1) * HOUR
        elif added and start >= top:
            added = 0  # the hour is written again
        start += added
        if end is not None:
            end += added
            if end < start and start - end > HOUR - MINUTE:
                end += HOUR
        result.append(replace(cue, start=start, end=end) if added or end != cue.end else cue)
        top = max(top, start)
    return result


def _joined(cues: Sequence[RawCue]) -> RawCue | None:
    """The caption at which times start again, if a whole second part lies over the first."""
    top = 0
    for i, cue in enumerate(cues):
        start = cue.start or 0
        if top - start >= MINUTE // 2:
            rest = [c.start or 0 for c in cues[i : i + 5]]
            # What follows goes on from here, and lies among the captions of the first part.
            if len(rest) >= 3 and rest == sorted(rest) and rest[-1] < top:
                among = sum(1 for c in cues[:i] if rest[0] <= (c.start or 0) <= rest[-1])
                if among >= 2:
                    return cue
        top = max(top, start)
    return None


def _ended(cues: Sequence[RawCue], words: Sequence[int], read: Read) -> list[RawCue]:
    """Every caption with an end after its start."""
    result: list[RawCue] = []
    for i, (cue, count) in enumerate(zip(cues, words, strict=True)):
        start = cue.start or 0
        after = next((c.start or 0 for c in cues[i + 1 :] if (c.start or 0) > start), None)
        if cue.end is None:
            slow = start + max(count, 1) * SLOWEST
            usual = start + max(count, 1) * WORD
            end = usual if after is None else min(after, slow)
        elif cue.end <= start:
            end = start + max(count, 1) * WORD
            if after is not None:
                end = min(end, after)
            if count:
                read.note(cue.line, "this caption ends before it begins; its end was taken from its words")
        else:
            end = cue.end
        result.append(replace(cue, start=start, end=max(end, start + 1)))
    return result


def untangle(cues: Sequence[Spoken]) -> tuple[list[Spoken], list[int]]:
    """Captions that do not overlap, and the lines of those that had to be cut: a caption ends at the latest where the
    next begins; two that begin together become one."""
    result: list[Spoken] = []
    cut: list[int] = []
    for cue in cues:
        if not cue.words():
            continue
        last = result[-1] if result else None
        if last is not None and cue.start <= last.start:
            last.lines += cue.lines
            last.end = max(last.end, cue.end)
            cut.append(last.line)
            continue
        if last is not None and cue.start < last.end:
            last.end = cue.start
            cut.append(last.line)
        result.append(Spoken(cue.line, cue.start, cue.end, cue.lines))
    return result, cut
