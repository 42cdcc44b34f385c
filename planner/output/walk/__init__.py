"""Walk sheets and blank forms: what is carried up the hill and filled in there."""
