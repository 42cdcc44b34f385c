"""Stakes: where pegs go along each line, and the lists that carry them to the field."""
