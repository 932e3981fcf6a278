"""The commands. Each reads its arguments, calls one function of one room, prints, and returns an exit code.

Exit codes: 0 all is well; 1 something was found wrong; 2 something could not be read, or the command was used wrongly.
"""

from __future__ import annotations

import argparse
import os
import re
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, NoReturn

from pipeline.measure.units import STANDARDS
from pipeline.terminal.desk import (
    CLEAN,
    FOUND,
    UNREADABLE,
    WELCOME,
    UsageError,
    complain,
    proven,
    recipe_files,
    settings,
)


def run() -> NoReturn:
    """The command as a shell starts it. A tenth of a check went into looking for garbage that a process so short does
    not leave, and into taking it apart at its end; nothing here waits for that end."""
    import gc

    gc.set_threshold(100_000, 50, 50)
    code = main()
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError):  # its reader went away, or it is closed
            stream.flush()
    os._exit(code)


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
        # behind the command, too; left out there, it must not undo what stood before
        made.add_argument("--folder", type=Path, default=argparse.SUPPRESS, help=argparse.SUPPRESS)
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
    p = add("preview", _preview, "the site as it will be, on this machine only, reloaded on every save")
    p.add_argument("--port", type=int, default=8437, help="where to serve it (default: 8437; 0: any free port)")
    p = add("chapters", _chapters, "the chapter marks of one recipe's film")
    p.add_argument("recipe", help="a recipe's slug, folder or file")
    p.add_argument("--format", choices=("description", "webvtt", "ffmetadata"), default="description")
    p.add_argument("--anew", action="store_true", help="hear all moments anew, also those in the source")
    p.add_argument("--review", action="store_true", help="ask about the doubtful ones, and write what you confirm")
    p.add_argument("--write", action="store_true", help="put the moments into the source as `at:`")
    p.add_argument("--count", type=int, metavar="N", help="as many chapters as this, by merging")
    p.add_argument(
        "--retime", nargs=2, type=Path, metavar=("OLD", "NEW"), help="the film was cut: captions before, after"
    )
    p.add_argument("--shift", metavar="TIME", help="move all moments: 0:12, or -0:05 for earlier")
    p._negative_number_matcher = _EARLIER  # argparse knows -5 for a number, and takes -0:05 for an option
    p = add("post", _post, "the whole text to stand under the video")
    p.add_argument("recipe", help="a recipe's slug, folder or file")
    p = add("schema", _schema, "the JSON Schema of recipe.yaml, for your editor")
    p.add_argument("--out", type=Path, help="write it to this file instead of the terminal")
    p = add("draft", _draft, "a first recipe.yaml: from captions, from a saved page of yours, or blank")
    p.add_argument("source", nargs="?", type=Path, help="captions (.vtt, .srt, timed text) or a saved page (.html)")
    p.add_argument("--blank", metavar="TITLE", help="start from nothing, with this title")
    p.add_argument("--out", type=Path, help="where to write it (default: content/recipes/SLUG/recipe.yaml)")
    p.add_argument("--which", type=int, default=1, metavar="N", help="of several recipes on a page, the N-th")
    return parser


_EARLIER = re.compile(r"-\d[\w:.,]*$")


def _columns() -> int:
    """How wide the terminal is. argparse would ask shutil, whose import every command would wait for."""
    try:
        return int(os.environ.get("COLUMNS", "")) or 80
    except ValueError:
        pass
    try:
        return os.get_terminal_size().columns
    except OSError:  # not a terminal
        return 80


class _Parser(argparse.ArgumentParser):
    """argparse, naming the nearest known word for an unknown one."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(formatter_class=lambda prog: argparse.HelpFormatter(prog, width=_columns() - 2), **kwargs)

    def error(self, message: str) -> NoReturn:
        self.print_usage(sys.stderr)
        if found := re.search(r"invalid choice: '([^']*)' \(choose from (.*)\)", message):
            from difflib import get_close_matches

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


def _weigh(args: argparse.Namespace) -> int:
    from pipeline.measure.heat import HeatError
    from pipeline.measure.numbers import no_number
    from pipeline.proof.paint import wants_colour
    from pipeline.recipe.weigh import weigh_all
    from pipeline.terminal.answer import heat_answer, time_answer, weighed_answer
    from pipeline.terminal.question import heat_asked, times_asked

    words, colour = " ".join(args.words), wants_colour(sys.stdout)
    channel, table = settings(args.folder)
    if nothing := no_number(words):
        raise UsageError(
            f"`{words[slice(*nothing)]}` is no number: nothing is cut into 0 parts; write a fraction such as 1/2"
        )
    try:
        asked = heat_asked(words)
    except HeatError as error:
        raise UsageError(f"{error}{'; write ' + ' or '.join(error.fixes) if error.fixes else ''}") from None
    if asked:
        text, agrees = heat_answer(asked.heats, asked.food, colour)
    elif times := times_asked(words):
        text, agrees = time_answer(times, colour)
    else:
        answers = [weighed_answer(one, colour) for one in weigh_all(words, table, args.cup or channel.cup)]
        text, agrees = "\n".join(text for text, _ in answers), all(well for _, well in answers)
    print(text, end="")
    return CLEAN if agrees else FOUND


def _check(args: argparse.Namespace) -> int:
    from pipeline.proof.paint import print_text, wants_colour
    from pipeline.proof.prove import sheets_of
    from pipeline.proof.report import exit_code, print_json, print_lines

    paths = recipe_files(args.paths, args.folder)
    channel, table = settings(args.folder)
    sheets = list(sheets_of(paths, channel, table))
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
    from pipeline.terminal.publishing import publish

    return publish(args.folder, args.out)


def _preview(args: argparse.Namespace) -> int:
    from pipeline.preview.serve import PreviewError, preview

    try:
        preview(args.folder, args.port)
    except PreviewError as error:
        raise UsageError(str(error)) from None
    return CLEAN


def _chapters(args: argparse.Namespace) -> int:
    from pipeline.terminal.chapters import Wishes, chapters

    retime = (args.retime[0], args.retime[1]) if args.retime else None
    wishes = Wishes(args.format, args.anew, args.review, args.write, args.count, retime, args.shift)
    return chapters(args.folder, args.recipe, wishes)


def _post(args: argparse.Namespace) -> int:
    from pipeline.site.errors import SiteError
    from pipeline.site.post import post_text

    found, channel, table = proven(args.folder, args.recipe)
    if found.recipe is None:
        complain(found)
        return UNREADABLE
    own = args.folder / "templates"
    try:
        post = post_text(found.recipe, channel, table, own if own.is_dir() else None)
    except SiteError as error:
        raise UsageError(str(error)) from None
    errors = [f for f in found.sheet.findings if f.severity == "error"]
    if errors:
        complain(found)
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
    if bool(args.blank) == bool(args.source):
        raise UsageError('name a captions file or a saved page, or write `levelcup draft --blank "Title"`')
    if args.source:
        from pipeline.terminal.drafting import draft

        return draft(args.folder, args.source, args.out, args.which)
    from pipeline.recipe.blank import blank

    path = blank(args.blank, args.folder / "content" / "recipes")
    if path is None:
        raise UsageError(f"there is a recipe of that name already; choose another title than {args.blank!r}")
    print(f"wrote {path}\nnext: fill it in, then run `levelcup check {path}`")
    return CLEAN


if __name__ == "__main__":
    run()
