import json

from planner.site.file import LinesTable, SiteFile
from planner.site.schema import site_schema


def test_the_schema_names_and_describes_every_key() -> None:
    schema = site_schema()
    assert set(schema["properties"]) == set(SiteFile.model_fields)
    for name, table in schema["$defs"].items():
        assert table["additionalProperties"] is False
        if name != LinesTable.__name__:
            undescribed = [k for k, v in table["properties"].items() if "description" not in v]
            assert set(undescribed) <= {"points", "areas"}


def test_the_schema_is_plain_json_and_tells_limits_of_quantities() -> None:
    text = json.dumps(site_schema())
    assert '"x-limits": "0.01 L/min to 1000 L/s"' in text
