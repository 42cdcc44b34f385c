"""The JSON schema of the site file."""

from typing import Any

from planner.site.file import SiteFile


def site_schema() -> dict[str, Any]:
    """JSON schema (draft 2020-12) of the site file, with a description of every key.

    Quantities are text with a unit; "x-limits" tells between which values they are taken.
    """
    schema = SiteFile.model_json_schema()
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **schema,
        "title": "Site file of headfall",
    }
