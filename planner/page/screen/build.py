"""`build`: the page of one browser tab, put together."""

from nicegui import ui

from planner.page.screen.asked import Hub
from planner.page.screen.gestures import connect
from planner.page.screen.tab import Tab


def build(hub: Hub) -> Tab:
    """Build the page of one browser tab; called inside a page function.

    The tab joins the hub, and leaves it when the browser's tab is gone for good.
    """
    tab = Tab(hub)
    connect(tab)
    hub.join(tab)
    ui.context.client.on_delete(lambda: hub.leave(tab))
    return tab
