"""Scenario files: what is understood, and which line is named when it is not."""

import pytest

from bot.adapters.scenario import BadScenario, expected_dialogue, parse_scenario

GOOD = """\
# A comment.
zone: Europe/Oslo
from: 2026-12-01 18:00
until: 2026-12-01 23:00

2026-12-01 18:00 > crimp 4x22kg ok
2026-12-01 18:00 < one
                   two
2026-12-01 18:05 >> undo            # presses
"""


def test_parse_scenario_reads_head_lines_and_continuations() -> None:
    scenario = parse_scenario(GOOD)
    assert scenario.zone == "Europe/Oslo"
    assert scenario.ends is not None
    assert [line.who for line in scenario.lines] == ["types", "says", "presses"]
    assert scenario.lines[1].text == "one\ntwo"
    assert scenario.lines[2].text == "undo"
    assert scenario.lines[0].at.isoformat() == "2026-12-01T18:00:00+01:00"


def test_expected_dialogue_gives_the_lines_back() -> None:
    lines = "\n".join(expected_dialogue(parse_scenario(GOOD).lines)).splitlines()
    assert lines == [
        "2026-12-01 18:00 > crimp 4x22kg ok",
        "2026-12-01 18:00 < one",
        "                   two",
        "2026-12-01 18:05 >> undo",
    ]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("from: 2026-12-01 18:00\n", 1),
        ("zone: Europe/Atlantis\n", 1),
        ("zone: Europe/Oslo\nfrom: yesterday\n", 2),
        ("zone: Europe/Oslo\nfrom: 2026-12-01 18:00\n\nhello\n", 4),
        ("zone: Europe/Oslo\nfrom: 2026-12-01 18:00\n2026-13-01 18:00 > ok\n", 3),
        (
            "zone: Europe/Oslo\nfrom: 2026-12-01 18:00\n"
            "2026-12-02 18:00 > ok\n2026-12-01 19:00 > ok\n",
            4,
        ),
        ("zone: Europe/Oslo\nfrom: 2026-12-01 18:00\n2026-11-30 18:00 > ok\n", 3),
    ],
)
def test_parse_scenario_names_the_line_it_cannot_read(text: str, line: int) -> None:
    with pytest.raises(BadScenario, match=f"^line {line}: "):
        parse_scenario(text)
