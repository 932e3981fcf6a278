"""The commands. Each reads its arguments, calls one function of one room, prints, and returns an exit code.

Exit codes: 0 all is well; 1 something was found wrong; 2 something could not be read, or the command was used wrongly.
"""

from __future__ import annotations

import argparse
import re
import sys
from collections.abc import Callable, Sequence
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from pipeline.measure.units import STANDARDS

if TYPE_CHECKING:
    from pipeline.measure.lookup import Table
    from pipeline.proof.prove import Proven
    from pipeline.recipe.channel import Channel

CLEAN, FOUND, UNREADABLE = 0, 1, 2

WELCOME = """\
There is no recipe here yet. Level Cup works in a folder of this shape:

  content/channel.yaml                 your channel's name and settings
  content/recipes/SLUG/recipe.yaml     one folder a recipe, with its photos and captions

Start your first recipe with
  levelcup draft --blank "Sunday flatbread"
then open the file that it names, and run
  levelcup check
"""


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command; returns its exit code."""
    args = _parser().parse_args(argv)
    command: Callable[[argparse.Namespace], int] = args.run
    try:
        return command(args)
    except UsageError as wrong:
        print(f"levelcup: error: {wrong}", file=sys.stderr)
        return UNREADABLE
    except BrokenPipeError:  # the reader of our output went away: not our fault, and nothing to say
        sys.stderr.close()
        return CLEAN
    except KeyboardInterrupt:
        print("stopped; nothing was changed", file=sys.stderr)
        return 130


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="levelcup",
        description="One YAML source a recipe in; checked measures, chapter marks, the post and a printable site out.",
        epilog="exit codes: 0 all is well; 1 errors were found; 2 something cannot be read, or was used wrongly",
    )
    parser.add_argument("--folder", type=Path, default=Path(), help="the folder that holds content/ (default: here)")
    parser.set_defaults(run=_hello)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", parser_class=_Parser)

    def add(name: str, run: Callable[[argparse.Namespace], int], words: str) -> argparse.ArgumentParser:
        made = commands.add_parser(name, help=words, description=words)
        made.set_defaults(run=run)
        return made

    p = add("weigh", _weigh, 'the other measure of an amount: levelcup weigh "3 cups bread flour"')
    p.add_argument("words", nargs="+", help="an ingredient line, a pair to compare, or an oven heat")
    p.add_argument("--cup", choices=STANDARDS, help="whose cup and spoon (default: the channel's)")
    p = add("check", _check, "find the numbers that disagree, and what else is missing")
    p.add_argument("paths", nargs="*", type=Path, help="recipe files or folders (default: all under content/)")
    p.add_argument("--format", choices=("text", "line", "json"), default="text", help="how to print the findings")
    p = add("checks", _checks, "what is checked, why, and an example of each")
    p = add("publish", _publish, "check everything, then build the site into site_out/")
    p.add_argument("--out", type=Path, help="where to build (default: site_out/)")
    p = add("chapters", _chapters, "the chapter marks of one recipe's film")
    p.add_argument("recipe", help="a recipe's slug, folder or file")
    p.add_argument("--format", choices=("description", "webvtt", "ffmetadata"), default="description")
    p = add("post", _post, "the whole text to stand under the video")
    p.add_argument("recipe", help="a recipe's slug, folder or file")
    p = add("schema", _schema, "the JSON Schema of recipe.yaml, for your editor")
    p.add_argument("--out", type=Path, help="write it to this file instead of the terminal")
    p = add("draft", _draft, "start a new recipe.yaml")
    p.add_argument("--blank", metavar="TITLE", required=True, help="the new recipe's title")
    return parser


class _Parser(argparse.ArgumentParser):
    """argparse, naming the nearest known word for an unknown one."""

    def error(self, message: str) -> NoReturn:
        self.print_usage(sys.stderr)
        if found := re.search(r"invalid choice: '([^']*)' \(choose from (.*)\)", message):
            known = re.findall(r"[\w-]+", found[2])
            if near := get_close_matches(found[1], known, 1, 0.5):
                message = f"there is no {found[1]!r}; did you mean {near[0]!r}?"
        print(f"levelcup: error: {message}\nhelp: `{self.prog} --help` lists what there is", file=sys.stderr)
        raise SystemExit(UNREADABLE)


def _hello(args: argparse.Namespace) -> int:
    if not (args.folder / "content").is_dir():
        print(WELCOME, end="")
    else:
        _parser().print_help()
    return CLEAN


class UsageError(Exception):
    """The command was used wrongly; the message says how, and what to write instead."""


# What the commands share: the channel and its table, and a recipe by the name that was given.


def _settings(folder: Path) -> tuple[Channel, Table]:
    """The channel's settings and its ingredient table. Raises UsageError with every problem of the two files."""
    from pipeline.measure.lookup import load
    from pipeline.recipe.folder import own_rows
    from pipeline.recipe.problem import SourceError
    from pipeline.recipe.settings import read_channel

    try:
        channel = read_channel(folder / "content" / "channel.yaml")
        rows = own_rows(folder / "content" / "ingredients.yaml")
    except SourceError as error:
        raise UsageError(f"the settings cannot be read\n{error}") from None
    return channel, load().with_rows(rows) if rows else load()


