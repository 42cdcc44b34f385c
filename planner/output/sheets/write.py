"""Sheets to files: `profiles.pdf` with a page a line, and one SVG a line."""

from pathlib import Path

from matplotlib.backends.backend_pdf import PdfPages

from planner.output.sheets.content import Numbered, SheetContent
from planner.output.sheets.draw import draw_sheet
from planner.output.sheets.ink import clean, drawing
from planner.output.sheets.paper import PaperName
from planner.record.value import Plan
from planner.wording.cautions import cautions
from planner.wording.findings import sentence


def write_profiles(plan: Plan, folder: Path, *, paper: PaperName = "A4") -> tuple[Path, ...]:
    """Write `profiles.pdf`, one sheet a line, and `profile-<name>.svg` for each line.

    Files depend on the plan alone: the same plan gives the same bytes. A plan without lines
    writes nothing.

    Parameters
    ----------
    plan : Plan
    folder : Path
        Exists; earlier files of these names are overwritten.
    paper : {"A4", "Letter"}
        Landscape.

    Returns
    -------
    tuple of Path
        What was written, the PDF first.

    Raises
    ------
    OSError
        A file can't be written.
    """
    sheets = sheet_contents(plan)
    if not sheets:
        return ()
    book = folder / "profiles.pdf"
    write_pdf(sheets, book, title=plan.site.title, paper=paper)
    singles = [folder / f"profile-{sheet.line.name}.svg" for sheet in sheets]
    for sheet, path in zip(sheets, singles, strict=True):
        write_svg(sheet, path, paper=paper)
    return (book, *singles)


def sheet_contents(plan: Plan) -> tuple[SheetContent, ...]:
    """What the sheet of each line of a plan shows, in the plan's order."""
    findings = numbered(plan)
    warnings = cautions(plan)
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
            number=number,
            of=len(plan.lines),
        )
        for number, line in enumerate(plan.lines, start=1)
    )


def numbered(plan: Plan) -> tuple[Numbered, ...]:
    """The plan's findings in words, numbered by their place as on map and list."""
    rows = []
    for number, finding in enumerate(plan.findings, start=1):
        words = sentence(finding, plan.site.units)
        rows.append(
            Numbered(
                number,
                finding.level,
                words.message,
                words.remedy,
                finding.line,
                finding.chainage_m,
            )
        )
    return tuple(rows)


def write_pdf(
    sheets: tuple[SheetContent, ...], path: Path, *, title: str, paper: PaperName = "A4"
) -> None:
    """Write sheets as the pages of one PDF."""
    about = {
        "Title": clean(title),
        "Subject": "Longitudinal sections",
        "Creator": "headfall",
        "CreationDate": None,
        "ModDate": None,
    }
    with drawing(), PdfPages(path, metadata=about) as book:
        for sheet in sheets:
            book.savefig(draw_sheet(sheet, paper))


def write_svg(sheet: SheetContent, path: Path, *, paper: PaperName = "A4") -> None:
    """Write one sheet as SVG, with its text as text."""
    about = {
        "Title": clean(f"{sheet.title}: {sheet.line.name}"),
        "Date": None,
        "Creator": "headfall",
    }
    with drawing():
        draw_sheet(sheet, paper).savefig(path, format="svg", metadata=about)
