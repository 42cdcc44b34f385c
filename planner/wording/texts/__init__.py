"""What is said of each finding, by subject: patterns for `planner.wording.fill`."""
