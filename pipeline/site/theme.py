"""Templates: the shipped ones, and a folder's own in front of them, file by file."""

from __future__ import annotations

import re
import traceback
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

from pipeline.site.errors import BadTemplateError
from pipeline.site.files import digest
from pipeline.site.words import NAME, Words, read_words

if TYPE_CHECKING:
    from jinja2 import Environment, Template

ASSETS = "assets"
OWN_STYLE = "own.css"
_NAMED = re.compile(r"""\{%-?\s*(?:extends|include|import|from)\s+["']([^"']+)["']""")


def shipped_templates() -> Path:
    """The folder of the templates that come along: inside the wheel, or top-level in a checkout."""
    packed = Path(__file__).parent / "_templates"
    return packed if packed.is_dir() else Path(__file__).parents[2] / "templates"


def shipped_words() -> Words:
    """The catalogue as it comes along."""
    return read_words(shipped_templates() / NAME)


def _is_text(name: str | None) -> bool:
    """Plain-text templates (the post) are not escaped: an ``&amp;`` would be read out as such. All others are."""
    return name is not None and ".txt" in Path(name).suffixes


@dataclass
class Theme:
    """The templates of one run. ``own`` is the folder's own ``templates/``, or None."""

    own: Path | None
    _digests: dict[str, str] = field(default_factory=dict)

    @property
    def folders(self) -> tuple[Path, ...]:
        shipped = shipped_templates()
        own = self.own.resolve() if self.own else None
        return (own, shipped) if own and own.is_dir() and own != shipped.resolve() else (shipped,)

    @cached_property
    def words(self) -> Words:
        """The catalogue of words. Raises BadTemplateError for a wrong entry in the folder's own."""
        *own, shipped = self.folders
        return read_words(shipped / NAME, own[0] / NAME if own else None)

    @property
    def own_style(self) -> bool:
        """Whether the folder has a style of its own to put behind the shipped ones."""
        return any((folder / ASSETS / OWN_STYLE).is_file() for folder in self.folders[:-1])

    @cached_property
    def environment(self) -> Environment:
        from jinja2 import ChoiceLoader, Environment, FileSystemLoader, PrefixLoader, StrictUndefined

        environment = Environment(
            # One folder after the other; `shipped/NAME` is the shipped one, for a template that changes a block of it.
            loader=ChoiceLoader(
                [
                    FileSystemLoader([str(f) for f in self.folders]),
                    PrefixLoader({"shipped": FileSystemLoader(str(self.folders[-1]))}),
                ]
            ),
            autoescape=lambda name: not _is_text(name),
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
            auto_reload=False,
        )
        environment.globals["say"] = self.words
        environment.globals["own_style"] = self.own_style
        return environment

    def compile(self, name: str) -> Template:
        """The template, read once. Raises BadTemplateError."""
        from jinja2 import TemplateError

        try:
            return self.environment.get_template(name)
        except (TemplateError, UnicodeDecodeError) as error:
            raise _problem(name, error) from None

    def render(self, name: str, context: dict[str, Any]) -> str:
        """The template with its context. Raises BadTemplateError, which names the template and the line."""
        template = self.compile(name)
        try:
            return template.render(context)
        except Exception as error:  # her template may raise anything; it is the template that needs mending
            raise _problem(name, error) from error

    def digest(self, name: str) -> str:
        """A hash of a template and of all that it includes, extends or imports."""
        known = self._digests.get(name)
        if known is None:
            from jinja2 import TemplateError, meta

            self._digests[name] = ""  # a template that includes itself ends here
            try:
                source = self._source(name)
                found = meta.find_referenced_templates(self.environment.parse(source, name))
            except (TemplateError, UnicodeDecodeError) as error:
                raise _problem(name, error) from None
            parts = [self.digest(other) for other in found if other]
            known = self._digests[name] = digest(source, self.words.digest, str(self.own_style), *parts)
        return known

    def _source(self, name: str) -> str:
        loader = self.environment.loader
        assert loader is not None
        return loader.get_source(self.environment, name)[0]

    def compile_all(self, *names: str) -> None:
        """Reads templates, and those that they name; all that is left is read when it is used. Raises
        BadTemplateError."""
        wanted = list(names)
        for name in wanted:
            self.compile(name)
            wanted += [other for other in _NAMED.findall(self._source(name)) if other not in wanted]

    def assets(self) -> dict[str, Path]:
        """What is copied as it stands: name below ``assets/`` → file; the folder's own in front. A link that leads
        out of the folder is left where it is."""
        found: dict[str, Path] = {}
        for folder in reversed(self.folders):
            root = folder / ASSETS
            home = root.resolve()
            for path in sorted(root.rglob("*")):
                if not path.is_file() or not path.resolve().is_relative_to(home):
                    continue
                if not any(part.startswith(".") for part in path.relative_to(root).parts):
                    found[path.relative_to(root).as_posix()] = path
        return dict(sorted(found.items()))


def _problem(name: str, error: Exception) -> BadTemplateError:
    """The template's name and line out of Jinja's exception or its traceback."""
    from jinja2 import TemplateNotFound, TemplateSyntaxError

    if isinstance(error, TemplateSyntaxError):
        return BadTemplateError(error.name or name, error.lineno, error.message or "this cannot be read")
    if isinstance(error, TemplateNotFound):
        return BadTemplateError(name, 0, f"there is no template {error.name}")
    frames = [f for f in traceback.extract_tb(error.__traceback__) if f.filename.endswith(".j2")]
    if frames:
        return BadTemplateError(Path(frames[-1].filename).name, frames[-1].lineno or 0, _plain(error))
    return BadTemplateError(name, 0, _plain(error))


def _plain(error: Exception) -> str:
    """What went wrong, with the views called as the guide calls them: "RecipeView has no attribute 'titel'"."""
    return re.sub(r"'[\w.]*?(\w+) object'", r"\1", str(error))
