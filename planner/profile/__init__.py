"""Ground and pipe along a line: sampling, and the level at which the pipe lies."""
