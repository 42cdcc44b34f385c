"""Water in pipes, rams and tanks: plain numbers in, plain numbers out, no maps."""
