"""The command line: parse, call, print. Heavy libraries load in the command that needs them."""

import io
import json
import os
import signal
import sys
import warnings
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from shutil import get_terminal_size
from typing import TYPE_CHECKING, Annotated, Literal, NoReturn

import typer

from planner import __version__
from planner.errors import HeadfallError, OutputError

if TYPE_CHECKING:
    from planner.output.water.row import Group
    from planner.record.value import Plan

PLANNED, STOPPED, UNUSABLE = 0, 1, 2
ALTERNATIVES = 3  # routes looked for where other routes are asked for

Role = Literal["supply", "drive", "delivery", "main", "distribution", "waste", "overflow"]
Units = Literal["metric", "us"]

app = typer.Typer(
    add_completion=False,
    invoke_without_command=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Plan rural water lines by gravity and hydraulic ram on an elevation model.",
)

Out = Annotated[Path | None, typer.Option("--out", help="Folder for the results.")]
Quiet = Annotated[bool, typer.Option("--quiet", help="Say nothing but errors.")]


def main() -> None:
    """Run the command line."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="backslashreplace")  # a name may hold what it can't show
    with _stoppable(), warnings.catch_warnings():
        if not sys.warnoptions:
            warnings.simplefilter("ignore")  # what a user has to know is a finding
        app()


@app.callback()
def _headfall(
    context: typer.Context,
    version: Annotated[
        bool, typer.Option("--version", help="Show the version and leave.", is_eager=True)
    ] = False,
) -> None:
    if version:
        print(f"headfall {__version__}")
        raise typer.Exit
    if context.invoked_subcommand is None:
        _open(None)


@app.command("open")
def open_page(
    path: Annotated[
        Path | None,
        typer.Argument(metavar="SITE.toml|DEM", help="A site file, or an elevation file."),
    ] = None,
    port: Annotated[
        int | None, typer.Option(metavar="N", help="Port to listen at; a free one if left out.")
    ] = None,
    host: Annotated[
        str, typer.Option(metavar="ADDRESS", help="Address to listen at: this machine's own.")
    ] = "127.0.0.1",
    no_browser: Annotated[
        bool, typer.Option("--no-browser", help="Only print the address.")
    ] = False,
) -> None:
    """Open the page: sketch on the map, see the plan answer; prints its address."""
    _open(path, port=port, host=host, browser=not no_browser)


def _open(
    path: Path | None,
    *,
    port: int | None = None,
    host: str = "127.0.0.1",
    browser: bool = True,
) -> None:
    with _told():
        from planner.page.serve import serve

        serve(path, port=port, browser=browser, host=host)


@app.command()
def demo(out: Out = None, quiet: Quiet = False) -> None:
    """Make the demo site and plan it."""
    with _told():
        from planner.demo.copy import demo_site
        from planner.output.free import free_for_plan

        folder = out or Path("headfall-demo")
        free_for_plan(folder, folder / "site")
        with demo_site(folder / "site") as site:
            status = _plan(site, folder, quiet)
    raise typer.Exit(status)


@app.command()
def plan(
    site: Annotated[Path, typer.Argument(metavar="SITE.toml", help="The site file.")],
    out: Out = None,
    alternatives: Annotated[
        bool, typer.Option("--alternatives", help="Look for three other routes for each line.")
    ] = False,
    quiet: Quiet = False,
) -> None:
    """Plan a site: routes, profiles, water, findings, a map and sheets."""
    with _told():
        count = ALTERNATIVES if alternatives else 0
        status = _plan(site, out or site.parent / "plan", quiet, alternatives=count)
    raise typer.Exit(status)


@app.command()
def profile(
    dem: Annotated[Path, typer.Argument(metavar="DEM", help="An elevation file.")],
    line: Annotated[
        Path, typer.Argument(metavar="LINE", help="A line as GeoJSON, GPX track or KML.")
    ],
    out: Out = None,
    role: Annotated[Role, typer.Option(help="What the line is.")] = "main",
    units: Annotated[Units, typer.Option(help="Units shown.")] = "metric",
    crs: Annotated[
        str | None, typer.Option(help="Coordinate system of an elevation file without one.")
    ] = None,
    quiet: Quiet = False,
) -> None:
    """Profile a line drawn by hand or walked with a GPS, and find its high points."""
    with _told():
        with _progress(quiet) as say:
            from planner.chain.drawn import read_drawn
            from planner.output.free import free_for_line
            from planner.output.line_folder import write_line_folder
            from planner.output.summary import line_summary

            folder = free_for_line(out or line.parent / f"{line.stem}-profile")
            say("laying the line on the ground (some seconds more on the first run)")
            terrain, found = read_drawn(dem, line, role=role, crs=crs)
            say("drawing the sheet")
            write_line_folder(found, terrain, folder, title=line.stem, units=units)
        if not quiet:
            _print([*line_summary(found, units), "", f"profile.json and profile.svg: {folder}"])


@app.command()
def water(
    site: Annotated[Path, typer.Argument(metavar="SITE.toml", help="The site file.")],
) -> None:
    """Print the water figures of a site, each with the source it hangs on; nothing is written."""
    with _told():
        with _progress(quiet=False) as say:
            from planner.output.water_table import water_rows
            from planner.plan import make_plan
            from planner.site.read import read_site

            made = make_plan(read_site(site), say=say)
        _print(_table(water_rows(made)))
    raise typer.Exit(_status(made))


@app.command()
def schema() -> None:
    """Print the JSON schema of the site file and of plan.json."""
    with _told():
        from planner.record.schema import plan_schema
        from planner.site.schema import site_schema

        _print([json.dumps({"site": site_schema(), "plan": plan_schema()}, indent=1)])


def _plan(site: Path, folder: Path, quiet: bool, *, alternatives: int = 0) -> int:
    with _progress(quiet) as say:
        from planner.output.folder import write_plan_folder
        from planner.output.free import free_for_plan
        from planner.output.summary import summary
        from planner.plan import make_plan
        from planner.site.read import read_site

        read = read_site(site)
        folder = free_for_plan(folder, read.folder, read.files)
        if read.rates.prices is not None:  # a slip in it is told before the work
            from planner.output.materials.prices import read_prices

            read_prices(read.rates.prices, read.rates.currency)
        made = make_plan(read, say=say, alternatives=alternatives)
        text = summary(made, folder, get_terminal_size().columns)
        say("drawing the map and the sheets")
        write_plan_folder(made, folder)
    if not quiet:
        _print(text)
    return _status(made)


def _status(made: "Plan") -> int:
    stops = any(finding.level == "stop" for finding in made.findings)
    return STOPPED if stops else PLANNED


def _table(groups: "tuple[Group, ...]") -> list[str]:
    """The water figures, on a terminal as its width has room for, else as plain aligned text."""
    if not sys.stdout.isatty():
        from planner.output.water_table import water_text

        return water_text(groups)
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    from planner.output.water_table import glued

    console = Console(markup=False, highlight=False)
    with console.capture() as shown:
        for group in groups:
            table = Table(box=None, show_header=False, title_justify="left", pad_edge=False)
            table.title = Text(group.title, style="bold")
            table.add_column(ratio=4)
            table.add_column(ratio=4, style="bold")
            table.add_column(ratio=3, style="dim")
            table.expand = True
            for row in group.rows:
                table.add_row(*map(Text, (row.label, glued(row.figure), row.source)))
            console.print(table, "")
    return shown.get().rstrip("\n").splitlines()


def _print(lines: Iterable[str]) -> None:
    """Lines of a result to the output stream; a reader who has had enough is no failure."""
    try:
        print("\n".join(lines), flush=True)
    except OSError as error:
        # Nothing more may go there, or the interpreter complains when it flushes at its end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if not isinstance(error, BrokenPipeError):
            msg = f"the result can't be printed: {error.strerror}"
            raise OutputError(msg) from error


@contextmanager
def _progress(quiet: bool) -> Iterator[Callable[[str], None]]:
    """Says on a terminal's error stream what is being done; elsewhere nothing."""
    if quiet or sys.stderr is None or not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console

    with Console(stderr=True, markup=False).status("starting …") as status:
        yield lambda words: status.update(f"{words} …")


