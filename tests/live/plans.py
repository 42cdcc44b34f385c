"""Plans for the tests of views: one found by the chain on the made valley, kept for all tests."""

from functools import cache

from planner.plan import make_plan
from planner.record.value import Plan
from tests.chain.scene import ram_site, valley


@cache
def valley_plan() -> Plan:
    """A ram on the made valley, with all its works."""
    return make_plan(ram_site(need=2.0, demand={}), valley())