def _paths(given: Sequence[Path], folder: Path) -> list[Path]:
    from pipeline.recipe.folder import recipe_paths
    from pipeline.recipe.problem import SourceError

    if not given and not (folder / "content").is_dir():
        raise UsageError(f"there is no content/ folder in {folder.absolute()}\n\n{WELCOME}".rstrip())
    try:
        return recipe_paths(given or [folder / "content"])
    except SourceError as error:
        raise UsageError("; ".join(f"{p.span.file}: {p.message}" for p in error.problems)) from None


def _recipe_named(folder: Path, name: str) -> Path:
    """The recipe.yaml that a slug, a folder or a file names."""
    given = Path(name)
    if given.is_file():
        return given
    for path in (given / "recipe.yaml", folder / "content" / "recipes" / name / "recipe.yaml"):
        if path.is_file():
            return path
    known = [path.parent.name for path in _paths([], folder)]
    near = get_close_matches(name, known, 1, 0.5)
    hint = f"did you mean {near[0]!r}?" if near else f"there are: {', '.join(known)}"
    raise UsageError(f"there is no recipe {name!r}; {hint}")


def _proven(args: argparse.Namespace) -> tuple[Proven, Channel, Table]:
    from pipeline.proof.prove import prove

    channel, table = _settings(args.folder)
    return prove(_recipe_named(args.folder, args.recipe), channel, table), channel, table


def _complain(proven: Proven) -> None:
    """Prints to stderr what stops a recipe from being used."""
    from pipeline.proof.paint import print_text, wants_colour

    print(print_text([proven.sheet], wants_colour(sys.stderr)), end="", file=sys.stderr)


# The commands.


def _weigh(args: argparse.Namespace) -> int:
    from pipeline.measure.heat import HeatError, read_heat
    from pipeline.proof.paint import wants_colour
    from pipeline.recipe.weigh import weigh
    from pipeline.terminal.answer import heat_answer, weighed_answer

    words, colour = " ".join(args.words), wants_colour(sys.stdout)
    channel, table = _settings(args.folder)
    try:
        heats = read_heat(words)
    except HeatError as error:
        raise UsageError(f"{error}{'; write ' + ' or '.join(error.fixes) if error.fixes else ''}") from None
    if heats:
        text, agrees = heat_answer(heats, colour)
    else:
        text, agrees = weighed_answer(weigh(words, table, args.cup or channel.cup), colour)
    print(text, end="")
    return CLEAN if agrees else FOUND


def _check(args: argparse.Namespace) -> int:
    from pipeline.proof.paint import print_text, wants_colour
    from pipeline.proof.prove import prove_all
    from pipeline.proof.report import exit_code, print_json, print_lines

    paths = _paths(args.paths, args.folder)
    channel, table = _settings(args.folder)
    sheets = [proven.sheet for proven in prove_all(paths, channel, table)]
    if args.format == "json":
        print(print_json(sheets), end="")
    elif args.format == "line":
        print(print_lines(sheets), end="")
    else:
        print(print_text(sheets, wants_colour(sys.stdout)), end="")
    return exit_code(sheets)


def _checks(args: argparse.Namespace) -> int:
    from pipeline.proof.discovery import checks
    from pipeline.proof.page import checks_page

    print(checks_page(checks()), end="")
    return CLEAN


