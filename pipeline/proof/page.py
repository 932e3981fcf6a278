"""The page about all checks, made from the checks themselves so that the two cannot drift apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pipeline.proof.finding import Check
from pipeline.proof.run import HOUSE

_OPENING = """\
# The checks

`levelcup check` reads each recipe and asks these questions. A finding is an error, a warning or a note; only errors
stop `levelcup publish`. What is right as it stands can be accepted in the source, with the reason:

```yaml
accept:
  - finding: oven-not-preheated
    where: slow oven
    reason: It starts cold on purpose.
```

`finding` is the id of the check, `where` some words of the marked line (it may be left out), `reason` is for you and
for those who read the source after you. An acceptance that accepts nothing is itself reported.

In the examples the recipe's folder holds `photo.jpg` and `captions.vtt`.
"""


def checks_page(checks: Sequence[Check]) -> str:
    """The page in Markdown: each check's id, question, reason, and its bad and its good example."""
    return "\n".join(_parts(checks)) + "\n"


def _parts(checks: Sequence[Check]) -> Iterator[str]:
    yield _OPENING
    for check in checks:
        yield f"## {check.id}\n\n{check.question}\n\n{check.reason}\n"
        yield f"Found in:\n\n```yaml\n{check.bad}```\n"
        if check.bad_captions:
            yield f"with the film saying:\n\n```text\n{check.bad_captions}```\n"
        yield f"Nothing to find in:\n\n```yaml\n{check.good}```\n"
        if check.good_captions:
            same = check.good_captions == check.bad_captions
            yield (
                "with the film saying the same.\n"
                if same
                else f"with the film saying:\n\n```text\n{check.good_captions}```\n"
            )
    yield "## What the checks say of themselves\n"
    for name, question, reason in HOUSE:
        yield f"### {name}\n\n{question}\n\n{reason}\n"
