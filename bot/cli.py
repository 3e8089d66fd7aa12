"""The commands of the program. Heavy parts are loaded by the command that needs them."""

import gc
import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from bot.errors import BadSettings, BotError

if TYPE_CHECKING:
    from core.programme import Programme

app = typer.Typer(
    name="weeknight",
    help="A chat companion for climbers who train at home on weekday evenings.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

key = typer.Typer(help="The keys that seal the database.", no_args_is_help=True)
app.add_typer(key, name="key")

Db = Annotated[
    str | None,
    typer.Option(
        "--db",
        metavar="URL",
        help="sqlite:///FILE or postgresql://...; default: WEEKNIGHT_DATABASE_URL, "
        "else a file in your data folder.",
    ),
]
At = Annotated[
    str | None,
    typer.Option("--at", metavar="ISO", help="The moment, as 2026-12-01T20:30:00+01:00."),
]


_LAST_RESORT_S = 9.5
"""Those who stop programs end them by force after ten seconds. [s]"""


def main() -> None:
    """Run the program; a wrong setting is one line and exit 2."""
    # Loading makes many objects that stay: looking through them for waste takes a sixth of the
    # start. Commands that run on call ``_loaded`` when they have what they need.
    gc.disable()
    with _plain_errors():
        app()


def _loaded() -> None:
    """From here on waste is looked for, but not among what is there already."""
    gc.freeze()
    gc.set_threshold(50_000, 20, 20)
    gc.enable()


@contextmanager
def _plain_errors() -> Iterator[None]:
    try:
        yield
    except BotError as error:
        print(f"weeknight: {error}", file=sys.stderr)  # noqa: T201
        raise SystemExit(2) from None
    except BrokenPipeError:
        # The reader of our output has gone; nobody is left to tell.
        sys.stderr.close()
        raise SystemExit(1) from None


def _say(text: str = "") -> None:
    print(text)  # noqa: T201


def _database(db: str | None) -> str:
    from bot.settings import load_settings

    return db or load_settings().resolved_database_url()


def _programme(file: Path | None = None) -> "Programme | None":
    """What the file says, else the file that the settings name; None for the default one."""
    from bot.programme_file import load_programme
    from bot.settings import PROGRAMME, load_settings

    if file is not None:
        return load_programme(file, named="--programme")
    file = load_settings().programme
    return None if file is None else load_programme(file, named=PROGRAMME)


def _moment(at: str | None, zone: str | None = None) -> datetime:
    from zoneinfo import ZoneInfo

    from bot.clock import SystemClock

    if at is None:
        return SystemClock().now()
    try:
        moment = datetime.fromisoformat(at)
    except ValueError:
        raise BadSettings(f"--at {at!r} is no ISO moment, as 2026-12-01T20:30:00+01:00") from None
    if moment.tzinfo is None:
        moment = moment.replace(tzinfo=ZoneInfo(zone or "UTC"))
    return moment.astimezone(UTC)


@app.command()
def chat(db: Db = None) -> None:
    """Talk to the companion here, in the terminal."""
    from bot.adapters.terminal import Terminal
    from bot.settings import load_settings
    from bot.wiring import open_house, ticking

    every_s = load_settings().tick_s
    with open_house(_database(db), programme=_programme()) as house:
        _loaded()
        terminal = Terminal(house.service, house.clock, house.deliver("terminal"))
        terminal.run(lambda act: ticking(house)(act, every_s))


@app.command()
def serve(db: Db = None) -> None:
    """Serve a Telegram bot until stopped. The token comes from WEEKNIGHT_TOKEN or a file."""
    import asyncio

    from bot.logs import begin_logs
    from bot.serving import serve_on
    from bot.settings import load_settings

    settings = load_settings()
    settings.resolved_token()
    begin_logs()
    serving = serve_on(
        _database(db), settings, programme=_programme(), loaded=_loaded, stopping=_end_in_time
    )
    asyncio.run(serving)


def _end_in_time() -> None:
    """End the process if stopping hangs: what is under way is safe in the database."""
    import os
    import threading

    last_resort = threading.Timer(_LAST_RESORT_S, os._exit, (1,))
    last_resort.daemon = True
    last_resort.start()


@app.command()
def parse(
    units: Annotated[str, typer.Option(help="What a bare load means: kg or lb.")] = "kg",
    at: At = None,
    tz: Annotated[str, typer.Option(help="Time zone for relative dates.")] = "UTC",
) -> None:
    """Read replies from standard input, one a line; print what each means, one JSON a line."""
    from bot.zones import is_zone
    from core.replies import read
    from core.replies.act import ReplyContext
    from core.replies.contract import reading_as_json

    if units not in ("kg", "lb"):
        raise BadSettings(f"--units {units!r}: use kg or lb")
    if not is_zone(tz):
        raise BadSettings(f"--tz {tz!r}: use a name of the tz database, as Europe/Oslo")
    context = ReplyContext(units="lb" if units == "lb" else "kg", at=_moment(at, tz), zone=tz)
    sys.stdin.reconfigure(encoding="utf-8", errors="replace", newline="\n")  # type: ignore[union-attr]
    sys.stdout.reconfigure(encoding="utf-8", errors="replace")  # type: ignore[union-attr]
    _loaded()
    for line in sys.stdin:
        text = line.removesuffix("\n").removesuffix("\r").replace("\\n", "\n")
        _say(json.dumps(reading_as_json(read(text, context)), ensure_ascii=False))


@app.command()
def replay(
    file: Annotated[Path, typer.Argument(help="A scenario file.")],
    check: Annotated[
        bool, typer.Option("--check", help="Compare with the file; exit 1 with a diff.")
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="One JSON object a message.")] = False,
    db: Annotated[
        str | None, typer.Option("--db", metavar="URL", help="Default: a fresh one in memory.")
    ] = None,
    programme: Annotated[
        Path | None, typer.Option("--programme", metavar="FILE", help="Default: the built-in one.")
    ] = None,
) -> None:
    """Play a dialogue from a file on a simulated clock."""
    from bot.adapters.replay import Replay
    from bot.adapters.scenario import head_text, parse_scenario
    from bot.clock import HandClock
    from bot.wiring import IN_MEMORY, open_house

    try:
        scenario = parse_scenario(file.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError) as error:
        raise BadSettings(f"{file}: {error}") from None
    clock = HandClock(scenario.begins)
    chosen = _programme(programme) if programme is not None else None
    with open_house(db or IN_MEMORY, clock=clock, programme=chosen) as house:
        _loaded()
        events = Replay(house.service, clock, house.deliver("terminal")).play(scenario)
        if check:
            raise SystemExit(_differs([e.as_line() for e in events], scenario))
        if not as_json:
            _say(head_text(scenario) + "\n")
        for event in events:
            _say(json.dumps(event.as_json(), ensure_ascii=False) if as_json else event.as_line())


