"""What can go wrong while the site is made, as one typed exception with every problem in it."""

from __future__ import annotations

from pathlib import Path


class SiteError(Exception):
    """The site was not made; what stood before stands still.

    ``problems`` are whole sentences, each naming its file and what to do.
    """

    def __init__(self, *problems: str) -> None:
        self.problems = problems
        super().__init__("\n".join(problems))


class PhotoError(SiteError):
    """A picture that cannot be used: ``path`` is the file, ``why`` what is wrong, ``help`` what to do."""

    def __init__(self, path: Path, why: str, help: str) -> None:
        self.path = path
        self.why = why
        self.help = help
        super().__init__(f"{path}: {why}; {help}")


class BadTemplateError(SiteError):
    """A template that does not work: ``template`` its name, ``line`` where (from 1, 0 if unknown)."""

    def __init__(self, template: str, line: int, why: str) -> None:
        self.template = template
        self.line = line
        super().__init__(f"templates/{template}:{line}: {why}")
