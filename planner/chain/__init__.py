"""The steps of a plan between reading the input and checking the result."""