@contextmanager
def _stoppable() -> Iterator[None]:
    """Told to end, or the terminal closed: as if interrupted by hand, so that all is cleared up."""
    names = [name for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name)]
    numbers = [getattr(signal, name) for name in names]
    before = {n: signal.getsignal(n) for n in numbers if signal.getsignal(n) == signal.SIG_DFL}
    for number in before:
        signal.signal(number, _interrupt)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def _interrupt(*_: object) -> NoReturn:
    raise KeyboardInterrupt


@contextmanager
def _told() -> Iterator[None]:
    """Every failure as one message and status 2; set HEADFALL_DEBUG to see where it rose."""
    try:
        yield
    except HeadfallError as error:
        _leave(str(error))
    except KeyboardInterrupt:
        _leave("interrupted; nothing was written")
    except MemoryError:
        _leave("the site needs more memory than there is; use a smaller area or coarser data")
    except BrokenPipeError:
        raise
    except Exception as error:
        if os.environ.get("HEADFALL_DEBUG"):
            raise
        _leave(
            f"a fault of the program itself ({type(error).__name__}: {error}), nothing was "
            "written; please report it with the site file; HEADFALL_DEBUG=1 shows where it rose"
        )


def _leave(message: str) -> NoReturn:
    plain = "".join(letter if letter.isprintable() else " " for letter in message)
    print(f"headfall: {' '.join(plain.split())}", file=sys.stderr)
    raise typer.Exit(UNUSABLE)
