"""Times: how they are read, rounded and written."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter

from pipeline.measure.duration import iso_duration, read_duration, say_duration, say_time
from pipeline.measure.heat import Duration

CASES: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "times.yaml").read_text(encoding="utf-8"))
ISO = TypeAdapter(timedelta)  # pydantic reads ISO 8601 durations: the outside witness


def seconds(iso: str) -> int:
    return round(ISO.validate_python(iso).total_seconds())


def ends(stated: str) -> tuple[int, int]:
    low, _, high = stated.partition("/")
    return seconds(low), seconds(high or low)


@pytest.mark.parametrize(("text", "stated"), [*CASES["reads"].items(), *CASES["about"].items()])
def test_read(text: str, stated: list[str]) -> None:
    found = read_duration(text)
    assert found is not None
    assert [(t.low, t.high) for t in found] == [ends(s) for s in stated]
    assert all(t.about == (text in CASES["about"]) for t in found)
    assert all(t.text in text for t in found), "each statement keeps its own words"


@pytest.mark.parametrize(("text", "near"), CASES["near"].items())
def test_rounding(text: str, near: int) -> None:
    found = read_duration(text)
    assert found is not None and found[0].near == near


@pytest.mark.parametrize("text", CASES["not_a_time"])
def test_not_a_time(text: object) -> None:
    assert read_duration(str(text)) is None


@given(st.text(alphabet="0123456789 ½¼/:-–.,()hminsPTHMSadoutrveqk", max_size=30))
def test_any_text_is_read_or_not(text: str) -> None:
    found = read_duration(text)
    assert found is None or all(0 <= t.low <= t.high and t.near >= 0 for t in found)


def test_long_texts_are_not_looked_at() -> None:
    assert read_duration("9" * 10_000 + " min") is None
    assert read_duration("1 h or " * 1000) is None


@given(st.integers(min_value=0, max_value=10**7))
def test_written_times_read_back(total: int) -> None:
    assert seconds(iso_duration(total)) == total
    for text in (iso_duration(total), say_duration(total)):
        found = read_duration(text)
        assert found is not None and (found[0].low, found[0].high) == (total, total), text


@pytest.mark.parametrize(
    ("total", "said", "iso"),
    [
        (0, "0 min", "PT0S"),
        (45, "45 s", "PT45S"),
        (150, "2 min 30 s", "PT2M30S"),
        (5400, "1 h 30 min", "PT1H30M"),
        (36 * 3600, "36 h", "P1DT12H"),
        (48 * 3600, "2 days", "P2D"),
    ],
)
def test_write(total: int, said: str, iso: str) -> None:
    assert say_duration(total) == said
    assert iso_duration(total) == iso


def test_write_ranges() -> None:
    assert say_time(Duration(7200, 10800, 0)) == "2–3 h"
    assert say_time(Duration(2700, 3600, 0)) == "45 min – 1 h"
    assert say_time(Duration(3600, 3600, 0, about=True)) == "about 1 h"


def test_no_time_is_negative() -> None:
    for write in (say_duration, iso_duration):
        with pytest.raises(ValueError, match="negative"):
            write(-1)
