"""Sheets to files: `profiles.pdf` with the whole set, and one SVG a line."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure

from planner.output.sheets.content import SheetContent
from planner.output.sheets.draw import draw_sheet
from planner.output.sheets.figures import draw_figures, figure_pages
from planner.output.sheets.ink import clean, drawing
from planner.output.sheets.numbering import numbered
from planner.output.sheets.overview import draw_overview
from planner.output.sheets.paper import PaperName
from planner.output.sheets.spread import spread
from planner.output.stakes.make import stakes_of
from planner.output.stakes.value import StakedLine
from planner.record.value import Plan
from planner.wording.cautions import cautions


def write_profiles(plan: Plan, folder: Path, *, paper: PaperName | None = None) -> tuple[Path, ...]:
    """Write `profiles.pdf`, the whole sheet set, and `profile-<name>.svg` for each line.

    The set: the site on one sheet, each line on as many as its figures need, and the figures with
    the findings and cautions. A line's SVG holds all of it on one sheet. Files depend on the plan
    alone: the same plan gives the same bytes. A plan without lines writes nothing.

    Parameters
    ----------
    plan : Plan
    folder : Path
        Exists; earlier files of these names are overwritten.
    paper : {"A4", "A3", "Letter", "Tabloid"}, optional
        Landscape; None: as `plan.site.papers` says, else A4, or Letter where US units are shown.

    Returns
    -------
    tuple of Path
        What was written, the PDF first.

    Raises
    ------
    OSError
        A file can't be written.
    """
    if not plan.lines:
        return ()
    chosen = paper or paper_of(plan)
    book = folder / "profiles.pdf"
    write_set(plan, book, paper=chosen)
    singles = [folder / f"profile-{line.name}.svg" for line in plan.lines]
    for sheet, path in zip(sheet_contents(plan), singles, strict=True):
        write_svg(sheet, path, paper=chosen)
    return (book, *singles)


def paper_of(plan: Plan) -> PaperName:
    """The paper a plan's sheets are printed on."""
    return plan.site.papers.paper or ("Letter" if plan.site.units == "us" else "A4")


def sheet_contents(plan: Plan) -> tuple[SheetContent, ...]:
    """What one sheet of each whole line of a plan shows, in the plan's order."""
    findings = numbered(plan)
    warnings = cautions(plan)
    staked = {one.line.name: one.stakes for one in _stakes(plan)}
    return tuple(
        SheetContent(
            title=plan.site.title,
            scheme=plan.scheme,
            line=line,
            terrain=plan.terrain,
            units=plan.site.units,
            made=plan.made,
            points=plan.points,
            others=tuple(other for other in plan.lines if other is not line),
            areas=plan.areas,
            streams=plan.streams,
            findings=findings,
            cautions=warnings,
            stakes=staked.get(line.name, ()),
            papers=plan.site.papers,
            survey=plan.survey,
        )
        for line in plan.lines
    )


def _stakes(plan: Plan) -> tuple[StakedLine, ...]:
    """The plan's stakes; none where its ground lies nowhere on Earth."""
    return () if plan.terrain.crs is None else stakes_of(plan)


def write_set(plan: Plan, path: Path, *, paper: PaperName) -> None:
    """Write the sheet set of a plan as the pages of one PDF."""
    about = {
        "Title": clean(plan.site.title),
        "Subject": "Plans and longitudinal sections",
        "Creator": "headfall",
        "CreationDate": None,
        "ModDate": None,
    }
    with drawing(), PdfPages(path, metadata=about) as book:
        for figure in figures(plan, paper):
            book.savefig(figure)


def figures(plan: Plan, paper: PaperName) -> Iterator[Figure]:
    """The sheets of a plan one by one: the site, the lines, the figures. Under `drawing()`."""
    contents = sheet_contents(plan)
    parts = line_sheets(contents, paper)
    pages = figure_pages(plan, paper)
    of = 1 + len(parts) + len(pages)
    first = replace(contents[0], number=1, of=of)
    index = tuple((part.line.name, number) for number, part in enumerate(parts, start=2))
    yield draw_overview(plan, (first, *contents[1:]), index, len(pages), paper)
    for part in parts:
        yield draw_sheet(replace(part, of=of), paper)
    for number, page in enumerate(pages, start=2 + len(parts)):
        yield draw_figures(replace(first, number=number), page, paper)


def line_sheets(
    contents: tuple[SheetContent, ...], paper: PaperName, first: int = 2
) -> tuple[SheetContent, ...]:
    """The sheets of all lines, numbered from `first`, with the numbers of those that match."""
    sheets: list[SheetContent] = []
    for content in contents:
        base = first + len(sheets)
        for place, part in enumerate(spread(content, paper)):
            sheets.append(
                replace(
                    part,
                    number=base + place,
                    before=None if part.before is None else base + part.before,
                    after=None if part.after is None else base + part.after,
                )
            )
    return tuple(sheets)


def write_svg(sheet: SheetContent, path: Path, *, paper: PaperName = "A4") -> None:
    """Write one sheet as SVG, with its text as text."""
    about = {
        "Title": clean(f"{sheet.title}: {sheet.line.name}"),
        "Date": None,
        "Creator": "headfall",
    }
    with drawing():
        draw_sheet(sheet, paper).savefig(path, format="svg", metadata=about)
