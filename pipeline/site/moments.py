"""Moments of the film: how they are shown, and the address that plays from one."""

from __future__ import annotations

from urllib.parse import urlsplit


def clock(ms: int) -> str:
    """A film's moment as shown: ``m:ss``, with hours from the first hour on. Whole seconds, rounded down."""
    seconds = ms // 1000
    hours, rest = divmod(seconds, 3600)
    minutes, second = divmod(rest, 60)
    return f"{hours}:{minutes:02}:{second:02}" if hours else f"{minutes}:{second:02}"


def at_second(address: str, second: int) -> str:
    """The address that plays from that second: ``t=65s`` in its query; a fragment for a bare media file."""
    if urlsplit(address).path.lower().endswith((".mp4", ".webm", ".m4v", ".mov", ".ogv")):
        return f"{address.partition('#')[0]}#t={second}"
    base, hash_, fragment = address.partition("#")
    return f"{base}{'&' if '?' in base else '?'}t={second}s{hash_}{fragment}"
