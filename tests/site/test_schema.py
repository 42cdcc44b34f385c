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
    assert '"x-limits": "0.05 m/s to 10 m/s"' in text
    assert '"x-limits": "0.01 m2 to 10000 m2"' in text


def test_the_schema_tells_what_may_stand_in_free_tables_and_pairs() -> None:
    tables = site_schema()["$defs"]
    count = tables["NeedTable"]["properties"]["count"]
    assert count["additionalProperties"] == {"type": "number", "minimum": 0.0, "maximum": 1e6}
    fittings = tables["LineTable"]["properties"]["fittings"]
    assert fittings["additionalProperties"]["type"] == "integer"
    timings = tables["SourceTable"]["properties"]["timings"]["anyOf"][0]
    assert [end["x-limits"] for end in timings["items"]["prefixItems"]] == [
        "0.05 L to 10 m3",
        "1 s to 1 day",
    ]
    assert tables["OwnPipeTable"]["required"] == ["standard", "size", "bore", "outside", "rating"]
