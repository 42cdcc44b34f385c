"""The longitudinal section on the page: the drawing of one line, with a place marked on it."""
