"""What the preview puts into a page: a strip that says what it is, the findings, and the script that reloads it.

Findings come as data; the script sets each beside the line that it concerns. The strip lists them all, so that they
can be read without script, too.
"""

from __future__ import annotations

from html import escape
from typing import Any

from pipeline.preview.larder import Book
from pipeline.proof.finding import Finding
from pipeline.proof.prove import Proven
from pipeline.recipe.model import Recipe
from pipeline.recipe.span import Span
from pipeline.site.structured import script_json

HOME = "/-/"  # the preview's own files; no page of a site is called so
_POLICY = "default-src 'none'; "
_SEVERITY = {"error": "Error", "warning": "Warning", "note": "Note"}


def place_of(finding: Finding, recipe: Recipe | None) -> dict[str, int]:
    """Where on the page a finding belongs: {"part", "row"} in the list, {"step"} in the method, or {} for the head."""
    if recipe is None:
        return {}

    def within(span: Span) -> bool:
        return finding.span.file == span.file and span.start <= finding.span.start <= span.end

    for part, component in enumerate(recipe.components):
        for row, line in enumerate(component.ingredients):
            if within(line.span):
                return {"part": part, "row": row}
    for number, step in enumerate(recipe.steps, 1):
        if within(step.span):
            return {"step": number}
    return {}


def told(finding: Finding, proven: Proven) -> dict[str, Any]:
    """A finding as the script shows it."""
    return {
        "severity": finding.severity,
        "label": _SEVERITY[finding.severity],
        "check": finding.check,
        "line": finding.span.line,
        "column": finding.span.column,
        "message": finding.message,
        "why": finding.why,
        "help": [fix.title for fix in finding.fixes],
        "place": place_of(finding, proven.recipe),
    }


def _item(finding: Finding) -> str:
    help_ = " or ".join(fix.title for fix in finding.fixes)
    return (
        f'<li class="desk-{finding.severity}"><b>{_SEVERITY[finding.severity]}</b> '
        f"{escape(finding.message)} <small>line {finding.span.line}, {escape(finding.check)}"
        f"{f' · {escape(help_)}' if help_ else ''}</small></li>"
    )


def _strip(book: Book, slug: str, version: int) -> str:
    proven = book.proofs.get(slug)
    findings = proven.sheet.findings if proven else ()
    errors = sum(f.severity == "error" for f in findings)
    words = ["Preview"]
    if slug in book.drafts:
        words.append("a draft: it stays out when you publish")
    if proven is not None:
        words.append(f"{len(findings)} finding{'' if len(findings) == 1 else 's'}" if findings else "nothing found")
    if errors:
        words.append("publishing would stop here")
    unread = proven is not None and proven.recipe is None  # then there is no line on the page to set them beside
    parts = [f'<p class="desk-head">{escape(" · ".join(words))}</p>']
    if proven is not None:
        parts.append(f"<p><small>{escape(proven.sheet.file)}</small></p>")
    if book.problems:
        wrong = (f'<li class="desk-error">{escape(problem)}</li>' for problem in book.problems)
        parts.append(f"<ul>{''.join(wrong)}</ul>")
    if findings:
        parts.append(
            f"<details{' open' if unread else ''}><summary>All of them</summary>"
            f"<ul>{''.join(map(_item, findings))}</ul></details>"
        )
    data = script_json(
        {
            "version": version,
            "findings": [told(f, proven) for f in findings] if proven else [],
            "drafts": sorted(book.drafts),
            "wrong": sorted(s for s, p in book.proofs.items() if any(f.severity == "error" for f in p.sheet.findings)),
        }
    )
    kind = " desk-draft" if slug in book.drafts else ""
    return (
        f'<aside class="desk{kind}" aria-label="Preview">{"".join(parts)}</aside>'
        f'<script type="application/json" id="desk-data">{data}</script>'
    )


def slug_of(path: str) -> str:
    """The slug of the recipe that a page shows, or ""."""
    folder, _, name = path.partition("/")
    return name.removesuffix(".html") if folder in ("recipes", "print") and name.endswith(".html") else ""


def with_notes(html: str, path: str, book: Book, version: int) -> str:
    """The page with its strip, its findings as data, and the preview's own style and script."""
    strip = _strip(book, slug_of(path), version)
    head = f'<link rel="stylesheet" href="{HOME}desk.css"><script src="{HOME}desk.js" defer></script>'
    html = html.replace(_POLICY, f"{_POLICY}connect-src 'self'; ", 1)
    # A page for paper has no script of its own; the preview's reload is one.
    if "script-src" not in html:
        html = html.replace(_POLICY, f"{_POLICY}script-src 'self'; ", 1)
    html = html.replace("</head>", f"{head}</head>", 1)
    at = html.find("<body")
    end = html.find(">", at) + 1 if at >= 0 else 0
    return f"{html[:end]}{strip}{html[end:]}"


def bare_page(title: str, lines: tuple[str, ...], book: Book, path: str, version: int) -> str:
    """A page of the preview's own, where the site has none to show: what is wrong, in plain words."""
    said = "".join(f"<pre>{escape(line)}</pre>" for line in lines)
    html = (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<meta http-equiv=\"Content-Security-Policy\" content=\"{_POLICY}style-src 'self'; script-src 'self'\">"
        f"<title>{escape(title)}</title></head><body><main><h1>{escape(title)}</h1>{said}</main></body></html>"
    )
    return with_notes(html, path, book, version)
