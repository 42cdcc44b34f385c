"""The owner's sheet: one page in plain words and one map."""
