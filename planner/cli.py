"""The command line: parse, call, print. Heavy libraries load in the command that needs them."""

import json
import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Annotated, Literal

import typer

from planner import __version__
from planner.errors import HeadfallError

PLANNED, STOPPED, UNUSABLE = 0, 1, 2

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
    elif context.invoked_subcommand is None:
        print(context.get_help())


@app.command()
def demo(out: Out = None, quiet: Quiet = False) -> None:
    """Make the demo site and plan it."""
    from planner.demo.copy import copy_demo

    with _told():
        folder = out or Path("headfall-demo")
        status = _plan(copy_demo(folder / "site"), folder, quiet)
    raise typer.Exit(status)


@app.command()
def plan(
    site: Annotated[Path, typer.Argument(metavar="SITE.toml", help="The site file.")],
    out: Out = None,
    quiet: Quiet = False,
) -> None:
    """Plan a site: routes, profiles, water, findings, a map and sheets."""
    with _told():
        status = _plan(site, out or site.parent / "plan", quiet)
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
) -> None:
    """Profile a line drawn by hand or walked with a GPS, and find its high points."""
    from planner.chain.drawn import read_drawn
    from planner.output.line_folder import write_line_folder
    from planner.output.summary import line_summary

    with _told():
        terrain, found = read_drawn(dem, line, role=role, crs=crs)
        folder = out or line.parent / f"{line.stem}-profile"
        written = write_line_folder(found, terrain, folder, title=line.stem, units=units)
        print("\n".join(line_summary(found, units)))
        print(f"\nprofile.json and profile.svg are in {written}")


@app.command()
def schema() -> None:
    """Print the JSON schema of the site file and of plan.json."""
    from planner.record.schema import plan_schema
    from planner.site.schema import site_schema

    print(json.dumps({"site": site_schema(), "plan": plan_schema()}, indent=1))


def _plan(site: Path, folder: Path, quiet: bool) -> int:
    from planner.output.folder import write_plan_folder
    from planner.output.summary import summary
    from planner.plan import make_plan
    from planner.site.read import read_site

    with _progress(quiet) as say:
        made = make_plan(read_site(site), say=say)
        say("drawing the map and the sheets")
        written = write_plan_folder(made, folder)
    if not quiet:
        print("\n".join(summary(made)))
        print(f"\nThe plan is in {written}: open map.html in a browser, print profiles.pdf.")
    stops = any(finding.level == "stop" for finding in made.findings)
    return STOPPED if stops else PLANNED


@contextmanager
def _progress(quiet: bool) -> Iterator[Callable[[str], None]]:
    """Says on a terminal's error stream what is being done; elsewhere nothing."""
    if quiet or not sys.stderr.isatty():
        yield lambda _: None
        return
    from rich.console import Console

    with Console(stderr=True, markup=False).status("starting") as status:
        yield lambda words: status.update(f"{words} …")


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
            f"a fault of the program itself ({type(error).__name__}: {error}), nothing was written; "
            "please report it with the site file; HEADFALL_DEBUG=1 shows where it rose"
        )


def _leave(message: str) -> None:
    print(f"headfall: {' '.join(message.split())}", file=sys.stderr)
    raise typer.Exit(UNUSABLE)