def _publish(args: argparse.Namespace) -> int:
    from pipeline.measure.record import replace
    from pipeline.proof.paint import print_text, wants_colour
    from pipeline.proof.prove import prove_all
    from pipeline.proof.report import exit_code, summary
    from pipeline.site.build import build
    from pipeline.site.errors import SiteError
    from pipeline.terminal.progress import progress

    paths = _paths([], args.folder)
    channel, table = _settings(args.folder)
    proven = []
    with progress() as tell:
        for one in prove_all(paths, channel, table):
            proven.append(one)
            tell("checking", len(proven), len(paths))
    # A draft is allowed to be wrong: it stays out of the site. One that cannot be read may be no draft, so it stops.
    shown = [p for p in proven if p.recipe is None or not p.recipe.draft]
    sheets = [p.sheet for p in shown]
    out = args.out or args.folder / "site_out"
    if code := exit_code(sheets):
        wrong = [replace(s, findings=tuple(f for f in s.findings if f.severity == "error")) for s in sheets]
        print(print_text([s for s in wrong if s.findings], wants_colour(sys.stderr)), file=sys.stderr)
        print(f"nothing was published; {out} is as it was", file=sys.stderr)
        return code
    own = args.folder / "templates"
    try:
        with progress() as tell:
            recipes = [p.recipe for p in shown if p.recipe]
            report = build(recipes, channel, table, out, own if own.is_dir() else None, tell)
    except SiteError as error:
        print(f"{error}\nnothing was published; {out} is as it was", file=sys.stderr)
        return UNREADABLE
    where = _shown(report.out)
    drafts = len(proven) - len(shown)
    left = f", {drafts} draft{'s' if drafts > 1 else ''} left out" if drafts else ""
    print(
        f"published {report.recipes} recipe{'' if report.recipes == 1 else 's'} to {where}{left}: "
        f"{len(report.written)} files written, {report.kept} kept"
    )
    for note in report.notes:
        print(f"note: {note}")
    if any(s.findings for s in sheets):
        print(f"{summary(sheets)}; `levelcup check` shows them")
    print(f"open {where / 'index.html'}")
    return CLEAN


def _shown(path: Path) -> Path:
    """A path as the cook would write it: from here, where it lies below."""
    here = Path.cwd()
    return path.relative_to(here) if path.is_relative_to(here) else path


def _chapters(args: argparse.Namespace) -> int:
    from pipeline.film.chapters import chapter_problems, chapters_of
    from pipeline.film.description import description_lines
    from pipeline.film.ffmetadata import ffmetadata
    from pipeline.film.webvtt_chapters import webvtt_chapters

    proven, channel, _ = _proven(args)
    if proven.recipe is None:
        _complain(proven)
        return UNREADABLE
    recipe, length = proven.recipe, proven.recipe.video.length if proven.recipe.video else None
    marks = chapters_of(recipe, channel.chapters)
    if not marks:
        raise UsageError(f"no step of {recipe.slug!r} has a moment yet; write `at: 1:05` beside a step")
    if args.format == "webvtt":
        print(webvtt_chapters(marks, length), end="")
    elif args.format == "ffmetadata":
        print(ffmetadata(marks, length, recipe.title), end="")
    else:
        print("\n".join(description_lines(marks, length)))
    problems = chapter_problems(recipe, channel.chapters)
    for problem in problems:
        print(f"{recipe.slug}: {problem.message}", file=sys.stderr)
    return FOUND if problems else CLEAN


def _post(args: argparse.Namespace) -> int:
    from pipeline.site.errors import SiteError
    from pipeline.site.post import post_text

    proven, channel, table = _proven(args)
    if proven.recipe is None:
        _complain(proven)
        return UNREADABLE
    own = args.folder / "templates"
    try:
        post = post_text(proven.recipe, channel, table, own if own.is_dir() else None)
    except SiteError as error:
        raise UsageError(str(error)) from None
    errors = [f for f in proven.sheet.findings if f.severity == "error"]
    if errors:
        _complain(proven)
        print("these numbers disagree, so there is no post to paste yet", file=sys.stderr)
        return FOUND
    print(post.text, end="")
    for cut in post.cut:
        print(f"left out to fit: {cut}", file=sys.stderr)
    return CLEAN


def _schema(args: argparse.Namespace) -> int:
    import json

    from pipeline.recipe.schema import recipe_schema

    text = json.dumps(recipe_schema(), indent=2, ensure_ascii=False) + "\n"
    if args.out:
        args.out.write_text(text, encoding="utf-8")
        print(f"wrote {args.out}; name it in recipe.yaml's first line: # yaml-language-server: $schema={args.out}")
    else:
        print(text, end="")
    return CLEAN


def _draft(args: argparse.Namespace) -> int:
    from pipeline.recipe.blank import blank

    path = blank(args.blank, args.folder / "content" / "recipes")
    if path is None:
        raise UsageError(f"there is a recipe of that name already; choose another title than {args.blank!r}")
    print(f"wrote {path}\nnext: fill it in, then run `levelcup check {path}`")
    return CLEAN


if __name__ == "__main__":
    sys.exit(main())