def _differs(lines: list[str], scenario: Any) -> int:
    import difflib

    from bot.adapters.scenario import expected_dialogue

    wanted = "\n".join(expected_dialogue(scenario.lines)).splitlines()
    got = "\n".join(lines).splitlines()
    diff = list(difflib.unified_diff(wanted, got, "file", "replayed", lineterm="", n=2))
    for line in diff:
        _say(line)
    return 1 if diff else 0


@app.command("next")
def next_(
    exercise: Annotated[
        str | None, typer.Argument(help="An exercise, by any of its names.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="For machines.")] = False,
    at: At = None,
    db: Db = None,
) -> None:
    """Say what to load next."""
    from bot.exercise_name import slug_of
    from bot.wiring import open_house
    from bot.wording.contract import target_as_json
    from bot.wording.exercise import target_lines, title
    from core.calendar import training_day
    from core.catalogue import get_exercise
    from core.planning import evening, standing_targets

    slug = slug_of(exercise) if exercise is not None else None
    with open_house(_database(db), programme=_programme()) as house:
        athlete = house.service.athlete(None)
        today = training_day(_moment(at, athlete.zone), athlete.zone or "UTC")
        tonight = evening(athlete, today=today)
        slugs = [slug] if slug else [i.exercise.slug for i in (*tonight.items, *tonight.stopped)]
        groups = [standing_targets(athlete, s, today=today) for s in slugs]
    if as_json:
        found = [target_as_json(t, athlete.units) for targets in groups for t in targets]
        _say(json.dumps(found, ensure_ascii=False))
        return
    for targets in groups:
        _say(title(get_exercise(targets[0].exercise), targets[0].edge_mm))
        for line in target_lines(targets, athlete.units):
            _say(f"  {line}")


@app.command("programme")
def programme_(file: Annotated[Path, typer.Argument(help="A programme file.")]) -> None:
    """Check a programme file: what it says, or every mistake with its line."""
    from bot.programme_file import read_programme
    from bot.wording.programme import problem_lines, summary_lines
    from core.programme import Programme

    found = read_programme(file, named=str(file))
    if isinstance(found, Programme):
        _say("\n".join(summary_lines(found)))
        return
    _say("\n".join(problem_lines(found)))
    raise SystemExit(1)


@app.command("migrate")
def migrate_(db: Db = None) -> None:
    """Bring the database up to date."""
    from bot.wiring import migrate_url

    done = migrate_url(_database(db))
    _say(f"applied {', '.join(done)}" if done else "up to date")


@app.command()
def backup(file: Annotated[Path, typer.Argument(help="A new file.")], db: Db = None) -> None:
    """Copy the database into a file, while it is in use. The keys are not in it."""
    from bot.upkeep import backup as make_backup

    _say("\n".join(make_backup(_database(db), file)))


@app.command()
def restore(
    file: Annotated[Path, typer.Argument(help="A backup.")],
    replace: Annotated[
        bool, typer.Option("--replace", help="Put a database that is there already aside.")
    ] = False,
    db: Db = None,
) -> None:
    """Make a backup the database, once it is sure that it can be used."""
    from bot.upkeep import restore as make_of_backup

    _say("\n".join(make_of_backup(_database(db), file, replace=replace)))


@key.command("new")
def key_new() -> None:
    """Print a new key. It is kept nowhere."""
    from bot.seal import new_key

    _say(new_key().text)


@key.command("show")
def key_show(db: Db = None) -> None:
    """Say which keys there are, and how much is sealed with each. Never the keys themselves."""
    from bot.upkeep import key_lines

    _say("\n".join(key_lines(_database(db))))


@key.command("rotate")
def key_rotate(db: Db = None) -> None:
    """Seal everything with a new key. May be stopped and run again."""
    from bot.upkeep import rotate_key

    _say("\n".join(rotate_key(_database(db))))


@app.command()
def doctor(db: Db = None) -> None:
    """Check settings, database, zone data and token, and say what to do."""
    from bot.doctor import examine

    findings = examine(_database(db))
    for finding in findings:
        _say(f"{'ok  ' if finding.is_well else 'look'} {finding.about}: {finding.text}")
    if not all(f.is_well for f in findings):
        raise SystemExit(1)


if __name__ == "__main__":
    main()
